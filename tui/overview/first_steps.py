"""What a person does first with an empty logbook."""

FIRST_STEPS = """\
This logbook is empty. Three steps make it useful:

1  Press n to add your first tank: its tract, inside measures and apron.
   Or press i to import a spreadsheet of all of them at once.

2  Press i to import daily weather for the tract: a GHCN-Daily file of
   the nearest weather station, or any CSV with dates, rain and
   temperatures.

3  Press c each morning you have seen something: rain gauge, levels,
   use, ramps.

Press ? for every key.
"""
