"""Open contamination events, the ways out, and what is assumed of each cause."""
