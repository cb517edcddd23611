"""Add a station, with its tract if that is new, or change the facts of one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, ClassVar

from rich.text import Text
from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.suggester import SuggestFromList
from textual.widgets import Input, Static

from store.model.board import Board
from store.plain_data import from_plain, to_plain
from store.records import TractFacts
from store.season.cautions import DIGGING, ESCAPE_RAMP, OPEN_WATER, Caution
from store.typed import as_typed, degrees_as_typed
from store.units import Quantity, units
from store.vocabulary import Shape
from store.water.geometry import Tank
from store.water.usual import USUAL_TANKS, ramp_size, unusual_size
from tui import words
from tui.base.board_screen import BACK_KEY
from tui.base.form_screen import FORM_KEYS, FormScreen, FormTyped
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.leave_question import EntryScreen
from tui.base.open_screens import is_open
from tui.base.tank_scale import picture_width
from tui.station_form.fields import (
    ALL_MEASURES,
    BEAR_SEASON,
    MEASURES,
    YES,
    Field,
    Subject,
    first_texts,
    form_fields,
    subject_of,
    tank_texts,
)
from tui.station_form.reading import StationRead, read_station
from tui.widgets.choice import Choice
from tui.widgets.form_row import FormLine, FormRow, FormRows, say
from tui.widgets.tank_picture import tank_picture

PICTURE_HEIGHT, WIDE_PICTURE_HEIGHT = 6, 13


class StationForm(FormScreen, EntryScreen):
    """Everything typed is read at once; it stays as typed until it is saved or discarded.

    The units are those shown when the form opened, also for reading what is typed.
    """

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "facts"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "save", "Save", key_display="F2", id="form.save",
                tooltip="Save the station; Enter on the last field does the same"),
        *FORM_KEYS[:2],
        Binding("f3", "usual_tank", "Usual tank", key_display="F3", id="form.usual",
                tooltip="Fill in the measures of a usual tank; press again for the next one"),
        *FORM_KEYS[2:],
    ]  # fmt: skip

    def __init__(self, station_id: str | None = None) -> None:
        super().__init__()
        self._station_id = station_id
        self._subject: Subject | None = None
        self._first: dict[str, str] = {}
        self._pressed_save = False
        self._built = False
        self._usual = -1

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        with Container(id="form"):
            yield FormRows(id="rows")
            with Container(id="tank"):
                yield Static(id="picture", markup=False)
                yield Static(id="capacity", markup=False)
        yield KeyLine()

    def show(self, board: Board) -> None:
        """Build the form once; later boards leave what is typed alone."""
        if self._subject is None:
            new_id = self.brimbook.session.new_id
            self._subject = subject_of(board.snapshot, self._station_id, (new_id(), new_id()))
            self._open()

    @work(exclusive=True, group="build")
    async def _open(self) -> None:
        await self._build()
        if is_open(self):
            self.offer_unsaved()

    async def _build(self) -> None:
        """The fields of the subject, each with what it shows at first."""
        subject = self._subject
        if subject is None:
            return
        self._first = first_texts(subject)
        rows = self.query_one("#rows", FormRows)
        before = subject.before
        title = "New station" if before is None else f"Change {before.name}"
        self.query_one("#status", Static).update(
            Text(
                f"{title}   {key_of(self.BINDINGS, 'save')} saves, {BACK_KEY} leaves; "
                "what is typed outlives a crash"
            )
        )
        widgets: list[FormRow | Static] = [
            FormRow(field.key, field.label, self._editor(field, subject))
            for field in form_fields(subject)
        ]
        if subject.install is None:
            at = next(i for i, w in enumerate(widgets) if w.id == "row-installed")
            widgets.insert(at, Static(_digging_text(), id="digging", markup=False))
        await rows.remove_children()
        await rows.mount_all(widgets)
        if not is_open(self):
            return
        self._built = True
        self._read()
        self.rows["name" if self._first["tract"] else "tract"].editor.focus()
        if before is None and not subject.places.stations:
            self._usual = 0
            self._tell_usual()

    def _editor(self, field: Field, subject: Subject) -> FormLine | Choice:
        text = self._first[field.key]
        if field.choices:
            return Choice(field.choices, text)
        line = FormLine(text)
        if field.key == "tract":
            names = [tract.name for tract in subject.places.tracts.values()]
            line.suggester = SuggestFromList(names, case_sensitive=False)
        return line

    @on(Input.Changed)
    @on(Choice.Changed)
    def _read(self) -> StationRead | None:
        """Read the form and say beside each field what is to be said."""
        subject, rows = self._subject, self.rows
        if subject is None or not self._built:
            return None
        read = read_station(self.texts, subject)
        asked = set(MEASURES[Shape(rows["shape"].text)])
        asked |= set(BEAR_SEASON) if rows["bears"].text == YES else set()
        for field in form_fields(subject):
            row = rows[field.key]
            row.display = field.key in asked or field.key not in {*ALL_MEASURES, *BEAR_SEASON}
            problem = read.problems.get(field.key)
            if problem and (self._pressed_save or field.key not in read.missing):
                row.say(problem, wrong=True)
            else:
                row.say(self._hint(field, row, read))
        if self.focused is not None:
            self.keep_focus()
        self._show_tank(read.tank)
        return read

    def _hint(self, field: Field, row: FormRow, read: StationRead) -> str:
        subject, tract = self._subject, read.tract
        if field.key == "tract" and row.text.strip():
            return "known" if tract else "a new tract, to be added"
        if field.key.startswith("tract_") and tract and subject and not row.text:
            known = _known_of_tract(tract, subject)[field.key]
            if known:
                return f"{known} is known; type to change it"
        return field.hint

    def _show_tank(self, tank: Tank | None) -> None:
        subject = self._subject
        picture, capacity = self.query_one("#picture", Static), self.query_one("#capacity", Static)
        if tank is None or subject is None:
            say(picture, "")
            say(capacity, "The tank is drawn here once its measures are complete.")
            return
        say(picture, _picture(tank, wide=self.wide))
        lines = [
            f"Holds {words.volume(tank.capacity_l, subject.units)} "
            f"at {words.depth(tank.depth_mm, subject.units)} deep.",
            ramp_size(tank.depth_mm, subject.units),
            *(f"! {sentence}" for sentence in unusual_size(tank, subject.units)),
        ]
        say(capacity, Text("\n".join(lines)))

    def action_usual_tank(self) -> None:
        """One usual tank after the other, to be corrected with a tape."""
        subject, rows = self._subject, self.rows
        if subject is None or not self._built:
            return
        self._usual = (self._usual + 1) % len(USUAL_TANKS)
        _, tank = USUAL_TANKS[self._usual]
        for key, text in tank_texts(tank, subject.units).items():
            rows[key].editor.value = text
        self._read()
        self._tell_usual()

    def _tell_usual(self) -> None:
        """Whose measures stand in the fields, and how to have others."""
        key = key_of(self.BINDINGS, "usual_tank")
        self.brimbook.say(
            f"{USUAL_TANKS[self._usual][0]}: measure your own, and correct what differs; {key} "
            "is another usual tank."
        )

    def on_resize(self) -> None:
        self.when_drawn(self._read)

    @on(Input.Submitted)
    @on(Choice.Submitted)
    async def _field_done(self, message: Input.Submitted | Choice.Submitted) -> None:
        rows = list(self.query(FormRow))
        if not rows:  # the screen is being taken down
            return
        if message.control is rows[-1].editor:
            await self.action_save()
        else:
            self.focus_next()

    async def saved(self) -> bool:
        """Write the drafts, or go to the first field that is wrong."""
        subject = self._subject
        self._pressed_save = True
        read = self._read()
        if subject is None or read is None:
            return False
        rows = self.rows
        if read.problems:
            wrong = [key for key in rows if key in read.problems]
            rows[wrong[0]].editor.focus()
            fields = "1 field is" if len(wrong) == 1 else f"{len(wrong)} fields are"
            self.brimbook.say(f"Nothing is saved yet: {fields} to be corrected, marked with !")
            return False
        if not read.drafts:
            self.brimbook.say("Nothing was changed.")
            return True
        name = rows["name"].text.strip()
        title = f"{name} added" if subject.before is None else f"{name} changed"
        return await self.brimbook.save(title, read.drafts)

    @property
    def about(self) -> str:
        return self._station_id or ""

    def typed(self) -> Mapping[str, Any] | None:
        subject = self._subject
        if subject is None or self.unsaved() is None:
            return None
        typed: Mapping[str, Any] = to_plain(FormTyped(subject.units.system, self.texts))
        return typed

    def typed_title(self) -> str:
        before = None if self._subject is None else self._subject.before
        name = self.rows["name"].text.strip() or "without a name yet"
        return f"Facts of {before.name}" if before else f"New station {name}"

    def take_up(self, typed: Mapping[str, Any]) -> None:
        self._retype(from_plain(FormTyped, typed))

    @work(exclusive=True, group="build")
    async def _retype(self, kept: FormTyped) -> None:
        """Show the texts again, in the units they were typed in."""
        if self._subject is not None and self._subject.units.system is not kept.units:
            self._subject = replace(self._subject, units=units(kept.units))
            self._built = False
            await self._build()
        if is_open(self):
            self.retype(kept.texts)

    def unsaved(self) -> str | None:
        """The name of the station whose facts were typed or changed; None once fields are gone."""
        rows = self.rows
        if not (self._built and rows) or self.texts == self._first:
            return None
        return rows["name"].text.strip() or "A station without a name yet"


def _known_of_tract(tract: TractFacts, subject: Subject) -> dict[str, str]:
    """What the logbook holds of a tract, by field, as it would be typed."""
    elevation = tract.elevation_m
    height = None if elevation is None else subject.units.shown(Quantity.HEIGHT, elevation)
    return {
        "tract_latitude": degrees_as_typed(tract.latitude_deg),
        "tract_longitude": degrees_as_typed(tract.longitude_deg),
        "tract_elevation": as_typed(height),
        "tract_bears_first": tract.bear_season_first or "",
        "tract_bears_last": tract.bear_season_last or "",
        "tract_drinking": tract.drinking or "",
    }


def _digging_text() -> Text:
    return Text("\n").join(_caution(caution) for caution in (DIGGING, OPEN_WATER, ESCAPE_RAMP))


def _caution(caution: Caution) -> Text:
    return Text.assemble(
        (f"{caution.subject}: ", "bold"), caution.text, (f" ({caution.source})", "dim")
    )


def _picture(tank: Tank, *, wide: bool) -> Text:
    """The tank full, in its own proportions as far as there is room."""
    height, most = (WIDE_PICTURE_HEIGHT, 40) if wide else (PICTURE_HEIGHT, 30)
    return tank_picture(1.0, picture_width(tank, height, most), height, ramp=True)
