"""The stages of a sizing, in the order in which feed, water and waste flow through it."""
