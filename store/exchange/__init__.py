"""A logbook in a form for others: as plain text, and brought together with another one."""
