"""The parts of a design: their choices, each described once."""
