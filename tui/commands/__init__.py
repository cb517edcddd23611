"""Commands in groups of one subject, and what all of them share."""
