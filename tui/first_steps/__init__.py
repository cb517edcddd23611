"""What a new logbook needs, one step after the other."""
