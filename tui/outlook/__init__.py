"""The chances of the days ahead."""
