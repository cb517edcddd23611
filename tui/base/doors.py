"""The keys that open other screens; `tui/routes.py` says which screen each one opens."""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding

from tui.key_table import NAMES, bind, key


@dataclass(frozen=True)
class Door:
    """What opens a screen, on the station at the cursor where it `takes_station`.

    Where it `needs_station`, nothing opens without one.
    """

    meaning: str | None
    label: str
    tooltip: str
    takes_station: bool = True
    needs_station: bool = False

    @property
    def key(self) -> str:
        return NAMES["enter"] if self.meaning is None else key(self.meaning)


DOORS = {
    "check_in": Door(
        "check_in", "Check-in", "Enter the rain gauge and what was seen, station by station", False
    ),
    "check_in_here": Door(
        "check_in", "Check-in", "Enter what was seen or done at this station", needs_station=True
    ),
    "event": Door(
        "event",
        "Event",
        "Record a contamination event at the station at the cursor",
        needs_station=True,
    ),
    "due": Door(
        "work", "Work", "All that is due, with the gallons and pounds it would take", False
    ),
    "work_day": Door(
        "work_day", "Work day", "Plan a day of work on what is due: order, loads, hours", False
    ),
    "season": Door("timeline", "Timeline", "The season, week by week, for all stations"),
    "season_settings": Door(
        "facts",
        "Windows",
        "The windows and limits of each tract's season; change them",
        False,
    ),
    "outlook": Door(
        "outlook", "Outlook", "The chances and gallons of the days ahead, at all stations"
    ),
    "contamination": Door(
        "events",
        "Events",
        "Open contamination events, the ways out of each, and what was learned",
        False,
    ),
    "review": Door(
        "review", "Review", "What each season was like, and what to do with each station", False
    ),
    "new": Door("new", "New", "Add a station, and its tract if that is new", False),
    "import": Door(
        "import", "Import", "Import weather, stations or log entries from a file", False
    ),
    "station": Door(
        None,
        "Station",
        "Open the station at the cursor: chart, facts and log",
        needs_station=True,
    ),
    "log": Door("larger", "Log", "Every entry of all stations, in full height: find, read", False),
    "log_here": Door(
        "larger",
        "Log",
        "The log of this station in full height: find, read",
        needs_station=True,
    ),
    "facts": Door(
        "facts", "Facts", "Change the station's facts: tank, apron, place", needs_station=True
    ),
    "site_check": Door(
        "site",
        "Site",
        "Look at the site before a tank is dug in: rim, bank, ways in, bears, rules",
        needs_station=True,
    ),
    "learned": Door(
        "learned",
        "Learned",
        "What the readings showed about this station, and its water budget",
        needs_station=True,
    ),
}


def door(name: str, of: str, *, show: bool = True, tooltip: str = "") -> Binding:
    """The binding that opens a screen from the screen `of`."""
    one = DOORS[name]
    if one.meaning is None:
        raise LookupError(f"{name} has no key of its own; the row at the cursor opens it")
    return bind(
        one.meaning,
        f"open('{name}')",
        one.label,
        show=show,
        id=f"{of}.{name}",
        tooltip=tooltip or one.tooltip,
    )
