"""What fouls a tank, and how long it stays out of use."""
