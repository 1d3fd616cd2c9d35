"""Questions asked of whole sizings: what limits, what to choose, how sure."""
