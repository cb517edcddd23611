"""The windows and limits of a tract's season, and changing them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Static

from store.errors import BadValue
from store.model.board import Board
from store.views.review import weeks_as_seen
from store.views.season_settings import SeasonLine, season_drafts, season_lines
from store.vocabulary import LimitKind, WindowKind
from tui.base.field_screen import TableFieldScreen
from tui.base.key_line import KeyLine
from tui.base.keys import row_keys
from tui.base.table import SCROLLBAR, Column, KeyedTable
from tui.base.typed_field import NUMBER, TypedField
from tui.key_table import bind

CHANGED = "*"
NOT_SEEN = (
    "Cameras saw no clear jump in use in two seasons, or one that agrees with these weeks; "
    "it takes eight counts or more in an autumn."
)
NO_TRACT = "There is no tract yet: add a station first, and its tract with it."


class SettingsTable(KeyedTable[SeasonLine], inherit_bindings=False):
    """The windows in the order of the year, then the limits."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Change", key_display="Enter", id="windows.change",
                tooltip="Type other days, or another number, for the line at the cursor"),
        *row_keys("windows", "line"),
    ]  # fmt: skip


class SeasonSettingsScreen(TableFieldScreen):
    """One tract at a time; what was changed is marked and can be undone like any entry."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "season_settings"
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("next", "other_tract(1)", "Next", id="windows.next",
             tooltip="The windows of the next tract", first="right"),
        bind("before", "other_tract(-1)", "Before", id="windows.before",
             tooltip="The windows of the tract before", first="left"),
        bind("camera", "as_seen", "As seen", id="windows.as_seen",
             tooltip="Take the heavy-use weeks from the days on which cameras saw use rise"),
        bind("take_out", "default", "Default", id="windows.default",
             tooltip="Go back to the default of the place for the line at the cursor"),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._tract = 0
        self._asked_of: SeasonLine | None = None

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield SettingsTable()
        yield Static(id="meaning", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> SettingsTable:
        return self.query_one(SettingsTable)

    @property
    def _tract_id(self) -> str | None:
        """The tract shown; the first one where the one before is gone."""
        tracts = [] if self._board is None else list(self._board.snapshot.places.tracts)
        return tracts[self._tract % len(tracts)] if tracts else None

    def show(self, board: Board) -> None:
        first, self._board = self._board is None, board
        self.redraw()
        if first and self._tract_id is not None:
            self.offer_unsaved()

    @property
    def shown_of(self) -> str:
        return self._tract_id or ""

    def show_again(self, of: str) -> None:
        tracts = [] if self._board is None else list(self._board.snapshot.places.tracts)
        if of not in tracts:
            raise BadValue("its tract is no longer in the logbook")
        self._tract = tracts.index(of)
        self.redraw()

    @property
    def asks(self) -> Mapping[str, Callable[[], object]]:
        return {"value": self._ask}

    def redraw(self) -> None:
        board, tract_id = self._board, self._tract_id
        if board is None:
            return
        if tract_id is None:
            self.query_one("#status", Static).update(NO_TRACT)
            return
        lines = season_lines(board.snapshot, tract_id)
        changed = sum(line.is_changed for line in lines)
        noted = f"   {changed} changed, marked {CHANGED}" if changed else ""
        name, count = board.snapshot.places.tracts[tract_id].name, len(board.snapshot.seasons)
        which = f"   {self._tract % count + 1} of {count} tracts" if count > 1 else ""
        self.query_one("#status", Static).update(f"The season of {name}{which}{noted}")
        columns = _columns(self.app.size.width)
        self._table.fill(columns, {line.kind.value: line for line in lines})
        self._show_meaning()

    @property
    def _here(self) -> SeasonLine | None:
        if self._board is None or self._tract_id is None:
            return None
        lines = season_lines(self._board.snapshot, self._tract_id)
        return next((line for line in lines if line.kind.value == self._table.here), None)

    @on(DataTable.RowHighlighted)
    def _show_meaning(self) -> None:
        here = self._here
        if here is None:
            return
        said = "What is usual is common practice, no source; your own days and numbers go first."
        if here.is_changed:
            said = f"{CHANGED} Changed for this tract. {said}"
        text = Text.assemble((here.name, "bold"), f"  {here.meaning}.\n{said}")
        self.query_one("#meaning", Static).update(text)

    @on(DataTable.RowSelected)
    def _ask(self) -> None:
        here = self._here
        if here is not None:
            self._asked_of = here
            only = NUMBER if isinstance(here.kind, LimitKind) else None
            self.field.ask("value", here.name, here.text, only=only)

    def check(self, asking: str, text: str) -> None:  # noqa: ARG002
        here, board, tract_id = self._asked_of, self._board, self._tract_id
        if here is not None and board is not None and tract_id is not None:
            season_drafts(board.snapshot, tract_id, here.kind, text)

    async def entered(self) -> None:
        if await self.saved():
            self._close_field()

    def taken(self) -> bool:
        """A value is taken by saving it."""
        return True

    async def saved(self) -> bool:
        """Write what was typed; when it cannot be, say why and return False."""
        here, text = self._asked_of, self.field.text
        if self.field.asking is None or here is None or not text:
            return True
        try:
            return await self._write(here.kind, text)
        except BadValue as error:
            self.field.say(str(error))
            return False

    async def _write(self, kind: WindowKind | LimitKind, text: str | None) -> bool:
        board, tract_id = self._board, self._tract_id
        if board is None or tract_id is None:
            return False
        drafts = season_drafts(board.snapshot, tract_id, kind, text)
        if not drafts:
            return True
        tract = board.snapshot.places.tracts[tract_id].name
        now = "back to the default" if text is None else text
        return await self.brimbook.save(f"{tract}, {kind.value}: {now}", drafts)

    async def action_default(self) -> None:
        here = self._here
        if here is None:
            return
        if not here.is_changed:
            self.field.say("This is the default of the place already.")
            return
        try:
            if await self._write(here.kind, None):
                self.field.say("")
        except BadValue as error:
            self.field.say(str(error))

    def action_as_seen(self) -> None:
        """Offer the weeks the cameras saw; Enter takes them, nothing does so by itself."""
        board, tract_id = self._board, self._tract_id
        if board is None or tract_id is None:
            return
        seen = weeks_as_seen(board.snapshot, tract_id)
        if seen is None:
            self.field.say(NOT_SEEN)
            return
        lines = season_lines(board.snapshot, tract_id)
        self._asked_of = next(line for line in lines if line.kind is WindowKind.HEAVY_USE)
        days = f"{seen.first.words} to {seen.last.words}"
        self.field.ask("value", "Heavy-use weeks as the cameras saw them", days)

    def action_other_tract(self, steps: int) -> None:
        self._tract += steps
        self.field.say("")
        self.redraw()


def _columns(width: int) -> tuple[Column[SeasonLine], ...]:
    columns: tuple[Column[SeasonLine], ...] = (
        Column("Window or limit", 19, lambda line: Text(_name(line))),
        Column("Is set to", 32, _value),
    )
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (
        *columns,
        Column("Usual here", room, lambda line: Text(_with_unit(line.default, line))),
    )


def _name(line: SeasonLine) -> str:
    return line.kind.value.capitalize() if isinstance(line.kind, WindowKind) else line.name


def _value(line: SeasonLine) -> Text:
    text = _with_unit(line.text, line)
    return Text(f"{CHANGED}{text}", "bold") if line.is_changed else Text(f" {text}")


def _with_unit(text: str, line: SeasonLine) -> str:
    return f"{text} {line.unit}".rstrip()
