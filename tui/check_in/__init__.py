"""The daily check-in."""
