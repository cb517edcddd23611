"""A form for what a keeper hauls with; it is kept, so it is asked once."""

from __future__ import annotations

from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from store.errors import BadValue, BrimbookError
from store.model.work_kit import WorkKit, keep_work_kit, work_kit
from store.season.cautions import TOWING
from store.units import Units
from store.views.work_kit_fields import kit_fields, kit_from, kit_text
from store.vocabulary import Access
from tui.base.board_screen import BACK_KEY
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.leave_question import EntryScreen
from tui.widgets.choice import Choice
from tui.widgets.form_row import FormLine, FormRow, FormRows
from tui.words import caution_text


class KitScreen(EntryScreen):
    """Says at once what cannot be; assumed numbers are the person's own once saved."""

    CSS_PATH = "kit_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "save", "Save", key_display="F2", id="kit.save",
                tooltip="Keep all of it; Enter on the last field does the same"),
        Binding("tab", "app.focus_next", "Next", key_display="Tab", id="kit.next",
                priority=True, tooltip="Go to the next field; Down and Enter do the same"),
        Binding("shift+tab", "app.focus_previous", "Before", key_display="Shift+Tab",
                id="kit.before", priority=True, tooltip="Go to the field before"),
        Binding("down", "app.focus_next", "Next", show=False, id="kit.down",
                tooltip="Go to the next field"),
        Binding("up", "app.focus_previous", "Before", show=False, id="kit.up",
                tooltip="Go to the field before"),
        Binding("f1", "app.help", "Help", key_display="F1", id="kit.help",
                tooltip="Show every key of this screen and what it does"),
    ]  # fmt: skip

    def __init__(self, units: Units) -> None:
        super().__init__()
        self._units = units
        self._kit: WorkKit | None = None
        self._first: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        yield Static("Reading what you haul with ...", id="status", markup=False)
        yield FormRows(id="rows")
        yield Static(id="said", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        work_out(self, "kit", lambda: self.brimbook.session.do(work_kit), self._take, self._spoilt)

    def _take(self, kit: WorkKit) -> None:
        self.run_worker(self._fill(kit))

    def _spoilt(self, error: BrimbookError) -> None:
        """What is kept cannot be read: begin again with the assumed numbers."""
        self.brimbook.say_wrong(error)
        self._take(WorkKit())

    async def _fill(self, kit: WorkKit) -> None:
        self._kit = kit
        choice = Choice((Access.ATV.value, Access.VEHICLE.value), kit.by.value)
        rows = [
            FormRow("by", "Water is carried by", choice),
            FormRow("source_name", "Water source", FormLine(kit.source_name)),
            *(
                FormRow(field.name, field.label, FormLine(kit_text(kit, field)))
                for field in kit_fields(self._units)
            ),
        ]
        await self.query_one("#rows", FormRows).mount_all(rows)
        for field in kit_fields(self._units):
            hint = f"{field.unit}; may stay empty" if field.optional else field.unit
            self.query_one(f"#row-{field.name}", FormRow).say(hint)
        self._first = self._texts()
        whose = "yours" if kit.asked else "assumed; put in your own"
        save = key_of(self.BINDINGS, "save")
        self.query_one("#status", Static).update(
            f"What you haul with: {whose}   {save} saves, {BACK_KEY} leaves"
        )
        self._show_said()
        rows[0].editor.focus()

    def _texts(self) -> dict[str, str]:
        return {row.key: row.text for row in self.query(FormRow)}

    @on(Choice.Changed)
    @on(Input.Changed)
    def _show_said(self) -> None:
        """What is wrong with what is typed, or else what to mind when hauling."""
        if not self._first:
            return
        try:
            self._read()
        except BadValue as error:
            self.query_one("#said", Static).update(Text(f"! {error}", "bold"))
        else:
            self.query_one("#said", Static).update(caution_text(TOWING))

    def _read(self) -> WorkKit:
        """The kit as typed.

        Raises:
            BadValue: it cannot be.
        """
        return kit_from(self._kit or WorkKit(), self._texts(), self._units)

    @on(Input.Submitted)
    @on(Choice.Submitted)
    async def _field_done(self, message: Input.Submitted | Choice.Submitted) -> None:
        if message.control is self.query(FormRow).last().editor:
            await self.action_save()
        else:
            self.focus_next()

    def unsaved(self) -> str | None:
        return None if self._texts() == self._first else "What you haul with was changed."

    async def saved(self) -> bool:
        try:
            kit = self._read()
        except BadValue:
            return False
        session = self.brimbook.session

        def keep() -> bool:
            session.do(lambda logbook: keep_work_kit(logbook, kit))
            return True

        return bool(await self.brimbook.tried(keep))
