"""The keys of the work day, and of its table."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from tui.base.keys import key_of
from tui.base.table import KeyedTable
from tui.key_table import bind
from tui.work_day.lines import Line

WORK_DAY_KEYS: list[BindingType] = [
    bind("earlier", "shift(-1)", "Day before", show=False,
         id="work_day.before", tooltip="Plan for a day earlier, never one that is past"),
    bind("later", "shift(1)", "Day on", show=False,
         id="work_day.after", tooltip="Plan for a day later; [ a day earlier"),
    bind("day", "ask('date')", "Date", id="work_day.date", tooltip="Type the day to plan"),
    bind("how_long", "ask('hours')", "Hours", id="work_day.hours",
         tooltip="Type the hours the day may take; empty: no limit"),
    bind("loads", "ask('loads')", "Loads", id="work_day.loads",
         tooltip="Type the loads that may be hauled; empty: no limit"),
    bind("water", "ask('water')", "Water", show=False, id="work_day.water",
         tooltip="Type the water there is to haul; empty: no limit"),
    bind("take_out", "leave_out", "Leave out", id="work_day.leave_out",
         tooltip="Leave the stop at the cursor out of the day"),
    bind("put_back", "take_in", "Take in", show=False, id="work_day.take_in",
         tooltip="Take in again every stop that you left out"),
    bind("facts", "kit", "Kit", id="work_day.kit",
         tooltip="What you haul with: payload, tank, pump, water source, speeds"),
    Binding("f2", "ask('path')", "Sheet", key_display="F2", id="work_day.sheet",
            tooltip="Write the sheet to take along, for phone and printer"),
    Binding("pagedown", "scroll_room(1)", "More", show=False, id="work_day.down",
            tooltip="Scroll the notes and cautions down"),
    Binding("pageup", "scroll_room(-1)", "Less", show=False, id="work_day.up",
            tooltip="Scroll the notes and cautions up"),
]  # fmt: skip


def key(action: str, argument: str | int | None = None) -> str:
    """The key of an action of the work day."""
    return key_of(WORK_DAY_KEYS, action, argument)


class WorkTable(KeyedTable[Line]):
    """The steps of the day, in order."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Station", show=False, key_display="Enter",
                id="work_day.station",
                tooltip="Open the station of the stop at the cursor: chart, facts and log"),
    ]  # fmt: skip
