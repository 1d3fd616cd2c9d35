"""A room of people over one server: teams, the wall, the room's settings; all of it in memory."""
