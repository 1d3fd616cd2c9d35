"""The building of a design as words: tables for the hand-out, text, JSON and CSV for the command."""
