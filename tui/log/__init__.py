"""The log of all stations or one, in full height, and finding in it."""
