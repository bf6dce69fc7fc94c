"""May we? Plain facts in, one Finding out: no clock, no database, no printing."""
