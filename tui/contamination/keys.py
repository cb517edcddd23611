"""The keys of the contamination screen."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from tui.base.chart_screen import chart_keys
from tui.base.keys import page_keys
from tui.key_table import bind

EVENT_TABLE_KEYS: list[BindingType] = [
    Binding("enter", "select_cursor", "Station", key_display="Enter", id="contamination.station",
            tooltip="Open the station of the event at the cursor"),
    Binding("up", "cursor_up", "Event above", show=False, id="contamination.up",
            tooltip="Move to the event above"),
    Binding("down", "cursor_down", "Event below", show=False, id="contamination.down",
            tooltip="Move to the event below"),
    *page_keys("contamination", "a page of events"),
]  # fmt: skip

CONTAMINATION_KEYS: list[BindingType] = [
    bind("event", "add", "Add", id="contamination.add",
         tooltip="Enter what was done about the event, or what water and animals show"),
    bind("bail", "plan", "Plan", id="contamination.plan",
         tooltip="Change how much is bailed each round, and what a load carries"),
    bind("visits", "habit", "Habit", show=False, id="contamination.habit",
         tooltip="Chart the habit of use in place of the strength, and back"),
    bind("larger", "large_chart", "Large chart", show=False, id="contamination.large_chart",
         tooltip="Give the chart the room of the choices, and back"),
    bind("all", "closed", "Past", id="contamination.closed",
         tooltip="Closed events, and what events cost by station and by cause"),
    bind("facts", "values", "Values", show=False, id="contamination.values",
         tooltip="The numbers behind the cause, with their evidence; change them there"),
    bind("advice", "advice", "Advice", id="contamination.advice",
         tooltip="The cautions in full, what is not to be done, what needs no treatment"),
    *chart_keys("contamination"),
]  # fmt: skip
