"""The printed tables, one for each command."""
