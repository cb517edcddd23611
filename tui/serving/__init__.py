"""The same interface in a browser tab."""
