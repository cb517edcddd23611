"""What each season was like, and what it teaches."""
