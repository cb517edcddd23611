"""The form that adds or changes a station."""
