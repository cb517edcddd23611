"""The numbers behind a cause of contamination, with their evidence, and changing them."""

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
from store.typed import number_from
from store.views.cause_settings import ParameterLine, parameter_lines, setting_drafts
from store.vocabulary import Cause
from tui.base.field_screen import TableFieldScreen
from tui.base.key_line import KeyLine
from tui.base.keys import row_keys
from tui.base.table import Column, KeyedTable
from tui.base.typed_field import NUMBER, TypedField
from tui.key_table import bind

CHANGED = "*"


class ValueTable(KeyedTable[ParameterLine], inherit_bindings=False):
    """The parameters of one cause."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Change", key_display="Enter", id="values.change",
                tooltip="Type another value for the parameter at the cursor"),
        *row_keys("values", "parameter"),
    ]  # fmt: skip


class CauseValuesScreen(TableFieldScreen):
    """One cause at a time; a changed value is marked and can be undone like any entry."""

    CSS_PATH = "cause_values.tcss"
    where = "cause_values"
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("next", "other_cause(1)", "Next cause", id="values.next",
             tooltip="The numbers of the next cause", first="right"),
        bind("before", "other_cause(-1)", "Cause before", id="values.before",
             tooltip="The numbers of the cause before", first="left"),
        bind("take_out", "documented", "Documented", id="values.documented",
             tooltip="Go back to the documented value of the parameter at the cursor"),
    ]  # fmt: skip

    def __init__(self, cause: Cause | None = None) -> None:
        super().__init__()
        self._cause = cause or Cause.DROWNED_ANIMAL
        self._board: Board | None = None
        self._asked_of = ""

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield ValueTable()
        yield Static(id="evidence", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> ValueTable:
        return self.query_one(ValueTable)

    def show(self, board: Board) -> None:
        first, self._board = self._board is None, board
        self._fill()
        if first:
            self.offer_unsaved()

    @property
    def shown_of(self) -> str:
        return self._cause.value

    def show_again(self, of: str) -> None:
        try:
            self._cause = Cause(of)
        except ValueError as error:
            raise BadValue("there is no such cause") from error
        self._fill()

    @property
    def asks(self) -> Mapping[str, Callable[[], object]]:
        return {"value": self._ask}

    def redraw(self) -> None:
        self._fill()

    def _fill(self) -> None:
        board = self._board
        if board is None:
            return
        lines = parameter_lines(board.snapshot, self._cause)
        changed = sum(line.is_changed for line in lines)
        noted = f"   {changed} changed in this logbook, marked {CHANGED}" if changed else ""
        self.query_one("#status", Static).update(f"What is assumed of: {self._cause.value}{noted}")
        columns = _columns(self.app.size.width)
        self._table.fill(columns, {line.name: line for line in lines})
        self._show_evidence()

    @property
    def _here(self) -> ParameterLine | None:
        if self._board is None:
            return None
        lines = parameter_lines(self._board.snapshot, self._cause)
        return next((line for line in lines if line.name == self._table.here), None)

    @on(DataTable.RowHighlighted)
    def _show_evidence(self) -> None:
        here = self._here
        if here is None:
            return
        limits = here.limits
        said = f"Documented: {here.documented:g}, {here.evidence}."
        if here.is_changed:
            said = f"{CHANGED} Set to {here.value:g} in this logbook. {said}"
        lines = [
            Text.assemble(
                (here.name, "bold"), f": {limits.meaning}, {limits.low:g} to {limits.high:g}."
            ),
            Text(said),
        ]
        if here.without_weather:
            lines.append(Text("Counts only where no weather of a station is known."))
        self.query_one("#evidence", Static).update(Text("\n").join(lines))

    @on(DataTable.RowSelected)
    def _ask(self) -> None:
        here = self._here
        if here is not None:
            self._asked_of = here.name
            self.field.ask(
                "value", f"{here.name} of a {self._cause.value}", f"{here.value:g}", only=NUMBER
            )

    def check(self, asking: str, text: str) -> None:  # noqa: ARG002
        if self._board is not None:
            setting_drafts(self._board.snapshot, self._cause, self._asked_of, number_from(text))

    async def entered(self) -> None:
        if await self.saved():
            self._close_field()

    def taken(self) -> bool:
        """A value is taken by saving it."""
        return True

    async def saved(self) -> bool:
        """Write the value typed; when it cannot be, say why and return False."""
        text = self.field.text
        if self.field.asking is None or not text:
            return True
        try:
            value = number_from(text)
            return await self._write(self._asked_of, value)
        except BadValue as error:
            self.field.say(str(error))
            return False

    async def _write(self, name: str, value: float | None) -> bool:
        board = self._board
        if board is None:
            return False
        drafts = setting_drafts(board.snapshot, self._cause, name, value)
        if not drafts:
            return True
        now = "as documented" if value is None else f"{value:g}"
        return await self.brimbook.save(f"{name} of a {self._cause.value}: {now}", drafts)

    async def action_documented(self) -> None:
        here = self._here
        if here is not None:
            if not here.is_changed:
                self.field.say("This is the documented value already.")
            elif await self._write(here.name, None):
                self.field.say("")

    def action_other_cause(self, steps: int) -> None:
        causes = list(Cause)
        self._cause = causes[(causes.index(self._cause) + steps) % len(causes)]
        self.field.say("")
        self._fill()


def _columns(width: int) -> tuple[Column[ParameterLine], ...]:
    return (
        Column("Parameter", 16, lambda line: Text(line.name)),
        Column("Value", 10, _value),
        Column("80 percent", 17, lambda line: Text(_range(line))),
        Column("Meaning", max(width - 45, 20), lambda line: Text(line.limits.meaning)),
    )


def _value(line: ParameterLine) -> Text:
    if line.is_changed:
        return Text(f"{CHANGED}{line.value:g}", "bold")
    return Text(f" {line.value:g}")


def _range(line: ParameterLine) -> str:
    """The range of eight in ten members; empty for a number without a spread."""
    return "" if line.likely is None else f"{line.likely[0]:.2g} to {line.likely[1]:.2g}"
