"""All that is due, over all stations."""
