"""The two pages of a class: exercises for a learner, and the instructor's page.

They are carried by the same ``Talk`` as the design pages: a session hears messages, and composes
blocks as plain data.  ``view`` is what ``Talk`` composes with.
"""
