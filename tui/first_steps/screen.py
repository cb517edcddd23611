"""A new logbook's first steps: units, a tract, a tank, weather; each can be left out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Static

from store.errors import BadValue
from store.logbook.weather_records import record_names
from store.model.board import Board
from store.records import Draft, TractFacts
from store.typed import degrees_typed
from tui.base.board_screen import BACK_KEY
from tui.base.field_screen import TableFieldScreen
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.keys import row_keys
from tui.base.open_screens import close
from tui.base.table import SCROLLBAR, Column, KeyedTable
from tui.base.typed_field import TypedField
from tui.first_steps.steps import MEANING, Step, StepLine, step_lines

DONE, OPEN = "done", "open"
MOST_LATITUDE = 90.0
ALL_DONE = (
    "That is all it takes. Enter what you see at the tanks in the check-in, each day you have "
    "been there."
)


class StepTable(KeyedTable[StepLine], inherit_bindings=False):
    """The steps in their order."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Do it", key_display="Enter", id="steps.do",
                tooltip="Do the step at the cursor"),
        *row_keys("steps", "step"),
    ]  # fmt: skip


class FirstStepsScreen(TableFieldScreen):
    """What a step saves stays saved, whenever the screen is left."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "first_steps"

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._lines: dict[str, StepLine] = {}
        self._records: tuple[str, ...] = ()
        self._tract = ""

    def compose(self) -> ComposeResult:
        yield Static(
            f"A new logbook: four first steps   {BACK_KEY} leaves; what is saved stays",
            id="status",
            markup=False,
        )
        yield StepTable()
        yield Static(id="meaning", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self._table.focus()

    @property
    def _table(self) -> StepTable:
        return self.query_one(StepTable)

    def show(self, board: Board) -> None:
        first, self._board = self._board is None, board
        self.redraw()
        session = self.brimbook.session
        read = lambda: tuple(session.do(record_names).values())  # noqa: E731
        work_out(self, "records", read, self._show_records, self.brimbook.say_wrong)
        if first:
            self.offer_unsaved()

    def _show_records(self, records: tuple[str, ...]) -> None:
        """With weather that no tract uses yet as well."""
        self._records = records
        self.redraw()

    @property
    def shown_of(self) -> str:
        return self._tract

    def show_again(self, of: str) -> None:
        self._tract = of

    def redraw(self) -> None:
        """Show the steps, with the cursor on the first open one when one was done."""
        if self._board is None:
            return
        found = step_lines(self._board.snapshot, self._records)
        lines = {line.step.value: line for line in found}
        before = sum(line.done for line in self._lines.values())
        done = sum(line.done for line in found)
        at = next((key for key, line in lines.items() if not line.done), None)
        self._lines = lines
        self._table.fill(_columns(self.app.size.width), lines, at if done > before else None)
        self._show_meaning()

    @on(DataTable.RowHighlighted)
    def _show_meaning(self) -> None:
        here = self._table.here
        if here is None:
            return
        lines = [Text(MEANING[Step(here)])]
        if all(line.done for line in self._lines.values()):
            lines.append(Text(f"\n{ALL_DONE}", "bold"))
        self.query_one("#meaning", Static).update(Text("\n").join(lines))

    @on(DataTable.RowSelected)
    async def _do(self) -> None:
        match self._table.here:
            case Step.UNITS:
                await self.brimbook.action_switch_units()
            case Step.TRACT:
                self._ask_tract()
            case Step.TANK:
                self.action_open("new")
            case Step.WEATHER:
                self.action_open("import")

    def _ask_tract(self) -> None:
        self.field.ask("tract", "Name of the tract")

    def _ask_latitude(self) -> None:
        self.field.ask("latitude", "Latitude, as 42.5 or 42.5 N (empty: unknown)")

    @property
    def asks(self) -> Mapping[str, Callable[[], object]]:
        return {"tract": self._ask_tract, "latitude": self._ask_latitude}

    async def entered(self) -> None:
        """A name leads to the latitude, which saves both."""
        text = self.field.text
        if self.field.asking == "tract":
            if text:
                self._tract = text
                self._ask_latitude()
            else:
                self._close_field()
            return
        try:
            if await self._save_tract(degrees_typed(text) if text else None):
                self._close_field()
        except BadValue as error:
            self.field.say(str(error))

    def taken(self) -> bool:
        """What is typed is taken by saving it."""
        return True

    async def _save_tract(self, latitude_deg: float | None) -> bool:
        if self._board is None:
            return False
        if latitude_deg is not None and abs(latitude_deg) > MOST_LATITUDE:
            raise BadValue(f"A latitude is from -90 to 90, not {latitude_deg:g}; type it again.")
        known = [tract.name.casefold() for tract in self._board.snapshot.places.tracts.values()]
        if self._tract.casefold() in known:
            raise BadValue(f"{self._tract} is there already; Esc, and type another name.")
        tract = TractFacts(self.brimbook.session.new_id(), self._tract, latitude_deg)
        return await self.brimbook.save(
            f"Tract {tract.name} added", [Draft(self._board.snapshot.today, tract)]
        )

    def action_back(self) -> None:
        if self.field.asking is None:
            close(self)
        else:
            self._close_field()


def _columns(width: int) -> tuple[Column[StepLine], ...]:
    columns: tuple[Column[StepLine], ...] = (
        Column("", 6, lambda line: Text(DONE if line.done else OPEN, "" if line.done else "bold")),
        Column("Step", 13, lambda line: Text(line.step.value)),
    )
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (*columns, Column("In the logbook", room, lambda line: Text(line.has)))
