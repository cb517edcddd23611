"""The shipped demo: two seasons of an invented keeper's logbook, built from scratch.

`python -m store.demo demo.db` rebuilds it, the same to the last row on every run.
Every place, animal and day of weather in it is invented.
"""
