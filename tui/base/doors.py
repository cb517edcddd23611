"""The keys that open other screens; `tui/routes.py` says which screen each one opens."""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True)
class Door:
    """A key that opens a screen, on the station at the cursor where it `takes_station`.

    Where it `needs_station`, nothing opens without one.
    """

    key: str
    label: str
    tooltip: str
    takes_station: bool = True
    needs_station: bool = False


DOORS = {
    "check_in": Door(
        "c", "Check-in", "Enter the rain gauge and what was seen, station by station", False
    ),
    "check_in_here": Door(
        "c", "Check-in", "Enter what was seen or done at this station", needs_station=True
    ),
    "event": Door(
        "e",
        "Event",
        "Record a contamination event at the station at the cursor",
        needs_station=True,
    ),
    "due": Door("d", "Due", "All that is due, with the gallons and pounds it would take", False),
    "work_day": Door(
        "w", "Work day", "Plan a day of work on what is due: order, loads, hours", False
    ),
    "season": Door("t", "Timeline", "The season, week by week, for all stations"),
    "season_settings": Door(
        "w", "Windows", "The windows and limits of each tract's season; change them there", False
    ),
    "outlook": Door("o", "Outlook", "The chances and gallons of the days ahead, for all stations"),
    "contamination": Door(
        "x",
        "Fouled",
        "Open contamination events, the ways out of each, and what was learned",
        False,
    ),
    "review": Door(
        "v", "Review", "What each season was like, and what to do with each station", False
    ),
    "new": Door("n", "New", "Add a station, and its tract if that is new", False),
    "import": Door("i", "Import", "Import weather, stations or log entries from a file", False),
    "station": Door(
        "enter",
        "Station",
        "Open the station at the cursor: chart, facts and log",
        needs_station=True,
    ),
    "facts": Door(
        "f", "Facts", "Change the station's facts: tank, apron, place", needs_station=True
    ),
    "site_check": Door(
        "k",
        "Site",
        "Look at the site before a tank is dug in: rim, bank, ways in, bears, rules",
        needs_station=True,
    ),
    "learned": Door(
        "l",
        "Learned",
        "What the readings taught about this station, and its water budget",
        needs_station=True,
    ),
}


def door(name: str, of: str, *, show: bool = True, tooltip: str = "") -> Binding:
    """The binding that opens a screen from the screen `of`."""
    one = DOORS[name]
    return Binding(
        one.key,
        f"open('{name}')",
        one.label,
        show=show,
        id=f"{of}.{name}",
        tooltip=tooltip or one.tooltip,
    )
