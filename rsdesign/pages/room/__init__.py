"""A room: one machine, many phones on the same network; its door, its teams, its wall, in memory."""
