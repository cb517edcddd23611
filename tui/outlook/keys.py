"""The keys of the outlook, and of its table."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from tui.base.doors import door
from tui.base.table import KeyedTable
from tui.key_table import bind
from tui.outlook.columns import Line

OUTLOOK_KEYS: list[BindingType] = [
    bind("earlier", "shift(-7)", "Week back", show=False,
         id="outlook.week_before", tooltip="Look a week less far ahead"),
    bind("later", "shift(7)", "Week on",
         id="outlook.week_after", tooltip="Look a week farther ahead; [ a week less far"),
    bind("day", "date", "Date", id="outlook.date",
         tooltip="Type the day to look ahead to, up to a year"),
    bind("fill", "fill", "Fill", id="outlook.fill",
         tooltip="What if water were brought to the station at the cursor; Enter alone: "
                    "to the rim"),
    bind("take_out", "drop_fills", "No fills", show=False, id="outlook.no_fills",
         tooltip="Drop every fill that was tried"),
    bind("sort", "sort", "Sort", id="outlook.sort",
         tooltip="Sort by chance, lowest to hold water first, or by tract"),
    door("learned", "outlook", show=False,
         tooltip="What the readings taught about the station at the cursor"),
]  # fmt: skip


class OutlookTable(KeyedTable[Line]):
    """The stations; the cursor stays in view when the strip below grows."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Station", show=False, key_display="Enter",
                id="outlook.station",
                tooltip="Open the station at the cursor: chart, facts and log"),
    ]  # fmt: skip

    def on_resize(self) -> None:
        self.move_cursor(row=self.cursor_row)
