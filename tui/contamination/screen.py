"""Every open contamination event, and for the one at the cursor the ways out of it."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import DataTable, Static

from store.errors import BadValue, BrimbookError
from store.model.board import Board
from store.model.recovery import EventRecovery
from store.typed import number_from
from store.views.planned_recovery import replanned
from tui.base.chart_screen import ChartScreen
from tui.base.doors import DOORS
from tui.base.field_screen import TableFieldScreen
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.table import KeyedTable
from tui.base.typed_field import AMOUNT, NUMBER, TypedField, typed_volume_l
from tui.contamination.advice import (
    AdviceScreen,
    caution_names,
    cautions_in_full,
    cautions_of,
)
from tui.contamination.cause_values import CauseValuesScreen
from tui.contamination.fouling_chart import FoulingChart
from tui.contamination.history import ContaminationHistoryScreen
from tui.contamination.keys import CONTAMINATION_KEYS, EVENT_TABLE_KEYS
from tui.contamination.typed_plan import TypedPlan
from tui.contamination.words import event_columns, heading, ways_out

CLOSED, ADVICE, VALUES = (key_of(CONTAMINATION_KEYS, one) for one in ("closed", "advice", "values"))
NO_EVENTS = (
    "No tank is fouled: there is no open contamination event.\n\n"
    f"{DOORS['event'].key} on the list of stations records one. {CLOSED} shows closed events, "
    f"{ADVICE} what needs no treatment, {VALUES} the numbers behind every cause."
)


class EventTable(KeyedTable[EventRecovery], inherit_bindings=False):
    """The open events; the arrows across are left to the chart."""

    BINDINGS: ClassVar[list[BindingType]] = EVENT_TABLE_KEYS


class ContaminationScreen(ChartScreen, TableFieldScreen):
    """The event most likely to miss the heavy-use weeks stands first."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = CONTAMINATION_KEYS

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._plan = TypedPlan()
        self._habit = False
        self._large_chart = False

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield EventTable(id="events")
        yield Static(NO_EVENTS, id="none", markup=False)
        with Vertical(id="room"):
            with Vertical(id="told"):
                yield Static(id="choices", markup=False)
                yield FoulingChart()
            with VerticalScroll(id="scrolled", can_focus=False):
                yield Static(id="cautions", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> EventTable:
        return self.query_one(EventTable)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The keys about an event do nothing while none is open."""
        needs_event = action in ("add", "plan", "habit", "large_chart")
        if (needs_event or action.startswith("chart_")) and self._here is None:
            return False
        return super().check_action(action, parameters)

    def show(self, board: Board) -> None:
        if self._board is not None and self._board.snapshot.units is not board.snapshot.units:
            self._close_field()
        self._board = board
        self._plan.found.clear()
        self.query_one(FoulingChart).forget()
        self._fill()

    def redraw(self) -> None:
        self._fill()

    def _fill(self) -> None:
        """Fill the table anew, keeping the cursor on its event."""
        board = self._board
        if board is None:
            return
        found = board.recoveries.by_miss_chance()
        for part in ("#events", "#room"):
            self.query_one(part).display = bool(found)
        self.query_one("#none").display = not found
        self.query_one("#status", Static).update(heading(board, found))
        events = {one.event.event_id: one for one in found}
        self._table.fill(event_columns(board, wide=self.wide), events)
        self._show_event()

    @property
    def station_id(self) -> str | None:
        return None if self._here is None else self._here.station.station_id

    @property
    def _here(self) -> EventRecovery | None:
        """The event at the cursor, under the typed plan once that is worked out."""
        if self._board is None or not self.is_mounted:
            return None
        event_id = self._table.here or ""
        return self._plan.found.get(event_id) or self._board.recoveries.by_event.get(event_id)

    @on(DataTable.RowHighlighted)
    def _show_event(self) -> None:
        board, found = self._board, self._here
        if board is None or found is None:
            return
        snapshot, event = board.snapshot, found.event
        waits = self._plan.waits_for(event.event_id)
        if waits:
            self._work_out(board, event.event_id)
        ways = ways_out(found, self._plan.plan, snapshot.today, snapshot.units, waits=waits)
        self.query_one("#choices", Static).update(ways)
        priors = snapshot.cause_priors[event.cause]
        self.query_one(FoulingChart).show(found, priors, snapshot.today, habit=self._habit)
        cautions = cautions_in_full(found) if self.wide else caution_names(found, ADVICE)
        self.query_one("#cautions", Static).update(cautions)

    def _work_out(self, board: Board, event_id: str) -> None:
        plan = self._plan.plan
        if plan is not None:
            work_out(
                self,
                "plan",
                lambda: replanned(board, event_id, plan),
                self._show_planned,
                self._drop_plan,
                lambda: board is self._board and plan is self._plan.plan,
            )

    def _show_planned(self, found: EventRecovery | None) -> None:
        if found is not None:
            self._plan.found[found.event.event_id] = found
            self._show_event()

    def _drop_plan(self, error: BrimbookError) -> None:
        self._plan = TypedPlan()
        self.brimbook.say_wrong(error)
        self._show_event()

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    def action_add(self) -> None:
        if self._here is not None:
            here = self._here
            self.brimbook.open_screen("event", here.station.station_id, here.event.event_id)

    def action_plan(self) -> None:
        percent = f"{self._plan.shown_percent:g}"
        self.field.ask("percent", "Percent of the water bailed each round", percent, only=NUMBER)

    def check(self, asking: str, text: str) -> None:
        if asking == "percent":
            number_from(text)
        elif asking == "load" and self._board is not None:
            typed_volume_l(text, self._board.snapshot.units)

    def taken(self) -> bool:
        board, asking, text = self._board, self.field.asking, self.field.text
        if board is None or asking is None:
            return True
        today, units = board.snapshot.today, board.snapshot.units
        try:
            if asking == "percent":
                self._plan.take_percent(text, today)
                label = f"{units.volume_name} a load carries (Enter: the usual for the way there)"
                self.field.ask("load", label, only=AMOUNT)
                return True
            self._plan.take_load(text, today, units)
        except BadValue as error:
            self.field.say(str(error))
            return False
        self._close_field()
        self._show_event()
        return True

    def action_habit(self) -> None:
        self._habit = not self._habit
        self._show_event()

    def action_large_chart(self) -> None:
        self._large_chart = not self._large_chart
        for part in ("#choices", "#scrolled"):
            self.query_one(part).display = not self._large_chart

    def action_closed(self) -> None:
        self.app.push_screen(ContaminationHistoryScreen())

    def action_values(self) -> None:
        here = self._here
        self.app.push_screen(CauseValuesScreen(None if here is None else here.event.cause))

    def action_advice(self) -> None:
        here = self._here
        self.app.push_screen(AdviceScreen(() if here is None else cautions_of(here)))
