"""A form for what a keeper hauls with; it is kept, so it is asked once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from store.errors import BrimbookError
from store.model.board import Board
from store.model.work_kit import WorkKit, keep_work_kit, work_kit
from store.plain_data import from_plain, to_plain
from store.season.cautions import TOWING
from store.units import Units, units
from store.views.work_kit_fields import KitRead, kit_fields, kit_text, read_kit
from store.vocabulary import Access
from tui.base.board_screen import BACK_KEY
from tui.base.form_screen import FORM_KEYS, FormScreen, FormTyped
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.leave_question import EntryScreen
from tui.widgets.choice import Choice
from tui.widgets.form_row import FormLine, FormRow, FormRows
from tui.words import caution_text


class KitScreen(FormScreen, EntryScreen):
    """Says at once what cannot be; assumed numbers are the person's own once saved.

    The units are those shown when it opened, also for reading what is typed.
    """

    CSS_PATH = "kit_screen.tcss"
    from_the_log = True
    where = "kit"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "save", "Save", key_display="F2", id="kit.save",
                tooltip="Keep all of it; Enter on the last field does the same"),
        *FORM_KEYS,
    ]  # fmt: skip

    _units: Units

    def __init__(self) -> None:
        super().__init__()
        self._kit: WorkKit | None = None
        self._first: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        yield Static("Reading what you haul with ...", id="status", markup=False)
        yield FormRows(id="rows")
        yield Static(id="said", markup=False)
        yield KeyLine()

    def show(self, board: Board) -> None:
        """Read the kit once; later boards leave what is typed alone."""
        if self._kit is None:
            self._units, self._kit = board.snapshot.units, WorkKit()
            read, fill = self.brimbook.session.do, self._fill
            work_out(self, "kit", lambda: read(work_kit), fill, self._spoilt)

    def _spoilt(self, error: BrimbookError) -> None:
        """What is kept cannot be read: begin again with the assumed numbers."""
        self.brimbook.say_wrong(error)
        self._fill(WorkKit())

    def _fill(self, kit: WorkKit) -> None:
        self._kit = kit
        self.run_worker(self._build(kit))

    async def _build(self, kit: WorkKit) -> None:
        choice = Choice((Access.ATV.value, Access.VEHICLE.value), kit.by.value)
        rows = [
            FormRow("by", "Water is carried by", choice),
            FormRow("source_name", "Water source", FormLine(kit.source_name)),
            *(
                FormRow(field.name, field.label, FormLine(kit_text(kit, field, self._units)))
                for field in kit_fields(self._units)
            ),
        ]
        await self.query_one("#rows", FormRows).mount_all(rows)
        self._first = self.texts
        whose = "yours" if kit.asked else "assumed; put in your own"
        save = key_of(self.BINDINGS, "save")
        self.query_one("#status", Static).update(
            f"What you haul with: {whose}   {save} saves, {BACK_KEY} leaves"
        )
        self._read()
        rows[0].editor.focus()
        self.offer_unsaved()

    @on(Choice.Changed)
    @on(Input.Changed)
    def _read(self) -> KitRead | None:
        """Read the form, and say beside each field what is wrong or what it is in."""
        if not self._first or self._kit is None:
            return None
        read, rows = read_kit(self._kit, self.texts, self._units), self.rows
        for field in kit_fields(self._units):
            hint = f"{field.unit}; may stay empty" if field.optional else field.unit
            problem = read.problems.get(field.name)
            rows[field.name].say(problem or hint, wrong=problem is not None)
        whole = read.problems.get("")
        said = Text(f"! {whole}", "bold") if whole else caution_text(TOWING)
        self.query_one("#said", Static).update(said)
        return read

    @on(Input.Submitted)
    @on(Choice.Submitted)
    async def _field_done(self, message: Input.Submitted | Choice.Submitted) -> None:
        if message.control is self.query(FormRow).last().editor:
            await self.action_save()
        else:
            self.focus_next()

    def unsaved(self) -> str | None:
        return None if self.texts == self._first else "What you haul with was changed."

    def typed(self) -> Mapping[str, Any] | None:
        if not self._first or self.unsaved() is None:
            return None
        typed: Mapping[str, Any] = to_plain(FormTyped(self._units.system, self.texts))
        return typed

    def typed_title(self) -> str:
        return "What you haul with"

    def take_up(self, typed: Mapping[str, Any]) -> None:
        kept = from_plain(FormTyped, typed)
        if self._kit is not None and kept.units is not self._units.system:
            self._units = units(kept.units)
            fields = kit_fields(self._units)
            self.retype({field.name: kit_text(self._kit, field, self._units) for field in fields})
            self._first = self.texts
        self.retype(kept.texts)

    async def saved(self) -> bool:
        """Keep the kit, or go to the first field that is wrong."""
        read = self._read()
        kit = None if read is None else read.kit
        if kit is None:
            wrong = [key for key in self.rows if read is not None and key in read.problems]
            if wrong:
                self.rows[wrong[0]].editor.focus()
            return False
        session = self.brimbook.session

        def keep() -> bool:
            session.do(lambda logbook: keep_work_kit(logbook, kit))
            return True

        return bool(await self.brimbook.tried(keep))
