"""One entry of the log opened for correction, with all it said before."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import shorten
from typing import Any, ClassVar

from rich.text import Text
from textual import events, on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from store.errors import BadValue
from store.logbook.revisions import revisions_of
from store.model.board import Board
from store.model.snapshot import Snapshot
from store.plain_data import from_plain, to_plain
from store.records import Entry, StationFacts
from store.units import Units, units
from store.views.corrections import (
    Correction,
    CorrectionText,
    corrected,
    correction_texts,
    kept_as_it_is,
)
from store.views.facts_changes import facts_changes
from store.views.log_lines import LogLine, lines_of
from store.views.site_check import capacity_of
from tui import words
from tui.base.board_screen import BACK_KEY
from tui.base.doors import DOORS, door
from tui.base.form_screen import FORM_KEYS, FormScreen, FormTyped
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.leave_question import EntryScreen
from tui.base.log_marks import line_words, log_text, with_note
from tui.base.open_screens import is_open
from tui.widgets.choice import Choice
from tui.widgets.form_row import FormLine, FormRow, FormRows

GONE = "This entry was taken back or corrected meanwhile; go back and look at the log again."
FIELD_ACTIONS = frozenset({"save", "next_field", "field_before"})
MOST_SAID = 100
"""Characters of an entry in the name of its correction."""


class CorrectionScreen(FormScreen, EntryScreen):
    """What is corrected is written as a revision: what stood before stays and is shown here.

    The units are those shown when the screen opened, also for reading what is typed.
    """

    CSS_PATH = "correction.tcss"
    from_the_log = True
    where = "correction"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "save", "Save", key_display="F2", id="correct.save",
                tooltip="Save the correction; Enter in the last field does the same"),
        *FORM_KEYS,
        door("facts", "correct"),
    ]  # fmt: skip

    def __init__(self, owner_id: str, entry_id: str) -> None:
        """`owner_id` is the station's whose log it is in, or the tract's for its rain gauge."""
        super().__init__()
        self._owner_id = owner_id
        self._entry_id = entry_id
        self._line: LogLine | None = None
        self._snapshot: Snapshot | None = None
        self._units: Units | None = None
        self._capacity_l: float | None = None
        self._first: Mapping[str, str] = {}
        self._built = False

    @property
    def _of_facts(self) -> bool:
        """Whether it is an entry of a station's facts, which have a form of their own."""
        return self._line is not None and isinstance(self._line.entry.fact, StationFacts)

    @property
    def station_id(self) -> str | None:
        return self._owner_id if self._of_facts else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if action == "open" or (action in FIELD_ACTIONS and self._of_facts):
            return action == "open" and self._of_facts
        return super().check_action(action, parameters)

    def takes(self, event: events.Key) -> bool:
        return self._of_facts or super().takes(event)

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield FormRows(id="rows")
        with VerticalScroll(id="before", can_focus=False):
            yield Static(id="kept", markup=False)
            yield Static(id="history", markup=False)
        yield KeyLine()

    def show(self, board: Board) -> None:
        """Build the form once; later boards leave what is typed alone."""
        if self._snapshot is not None:
            return
        self._snapshot = snapshot = board.snapshot
        self._units = snapshot.units
        log = snapshot.entries_about(self._owner_id)
        entry = next((one for one in log if one.entry_id == self._entry_id), None)
        if entry is None:
            self.query_one("#status", Static).update(GONE)
            self.offer_unsaved()
            return
        (self._line,) = lines_of((entry,), log)
        facts = snapshot.places.stations.get(self._owner_id)
        self._capacity_l = None if facts is None else capacity_of(facts)
        label = snapshot.label_of(self._owner_id)
        save = key_of(self.BINDINGS, "save")
        does = f"{DOORS['facts'].key} changes the facts" if self._of_facts else f"{save} saves"
        self.query_one("#status", Static).update(
            Text.assemble(
                (f"Correct an entry of {label}", "bold"),
                f"   {does}, {BACK_KEY} leaves it as it is\n",
                log_text(self._line, snapshot.units),
            )
        )
        self._say("#kept", Text(kept_as_it_is(entry)))
        self._say("#history", Text())
        self._open()
        session = self.brimbook.session
        work_out(
            self,
            "history",
            lambda: session.do(lambda book: revisions_of(book, self._entry_id)),
            lambda said: self._say("#history", _history(said, log, snapshot.units)),
            self.brimbook.say_wrong,
        )

    def _say(self, selector: str, text: Text) -> None:
        said = self.query_one(selector, Static)
        said.update(text)
        said.display = bool(text.plain)

    @work(exclusive=True, group="build")
    async def _open(self) -> None:
        await self._build()
        if is_open(self):
            self.offer_unsaved()

    async def _build(self) -> None:
        """The fields of the entry, each with what it says."""
        line, shown_in = self._line, self._units
        if line is None or shown_in is None:
            return
        texts = correction_texts(line.entry, shown_in, self._capacity_l)
        self._first = {one.key: one.text for one in texts}
        rows = [FormRow(one.key, one.label, _editor(one)) for one in texts]
        box = self.query_one("#rows", FormRows)
        await box.remove_children()
        await box.mount_all(rows)
        if not is_open(self):
            return
        self._built = True
        self._read()
        if rows:
            self.set_focus(rows[min(1, len(rows) - 1)].editor)

    def keep_focus(self) -> None:
        """Not before the field that is begun with has it: letters typed so early are for none."""
        if self._built:
            super().keep_focus()

    @on(Input.Changed)
    @on(Choice.Changed)
    def _read(self) -> Correction | None:
        """Read the fields, and say beside each what is wrong with it."""
        line, snapshot, shown_in, rows = self._line, self._snapshot, self._units, self.rows
        if line is None or snapshot is None or shown_in is None or not rows or not self._built:
            return None
        read = corrected(line.entry, self.texts, shown_in, snapshot.today, self._capacity_l)
        for one in correction_texts(line.entry, shown_in, self._capacity_l):
            row, problem = rows[one.key], read.problems.get(one.key, "")
            row.display = one.key in read.asked
            row.say(problem or one.hint, wrong=bool(problem))
        return read

    @on(Input.Submitted)
    @on(Choice.Submitted)
    async def _field_done(self, message: Input.Submitted | Choice.Submitted) -> None:
        rows = [row for row in self.rows.values() if row.display]
        if rows and message.control is rows[-1].editor:
            await self.action_save()
        elif rows:
            self.focus_next()

    async def saved(self) -> bool:
        """Write the revision, or go to the first field that is wrong."""
        line, snapshot, read = self._line, self._snapshot, self._read()
        if line is None or snapshot is None:
            return True
        if read is None:
            return not self._first
        if read.problems:
            self.rows[next(iter(read.problems))].editor.focus()
            self.brimbook.say("Nothing is saved yet: correct what is marked with !")
            return False
        if read.draft is None:
            self.brimbook.say("Nothing was changed.")
            return True
        title = f"{snapshot.label_of(self._owner_id)}: corrected {line_words(line, snapshot.units)}"
        return await self.brimbook.save(title, [read.draft])

    def unsaved(self) -> str | None:
        """The entry, where one of its texts was changed; None once fields are gone."""
        texts = self.texts
        return self.typed_title() if self._built and texts and texts != self._first else None

    @property
    def about(self) -> str:
        return f"{self._owner_id} {self._entry_id}"

    def typed(self) -> Mapping[str, Any] | None:
        if self._units is None or self.unsaved() is None:
            return None
        typed: Mapping[str, Any] = to_plain(FormTyped(self._units.system, self.texts))
        return typed

    def typed_title(self) -> str:
        line, shown_in = self._line, self._units
        if line is None or shown_in is None:
            return "The correction of an entry"
        said = shorten(with_note(line, shown_in), MOST_SAID, placeholder=" ...")
        return f"The correction of {words.plain_day(line.on)}, {said}"

    def take_up(self, typed: Mapping[str, Any]) -> None:
        if self._line is None:
            raise BadValue("its entry was taken back or corrected since")
        self._retype(from_plain(FormTyped, typed))

    @work(exclusive=True, group="build")
    async def _retype(self, kept: FormTyped) -> None:
        """Show the texts again, in the units they were typed in."""
        if self._units is not None and self._units.system is not kept.units:
            self._units = units(kept.units)
            self._built = False
            await self._build()
        if is_open(self):
            self.retype(kept.texts)


def _editor(one: CorrectionText) -> FormLine | Choice:
    return Choice(one.choices, one.text) if one.choices else FormLine(one.text)


def _history(said: tuple[Entry, ...], log: tuple[Entry, ...], units: Units) -> Text:
    """What the entry said and until when, oldest first."""
    if len(said) == 1:
        return Text(f"Written {words.moment(said[0])}; never corrected.")
    lines = [Text("What it said before", "bold")]
    shown = lines_of(said, log)
    for one, before, later in zip(shown, (None, *said), (*said[1:], None), strict=False):
        until = "as it stands now" if later is None else f"until {words.moment(later)}"
        what = f"{words.plain_day(one.on)}  {with_note(one, units)}{_changed(before, one, units)}"
        lines.append(Text.assemble(f"{what}   ", (until, "bold" if later is None else "dim")))
    return Text("\n").join(lines)


def _changed(before: Entry | None, line: LogLine, units: Units) -> str:
    """What is new about a station's facts; other entries say all of it themselves."""
    old, new = before and before.fact, line.entry.fact
    if not isinstance(old, StationFacts) or not isinstance(new, StationFacts):
        return ""
    return f": {'; '.join(facts_changes(old, new, units)) or 'nothing else'}"
