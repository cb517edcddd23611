"""The site of a tank, looked at before it is dug in."""
