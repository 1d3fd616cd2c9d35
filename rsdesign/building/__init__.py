"""Building a design: layout, cuts, parts to buy, circuits, weights and steps.

``layout`` gives every vessel, pipe and machine of a sizing as plain data; the lists follow from it.
"""
