"""All that is due, what it would take, and the way to each station."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Static

from store.errors import BadValue
from store.model.board import Board
from store.records import Draft
from store.season.cautions import FEW
from store.season.prompt import WORK, PromptState
from store.typed import day_typed
from store.units import Units
from store.views.answering import CHORE_OF, declined_draft, done_draft, put_off_draft
from store.views.due import DueLine, DueTotals, aside_lines, due_lines, due_totals
from store.views.later_work import later_work
from store.vocabulary import PromptKind
from tui import words
from tui.base.doors import DOORS, door
from tui.base.field_screen import TableFieldScreen
from tui.base.key_line import KeyLine
from tui.base.keys import page_keys, row_keys
from tui.base.table import SCROLLBAR, Column, KeyedTable, cut
from tui.base.typed_field import AMOUNT, DATE, TypedField, typed_volume_l
from tui.due.later import later_words
from tui.key_table import bind

SORTS: tuple[tuple[str, Callable[[DueLine], Any]], ...] = (
    ("most urgent first", lambda _: 0),
    ("by tract", lambda line: (line.tract.casefold(), line.access.value)),
)
"""Both keep the order of urgency within."""
SAID_ELSEWHERE = {
    PromptKind.CHECK: f"{DOORS['check_in_here'].key} enters what was seen there: level, use, ramp.",
    PromptKind.CONTAMINATION: f"{DOORS['event'].key} enters what was done about the fouled water.",
    PromptKind.RUN_DRY: "No water can be brought there; decline it to accept that it stands dry.",
}
"""Where more must be said than that it was done."""
NOTHING = "Nothing is due. The timeline shows what comes when: press {key}."


class DueTable(KeyedTable[DueLine], inherit_bindings=False):
    """The work; says in the footer what Enter does."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Station", show=False, key_display="Enter",
                id="due.station",
                tooltip="Open the station the work is for: chart, facts and log"),
        *row_keys("due", "work"),
        *page_keys("due", "a page of work"),
    ]  # fmt: skip


class DueScreen(TableFieldScreen):
    """A line a piece of work; the lines below say why, and what all of it would take."""

    CSS_PATH = "screen.tcss"
    where = "due"
    BINDINGS: ClassVar[list[BindingType]] = [
        door("check_in_here", "due", show=False),
        door("event", "due", show=False),
        door("work_day", "due"),
        bind("yes", "done", "Done", id="due.done",
             tooltip="Enter that the work at the cursor was done today"),
        bind("put_off", "put_off", "Put off", id="due.put_off",
             tooltip="Put the work at the cursor off to a day"),
        bind("no", "decline", "Decline", id="due.decline",
             tooltip="Say that the work at the cursor will not be done this season, and why"),
        bind("sort", "next_sort", "Sort", id="due.sort",
             tooltip="Put the most urgent first, or what one trip can share together"),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._lines: dict[str, DueLine] = {}
        self._sort = 0
        self._asked_of: DueLine | None = None
        self._offered = False

    def compose(self) -> ComposeResult:
        yield Static(id="totals", markup=False)
        yield DueTable(id="work")
        yield Static(NOTHING.format(key=DOORS["season"].key), id="nothing", markup=False)
        yield Static(id="later", markup=False)
        yield Static(id="why", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> DueTable:
        return self.query_one(DueTable)

    def show(self, board: Board) -> None:
        due = sorted(due_lines(board), key=SORTS[self._sort][1])
        lines = [*due, *aside_lines(board)]
        self._lines = {line.key: line for line in lines}
        units = board.snapshot.units
        for part in ("#work", "#why"):
            self.query_one(part).display = bool(lines)
        self.query_one("#nothing").display = not lines
        self._table.fill(_columns(units, self.app.size.width), self._lines)
        later = later_words(later_work(board))
        self.query_one("#later", Static).update(later)
        self.query_one("#later").display = bool(later)
        self.query_one("#totals", Static).update(
            Text(f"{SORTS[self._sort][0]}   {_totals(due_totals(tuple(lines)), units)}")
        )
        self._show_why()
        if not self._offered:
            self._offered = True
            self.offer_unsaved()

    @property
    def _here(self) -> DueLine | None:
        return self._lines.get(self._table.here or "")

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
        why.append(Text(f"If not: {line.prompt.if_skipped}"))
        chore = CHORE_OF.get(line.prompt.kind)
        cautions = FEW.get(chore, ()) if chore is not None else ()
        units = board.snapshot.units
        for caution in words.of_this_job(cautions, line.volume_l, units):
            why.append(words.caution_text(caution))
        self.query_one("#why", Static).update(Text("\n").join(why))

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    def action_next_sort(self) -> None:
        self._sort = (self._sort + 1) % len(SORTS)
        self._show_again()

    async def action_done(self) -> None:
        """Write that it was done; ask for the water of a fill; show where more is to be said."""
        line, board = self._here, self.brimbook.board
        if line is None or board is None:
            return
        self._asked_of = line
        if line.prompt.kind is PromptKind.FILL:
            self._ask_volume()
        elif line.prompt.kind is PromptKind.INSTALL:
            self.action_open("site_check")
        elif done_draft(board.snapshot, line.prompt) is None:
            self.field.say(SAID_ELSEWHERE[line.prompt.kind])
        else:
            await self._save("done", done_draft(board.snapshot, line.prompt))

    def _ask_volume(self) -> None:
        line, board = self._here, self.brimbook.board
        self._asked_of = line
        if line is not None and board is not None:
            label = f"{line.label}: {words.brought(board.snapshot.units)}"
            self.field.ask("volume", label, only=AMOUNT)

    @property
    def asks(self) -> Mapping[str, Callable[[], object]]:
        return {
            "volume": self._ask_volume,
            "until": self.action_put_off,
            "why": self.action_decline,
        }

    def action_put_off(self) -> None:
        line = self._asked_of = self._here
        if line is not None:
            self.field.ask("until", f"{line.label}: put off to, as friday or oct 14", only=DATE)

    def action_decline(self) -> None:
        line = self._asked_of = self._here
        if line is not None:
            self.field.ask("why", f"{line.label}: not this season, because")

    def check(self, asking: str, text: str) -> None:
        board = self.brimbook.board
        if asking == "volume" and board is not None:
            typed_volume_l(text, board.snapshot.units)
        elif asking == "until" and board is not None:
            day_typed(text, board.snapshot.today, ahead=True)

    async def entered(self) -> None:
        if await self.saved():
            self._close_field()

    def taken(self) -> bool:
        """What is typed is taken by saving it."""
        return True

    async def saved(self) -> bool:
        """Write what was typed; when it cannot be, say why and return False."""
        line, board = self._asked_of, self.brimbook.board
        if self.field.asking is None or line is None or board is None:
            return True
        text, snapshot = self.field.text, board.snapshot
        try:
            match self.field.asking:
                case "volume":
                    volume_l = typed_volume_l(text, snapshot.units)
                    return await self._save("done", done_draft(snapshot, line.prompt, volume_l))
                case "until":
                    until = day_typed(text, snapshot.today, ahead=True)
                    draft = put_off_draft(snapshot, line.prompt, until)
                    return await self._save(f"put off to {words.plain_day(until)}", draft)
                case _:
                    draft = declined_draft(snapshot, line.prompt, text)
                    return await self._save("declined", draft)
        except BadValue as error:
            self.field.say(str(error))
            return False

    async def _save(self, what: str, draft: Draft | None) -> bool:
        line = self._asked_of
        if line is None or draft is None:
            return False
        return await self.brimbook.save(f"{line.label}, {WORK[line.prompt.kind]}: {what}", [draft])

    def redraw(self) -> None:
        self._show_again()

    def _show_again(self) -> None:
        if self.brimbook.board is not None:
            self.show_when_ready(self.brimbook.board)


def _columns(units: Units, width: int) -> tuple[Column[DueLine], ...]:
    columns: tuple[Column[DueLine], ...] = (
        Column("Tract", 13, lambda line: cut(line.tract, 12)),
        Column("Station", 16, lambda line: cut(line.label, 15)),
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


def _work(line: DueLine, width: int) -> Text:
    prompt = line.prompt
    mark = words.prompt_mark(prompt)
    return cut(mark + WORK[prompt.kind], width, "bold" if mark == "!" else "")


def _last_day(line: DueLine) -> Text:
    prompt = line.prompt
    if prompt.state is PromptState.PUT_OFF and prompt.put_off_to is not None:
        return Text(words.day_month(prompt.put_off_to))
    return Text("now" if prompt.last is None else words.day_month(prompt.last))


def _amount(value: float, width: int) -> Text:
    return Text(f"{value:,.0f}".rjust(width) if value else "")


def _totals(totals: DueTotals, units: Units) -> str:
    fills = "1 fill" if totals.fills == 1 else f"{totals.fills} fills"
    return (
        f"{fills}: {words.water(totals.volume_l, units)}   other work due: {totals.others}   "
        f"soon: {totals.upcoming}"
    )
