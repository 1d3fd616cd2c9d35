"""What changes with time, on a page: the course of a start, of a season and of a day of feeding."""
