"""The windows and limits a tract's season goes by."""
