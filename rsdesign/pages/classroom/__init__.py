"""The two pages of a class: exercises for a learner, and the instructor's page.

They use the same ``PageChannel`` as the design pages: a session handles messages, and ``view`` composes
its blocks as plain data.
"""
