"""The logbook file: SQLite, append-only entries, nothing of hydrology."""
