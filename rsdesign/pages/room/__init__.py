"""A class in session: access from the local network, teams, wall, settings and submissions, in memory."""
