"""The checks of a design: rows of ``data/checks.csv``, and the few figures and words computed here."""
