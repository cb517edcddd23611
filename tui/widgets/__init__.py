"""Drawing that knows plain data only, never the logbook."""
