"""What a station taught, and its water budget."""
