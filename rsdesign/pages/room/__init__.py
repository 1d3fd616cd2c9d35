"""A room: one machine, many phones on the same network, no internet."""
