"""The morning screen."""
