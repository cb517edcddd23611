"""What a person does first with an empty logbook."""

from __future__ import annotations

from tui.base.doors import DOORS
from tui.base.keys import HELP_KEY

FIRST_STEPS = f"""\
This logbook is empty. Three steps make it useful:

1  Press {DOORS["new"].key} to add your first tank: its tract, inside measures and apron.
   Or press {DOORS["import"].key} to import a spreadsheet of all of them at once.

2  Press {DOORS["import"].key} to import daily weather for the tract: a GHCN-Daily file of
   the nearest weather station, or any CSV with dates, rain and
   temperatures.

3  Press {DOORS["check_in"].key} each morning you have seen something: rain gauge, levels,
   use, ramps.

Press {HELP_KEY} for every key.
"""
