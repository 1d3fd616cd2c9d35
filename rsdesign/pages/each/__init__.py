"""One module for each page of the series: its words, choices, figures and pictures, no code."""
