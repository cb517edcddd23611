"""Import weather, normals, stations or log entries from a file, without stopping the screen."""

from __future__ import annotations

from threading import Event
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.suggester import SuggestFromList
from textual.widgets import Input, ProgressBar, Static

from store.errors import BadLines, BrimbookError, SeveralPlaces
from store.model.board import Board
from store.plain_text import plain_sentence, without_controls
from tui.base.board_screen import BACK_KEY
from tui.base.field_reader import FieldReader
from tui.base.form_screen import FORM_KEYS, FormScreen
from tui.base.in_thread import work_through
from tui.base.key_line import KeyLine
from tui.base.keys import UNDO_KEY, key_of
from tui.base.open_screens import close
from tui.base.path_line import PathLine
from tui.importing.order import (
    ARCHIVE,
    AS_FILE_SAYS,
    DAILY,
    FORECAST,
    HINTS,
    KINDS,
    ONLY_FOR,
    REFUSE,
    SKIP,
    UNIT_WORDS,
    WEATHER,
    WITHOUT_TRACT,
    Order,
    read_order,
)
from tui.importing.steps import Step, import_steps
from tui.widgets.choice import Choice
from tui.widgets.form_row import FormLine, FormRow, FormRows

MOST_LINES_SHOWN = 3000


class ImportScreen(FormScreen):
    """One file at a time; what came of it stays on the screen below the fields."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "start", "Import", key_display="F2", id="import.start",
                tooltip="Read the file and keep what is new; Enter on the last field does the "
                "same"),
        Binding("tab", "complete", "Next", key_display="Tab", id="import.next",
                priority=True,
                tooltip="Take the completion of a path, else go to the next field"),
        *FORM_KEYS[1:4],
        Binding("escape", "back", "Back, cancel", key_display="Esc", id="import.back",
                tooltip="Cancel the import that runs, else go back"),
        *FORM_KEYS[4:],
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._runs = False
        self._cancelled = Event()
        self._places_of = ""
        """The path of the file whose stations are offered."""

    def compose(self) -> ComposeResult:
        yield Static("Import from a file", id="status", markup=False)
        with FormRows(id="rows"):
            yield FormRow("path", "File", PathLine())
            yield FormRow("place", "Station of the file", Choice(("",), ""))
            yield FormRow("kind", "What it holds", Choice(KINDS, WEATHER))
            yield FormRow("station", "Weather station", FormLine())
            yield FormRow("tract", "Tract", FormLine())
            yield FormRow("latitude", "Latitude, deg", FormLine())
            yield FormRow("units", "Units", Choice(tuple(UNIT_WORDS), AS_FILE_SAYS))
            yield FormRow("bad_lines", "Bad lines", Choice((REFUSE, SKIP), REFUSE))
        yield ProgressBar(id="progress", show_percentage=False, show_eta=False)
        yield Static("", id="doing", markup=False)
        with VerticalScroll(id="result"):
            yield Static(id="said", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one("#progress").display = False
        self.query_one(PathLine).focus()
        self._show_fields()

    def show(self, board: Board) -> None:
        names = [tract.name for tract in board.snapshot.places.tracts.values()]
        line = self.query_one("#row-tract").query_one(Input)
        line.suggester = SuggestFromList(names, case_sensitive=False)
        self._show_fields()

    def _row(self, key: str) -> FormRow:
        return self.query_one(f"#row-{key}", FormRow)

    @on(Choice.Changed)
    @on(Input.Changed)
    def _show_fields(self) -> None:
        """Show the fields the kind of file needs, and what belongs beside each."""
        if self._places_of and self.texts["path"] != self._places_of:
            self._places_of = ""
            self.query_one("#row-place Choice", Choice).offer(("",))
        kind = self._row("kind").text
        for key, kinds in ONLY_FOR.items():
            self._row(key).display = kind in kinds
        self._row("place").display = bool(self._places_of) and kind in DAILY
        for key, hint in HINTS.items():
            self._row(key).say(hint)
        self._row("tract").say(self._tract_hint(kind))
        self._row("path").say("")
        reader = self._reader()
        read_order(reader)
        for key, problem in reader.problems.items():
            if key not in reader.missing:
                self._row(key).say(problem, wrong=True)

    def _reader(self) -> FieldReader:
        return FieldReader(self.texts, {})

    def _tract_hint(self, kind: str) -> str:
        board, typed = self.brimbook.board, self._row("tract").text.strip()
        if board is None:
            return ""
        names = [tract.name for tract in board.snapshot.places.tracts.values()]
        if typed:
            known = typed.casefold() in (name.casefold() for name in names)
            if known:
                return "known"
            return "no such tract" if kind == FORECAST else "a new tract, to be added"
        if kind in (WEATHER, ARCHIVE) and not names:
            return "empty: the first tract that you add"
        told = [f"empty: {WITHOUT_TRACT[kind]}"] if kind in WITHOUT_TRACT else []
        if names:
            told.append(f"Known: {', '.join(names)}")
        return ". ".join(told)

    def action_complete(self) -> None:
        focused = self.focused
        if not (isinstance(focused, PathLine) and focused.complete()):
            self.focus_next()

    @on(Input.Submitted)
    @on(Choice.Submitted)
    def _field_done(self, message: Input.Submitted | Choice.Submitted) -> None:
        rows = [row for row in self.query(FormRow) if row.display]
        if not rows:  # the screen is being taken down
            return
        if message.control is rows[-1].editor:
            self.action_start()
        else:
            self.focus_next()

    def action_start(self) -> None:
        if self._runs:
            return
        order = self._order()
        if order is not None:
            self.query_one("#progress").display = True
            doing = f"Reading {order.path.name}"
            if order.kind == ARCHIVE:
                doing = f"Fetching {order.station_id}"
            self._say(f"{doing} ... ({BACK_KEY} cancels)", "")
            self._runs, self._cancelled = True, Event()
            steps = import_steps(self.brimbook.session, order, self._cancelled)
            work_through(self, "import", steps, self._show_step, self._show_error)

    def _order(self) -> Order | None:
        """What is to be imported, or None after saying which field is wrong."""
        reader = self._reader()
        order = read_order(reader)
        if order is None:
            key, problem = next(iter(reader.problems.items()))
            self._row(key).say(problem, wrong=True)
            self._row(key).editor.focus()
        return order

    def _show_step(self, step: Step) -> None:
        if isinstance(step, str):
            if self._cancelled.is_set():
                return
            self.query_one("#doing", Static).update(Text(plain_sentence(step)))
            return
        self._end()
        if step is None:
            self._say("Cancelled: nothing was imported, the logbook is as it was.", "")
            return
        late = f"It was written before the cancelling took hold; {UNDO_KEY} undoes it."
        lines = (late, *step.lines) if self._cancelled.is_set() else step.lines
        self._say(step.title, "\n".join(lines[:MOST_LINES_SHOWN]))
        self.brimbook.refresh_board()

    def _end(self) -> None:
        self._runs = False
        self.query_one("#progress").display = False

    def _ask_place(self, error: SeveralPlaces) -> None:
        """Offer the stations of the file; the import goes on with the one chosen."""
        choice, self._places_of = self.query_one("#row-place Choice", Choice), self.texts["path"]
        choice.offer(error.places)
        self._show_fields()
        count = len(error.places)
        self._say(
            f"The file holds {count} stations.",
            f"Choose one with left and right, then {key_of(self.BINDINGS, 'start')}: "
            + ", ".join(error.places),
        )
        self.when_drawn(choice.focus)

    def _show_error(self, error: BrimbookError) -> None:
        self._end()
        if isinstance(error, SeveralPlaces):
            self._ask_place(error)
            return
        if not isinstance(error, BadLines):
            self._say("! Nothing was imported.", str(error))
            return
        count = len(error.problems)
        counted = "1 bad line" if count == 1 else f"{count} bad lines"
        lines = [str(problem) for problem in error.problems[:MOST_LINES_SHOWN]]
        if count > MOST_LINES_SHOWN:
            lines.append(f"and {count - MOST_LINES_SHOWN} more")
        self._say(
            f"! Nothing was imported: {error.path.name} has {counted}. Correct it and import it "
            "again.",
            "\n".join(lines),
        )
        self.query_one("#result").focus()

    def _say(self, title: str, more: str) -> None:
        self.query_one("#doing", Static).update(Text(plain_sentence(title)))
        self.query_one("#said", Static).update(Text(without_controls(more)))
        self.query_one("#result").scroll_home(animate=False)

    def action_back(self) -> None:
        if not self._runs:
            close(self)
        else:
            self._cancelled.set()
            self._say("Cancelling ...", "")
