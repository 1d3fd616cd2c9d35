"""The commands of the command line, a module for each group; each loads what it needs when it runs."""
