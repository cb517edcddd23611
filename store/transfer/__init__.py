"""CSV files of stations, readings, chores and contamination, read into drafts."""
