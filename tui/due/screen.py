"""All that is due, what it would take, and the way to each station."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Footer, Static

from store.model.board import Board
from store.season.cautions import HAULING
from store.season.prompt import WORK
from store.units import Units
from store.views.due import DueLine, DueTotals, due_lines, due_totals
from tui import words
from tui.base.board_screen import BoardScreen
from tui.base.doors import DOORS, door
from tui.base.table import SCROLLBAR, Column, KeyedTable

SORTS: tuple[tuple[str, Callable[[DueLine], Any]], ...] = (
    ("most urgent first", lambda _: 0),
    ("by tract", lambda line: (line.tract.casefold(), line.access.value)),
)
"""Both keep the order of urgency within."""
NOTHING = "Nothing is due. The timeline shows what comes when: press {key}."


class DueTable(KeyedTable[DueLine]):
    """The work; says in the footer what Enter does."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Station", key_display="Enter", id="due.station",
                tooltip="Open the station the work is for: chart, facts and log"),
    ]  # fmt: skip


class DueScreen(BoardScreen):
    """A line a piece of work; the lines below say why, and what all of it would take."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        door("check_in_here", "due"),
        door("event", "due", show=False),
        Binding("s", "next_sort", "Sort", id="due.sort",
                tooltip="Put the most urgent first, or what one trip can share together"),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._lines: dict[str, DueLine] = {}
        self._sort = 0

    def compose(self) -> ComposeResult:
        yield Static(id="totals", markup=False)
        yield DueTable(id="work")
        yield Static(NOTHING.format(key=DOORS["season"].key), id="nothing", markup=False)
        yield Static(id="why", markup=False)
        yield Footer()

    def on_mount(self) -> None:
        self.query_one(DueTable).focus()

    def show(self, board: Board) -> None:
        lines = sorted(due_lines(board), key=SORTS[self._sort][1])
        self._lines = {line.key: line for line in lines}
        units = board.snapshot.units
        for part in ("#work", "#why"):
            self.query_one(part).display = bool(lines)
        self.query_one("#nothing").display = not lines
        self.query_one(DueTable).fill(_columns(units, self.app.size.width), self._lines)
        self.query_one("#totals", Static).update(
            Text(f"{SORTS[self._sort][0]}   {_totals(due_totals(tuple(lines)), units)}")
        )
        self._show_why()

    def on_resize(self) -> None:
        self._show_again()

    @property
    def _here(self) -> DueLine | None:
        return self._lines.get(self.query_one(DueTable).here or "")

    @property
    def station_id(self) -> str | None:
        return None if self._here is None else self._here.prompt.station_id

    @on(DataTable.RowHighlighted)
    def _show_why(self) -> None:
        line, board = self._here, self.brimbook.board
        if line is None or board is None:
            return
        how = f"{line.label}, {line.tract} ({line.access.value})"
        why = [Text.assemble((how, "bold"), f"  {line.prompt.text}")]
        if line.volume_l:
            why.append(Text(f"{_water(line.volume_l, board.snapshot.units)}. {HAULING.text}"))
        self.query_one("#why", Static).update(Text("\n").join(why))

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    def action_next_sort(self) -> None:
        self._sort = (self._sort + 1) % len(SORTS)
        self._show_again()

    def _show_again(self) -> None:
        if self.brimbook.board is not None:
            self.show(self.brimbook.board)


def _columns(units: Units, width: int) -> tuple[Column[DueLine], ...]:
    columns: tuple[Column[DueLine], ...] = (
        Column("Tract", 13, lambda line: _cut(line.tract, 12)),
        Column("Station", 16, lambda line: _cut(line.label, 15)),
        Column("By", 7, lambda line: _last_day(line)),
        Column(f"{units.volume_name:>4}", 5, lambda line: _amount(units.volume(line.volume_l), 4)),
        Column(
            f"{units.weight_name:>5}",
            7,
            lambda line: _amount(units.water_weight(line.volume_l), 5),
        ),
    )
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (*columns, Column("Work", room, lambda line: _work(line, room)))


def _cut(text: str, width: int, style: str = "") -> Text:
    cut = Text(text, style, no_wrap=True, end="")
    cut.truncate(width, overflow="ellipsis")
    return cut


def _work(line: DueLine, width: int) -> Text:
    prompt = line.prompt
    mark = words.prompt_mark(prompt)
    return _cut(mark + WORK[prompt.kind], width, "bold" if mark == "!" else "")


def _last_day(line: DueLine) -> Text:
    return Text("now" if line.prompt.last is None else words.day_month(line.prompt.last))


def _amount(value: float, width: int) -> Text:
    return Text(f"{value:,.0f}".rjust(width) if value else "")


def _water(volume_l: float, units: Units) -> str:
    return (
        f"{words.volume(volume_l, units)}, {units.water_weight(volume_l):,.0f} {units.weight_name}"
    )


def _totals(totals: DueTotals, units: Units) -> str:
    fills = "1 fill" if totals.fills == 1 else f"{totals.fills} fills"
    return (
        f"{fills}: {_water(totals.volume_l, units)}   other work due: {totals.others}   "
        f"soon: {totals.upcoming}"
    )
