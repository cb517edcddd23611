"""Daily weather: formats in, gaps filled and marked, statistics and invention."""
