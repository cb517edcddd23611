"""Every open contamination event, and for the one at the cursor the ways out of it."""

from __future__ import annotations

from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import DataTable, Footer, Static

from store.contamination.choices import Plan
from store.errors import BadValue, BrimbookError
from store.model.board import Board
from store.model.recoveries import EventRecovery
from store.season.cautions import Caution, contamination_cautions, not_to_be_done
from store.typed import number_from
from store.views.planned_recovery import USUAL_PERCENT, bail_share, bailing_plan, replanned
from tui import words
from tui.base.caution_words import LOCAL_RULES, caution_text
from tui.base.chart_screen import ChartScreen, StationChart
from tui.base.doors import DOORS
from tui.base.fouling_words import basis_words, signs_words
from tui.base.in_thread import work_out
from tui.base.key_names import key_of
from tui.base.table import KeyedTable
from tui.base.table_field_screen import TableFieldScreen
from tui.base.typed_field import NUMBER, TypedField, typed_volume_l
from tui.contamination.advice import AdviceScreen
from tui.contamination.cause_values import CauseValuesScreen
from tui.contamination.columns import event_columns
from tui.contamination.fouling_chart import fouling_chart
from tui.contamination.history import ContaminationHistoryScreen
from tui.contamination.keys import CONTAMINATION_KEYS, EVENT_TABLE_KEYS, UNDO_KEYS
from tui.contamination.words import caution_names, choice_lines, plan_words

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
    BINDINGS: ClassVar[list[BindingType]] = [*CONTAMINATION_KEYS, *UNDO_KEYS]

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._plan: Plan | None = None
        self._planned: dict[str, EventRecovery] = {}
        self._percent: float | None = None
        self._habit = False
        self._large_chart = False
        self._charted: tuple[object, bool] | None = None

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield EventTable(id="events")
        yield Static(NO_EVENTS, id="none", markup=False)
        with Vertical(id="room"):
            with Vertical(id="told"):
                yield Static(id="choices", markup=False)
                yield StationChart(id="chart")
                yield Static(id="no-chart", markup=False)
            with VerticalScroll(id="scrolled", can_focus=False):
                yield Static(id="cautions", markup=False)
        yield TypedField(id="field")
        yield Footer()

    def on_mount(self) -> None:
        self._table.focus()

    @property
    def _table(self) -> EventTable:
        return self.query_one(EventTable)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Without an open event only the other views are left."""
        needs_event = action in ("add", "plan", "habit", "large_chart")
        if (needs_event or action.startswith("chart_")) and self._here is None:
            return False
        return super().check_action(action, parameters)

    def show(self, board: Board) -> None:
        if self._board is not None and self._board.snapshot.units is not board.snapshot.units:
            self._close_field()
        self._board = board
        self._planned.clear()
        self._charted = None
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
        self.query_one("#status", Static).update(self._heading(board, found))
        events = {one.event.event_id: one for one in found}
        self._table.fill(event_columns(board, wide=self.wide), events)
        self._show_event()

    def _heading(self, board: Board, found: list[EventRecovery]) -> str:
        if not found:
            return f"{words.full_day(board.snapshot.today)}   no open event"
        events = "1 open event" if len(found) == 1 else f"{len(found)} open events"
        wanted = found[0].wanted
        return (
            f"{words.full_day(board.snapshot.today)}   {events}   chance: back in use by "
            f"{words.day_month(wanted)}, waiting"
        )

    @property
    def station_id(self) -> str | None:
        return None if self._here is None else self._here.station.station_id

    @property
    def _here(self) -> EventRecovery | None:
        """The event at the cursor, under the plan typed if it is worked out."""
        if self._board is None or not self.is_mounted:
            return None
        event_id = self._table.here or ""
        return self._planned.get(event_id) or self._board.recoveries.by_event.get(event_id)

    @on(DataTable.RowHighlighted)
    def _show_event(self) -> None:
        board, found = self._board, self._here
        if board is None or found is None:
            return
        snapshot, waits = board.snapshot, False
        if self._plan is not None and found.event.event_id not in self._planned:
            waits = True
            self._work_out(board, found.event.event_id, self._plan)
        notes = "Working out the plan ..." if waits else self._notes(board, found)
        lines = [*choice_lines(found, snapshot.today, snapshot.units), Text(notes)]
        lines += signs_words(found)
        self.query_one("#choices", Static).update(Text("\n").join(lines))
        self._show_chart(board, found)
        self.query_one("#cautions", Static).update(self._cautions(found))

    def _notes(self, board: Board, found: EventRecovery) -> str:
        return f"{plan_words(self._plan, found, board.snapshot.units)}{basis_words(found)}"

    def _show_chart(self, board: Board, found: EventRecovery) -> None:
        asked = (found.outlook.expected, self._habit)
        if asked == self._charted:
            return
        self._charted = asked
        priors = board.snapshot.cause_priors[found.event.cause]
        data = fouling_chart(found, priors, board.snapshot.today, habit=self._habit)
        self._chart.display = data is not None
        self.query_one("#no-chart").display = data is None
        if data is not None:
            self._chart.load(data, cursor_day=board.snapshot.today)
        else:
            self.query_one("#no-chart", Static).update(
                "No chart: these dates are a rule of thumb; the basis says why."
            )

    def _cautions(self, found: EventRecovery) -> Text:
        cautions = _cautions_of(found)
        if not self.wide:
            never = caution_names(not_to_be_done(found.event.cause))
            named = caution_names(one for one in cautions if one.subject not in never)
            return Text(f"Cautions ({ADVICE}): {named}" + (f"; never: {never}" if never else ""))
        told = (caution_text(caution, sources=True) for caution in cautions)
        return Text("\n").join([Text(LOCAL_RULES, "bold"), *told])

    def _work_out(self, board: Board, event_id: str, plan: Plan) -> None:
        work_out(
            self,
            "plan",
            lambda: replanned(board, event_id, plan),
            self._show_planned,
            self._drop_plan,
            lambda: board is self._board and plan is self._plan,
        )

    def _show_planned(self, found: EventRecovery | None) -> None:
        if found is not None:
            self._planned[found.event.event_id] = found
            self._show_event()

    def _drop_plan(self, error: BrimbookError) -> None:
        self._plan = None
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
        percent = USUAL_PERCENT if self._plan is None else 100.0 * self._plan.bail_share
        label = "Percent of the water bailed each round"
        self.field.ask("percent", label, f"{percent:g}", only=NUMBER)

    async def entered(self) -> None:
        self.taken()

    def taken(self) -> bool:
        board, text = self._board, self.field.text
        if board is None or self.field.asking is None:
            return True
        units = board.snapshot.units
        try:
            if self.field.asking == "percent":
                percent = number_from(text) if text else None
                if percent is not None:
                    bail_share(percent)
                bailing_plan(board.snapshot.today, percent)
                self._percent = percent
                label = f"{units.volume_name} a load carries (Enter: the usual for the way there)"
                self.field.ask("load", label, only=NUMBER)
                return True
            load_l = typed_volume_l(text, units)
            self._plan = bailing_plan(board.snapshot.today, self._percent, load_l)
        except BadValue as error:
            self.field.say(str(error))
            return False
        self._close_field()
        self._planned.clear()
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
        self.app.push_screen(AdviceScreen(() if here is None else _cautions_of(here)))

    async def action_take_back(self) -> None:
        await self.brimbook.action_undo()

    async def action_put_back(self) -> None:
        await self.brimbook.action_redo()

    async def saved(self) -> bool:
        return True


def _cautions_of(found: EventRecovery) -> tuple[Caution, ...]:
    """Each once: of the cause, and what is not to be done about it."""
    cause, bears = found.event.cause, found.station.bear_country
    cautions = contamination_cautions(cause, bear_country=bears)
    return tuple(dict.fromkeys((*cautions, *not_to_be_done(cause))))
