"""Importing a file."""
