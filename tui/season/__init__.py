"""The season timeline."""
