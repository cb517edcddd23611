"""What each screen shows of a board, as plain data."""
