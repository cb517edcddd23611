"""Record a contamination event, or what was done about an open one, in a few keys."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Static

from store.contamination.events import EventHistory
from store.errors import BadFile, BadValue, BrimbookError
from store.logbook.photos import photo_checksum
from store.model.board import AT_WORK, Board
from store.model.snapshot import Snapshot
from store.records import Draft, StationFacts
from store.views.event_preview import event_preview, refuse_event_day
from store.views.planned_recovery import bailed_l
from store.vocabulary import Action, Cause
from tui import words
from tui.base.field_screen import FieldScreen
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.open_screens import close
from tui.base.path_line import path_from
from tui.base.typed_field import AMOUNT, DATE, NUMBER, TypedField
from tui.event import card
from tui.event.entered import EventDraft
from tui.event.keys import CARCASS_KEYS, CAUSE_KEYS, EVENT_KEYS, key
from tui.event.typed import with_typed
from tui.event.unsaved import event_again, plain_event

OTHER = key("other_event")


PAUSE_S = 0.25
"""A pause in pressing keys this long has the recovery worked out."""


class EventScreen(FieldScreen):
    """Everything on one screen; each key says one thing, and the dates follow at once."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "event"
    one_for_each = False
    BINDINGS: ClassVar[list[BindingType]] = EVENT_KEYS

    _board: Board
    _sheet: EventDraft

    def __init__(self, station_id: str, event_id: str | None = None) -> None:
        """Open on an event of a station, or on a new one where no event is named."""
        super().__init__()
        self._start_at = station_id
        self._start_on = event_id
        self._ready = False
        self._preview: card.Preview | None = None
        self._drawn: dict[str, Text | str] = {}
        self._asked: object = None
        self._photo_wanted: Path | None = None

    def compose(self) -> ComposeResult:
        with Horizontal(id="room"):
            with Vertical(id="entry"):
                yield Static(id="head", markup=False)
                yield Static(id="choices", markup=False)
                with Horizontal(id="ways"):
                    yield Static(id="waiting", markup=False)
                    yield Static(id="refilled", markup=False)
                yield Static(id="basis", markup=False)
            with VerticalScroll(id="scrolled", can_focus=False):
                yield Static(id="cautions", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        return self._ready or action == "back"

    def show(self, board: Board) -> None:
        about = self._sheet.station_id if self._ready else self._start_at
        if about not in board.snapshot.places.stations:
            self.brimbook.say("That station was taken out of the logbook; enter the event anew.")
            close(self)
            return
        first = not self._ready
        if first:
            self._ready = True
            today = board.snapshot.today
            self._sheet = EventDraft(self._start_at, today, self.brimbook.session.new_id())
            events = {event.event_id: event for _, event in board.snapshot.open_events()}
            found = events.get(self._start_on or "")
            if found is not None:
                self._sheet = self._sheet.about(found, found.event_id)
        elif board.snapshot.units is not self._board.snapshot.units:
            self.field.close()
        self._board = board
        self._asked = None
        self._follow()
        if first:
            self.offer_unsaved()

    def redraw(self) -> None:
        if self._ready:
            self._draw()

    @property
    def _station(self) -> StationFacts:
        return self._board.snapshot.places.stations[self._sheet.station_id]

    @property
    def _open_events(self) -> list[EventHistory]:
        return list(self._board.snapshot.histories[self._sheet.station_id].open_events)

    def _set(self, sheet: EventDraft) -> None:
        if sheet.bailed_percent is not None:
            station = self._board.snapshot.places.stations[sheet.station_id]
            percent = sheet.bailed_percent
            litres = bailed_l(self._board.levels, station, sheet.day, percent)
            sheet = replace(sheet, bailed_l=litres)
        self._sheet = sheet
        self._follow()

    def _follow(self) -> None:
        """Draw what is entered, and have its recovery worked out if the water changed."""
        drafts, asked = self._sheet.water_drafts(), self._sheet.water
        if asked != self._asked:
            self._asked = asked
            self._preview = None
            try:
                self._refuse_day()
            except BadValue as error:
                self._preview = card.Preview(why=str(error))
            else:
                if not self._board.worked_out:
                    self._preview = card.Preview(why=AT_WORK)
                elif drafts or self._sheet.event is not None:
                    work_out(
                        self,
                        "preview",
                        partial(self._recovery, self._board.snapshot, self._sheet, drafts),
                        self._show_preview,
                        lambda error: self._show_preview(card.Preview(why=str(error))),
                        lambda: asked == self._asked,
                        after_s=PAUSE_S,
                    )
                else:
                    self._preview = card.Preview(why=f"Press {CAUSE_KEYS}: what fouled the tank?")
        self._draw()

    def _refuse_day(self) -> None:
        history = self._board.snapshot.histories[self._sheet.station_id]
        today = self._board.snapshot.today
        refuse_event_day(history, self._sheet.day, today, self._sheet.event)

    def _recovery(self, snapshot: Snapshot, sheet: EventDraft, drafts: list[Draft]) -> card.Preview:
        memory = self.brimbook.session.memory
        found = event_preview(snapshot, sheet.station_id, sheet.event_id, drafts, memory)
        return card.Preview(found, "" if found else "Saved like this, the event is over.")

    def _show_preview(self, preview: card.Preview) -> None:
        self._preview = preview
        self._draw()

    def _draw(self) -> None:
        board, sheet, station = self._board, self._sheet, self._station
        parts: dict[str, Text | str] = {
            "#head": card.head(board, sheet, station, len(self._open_events)),
            "#choices": card.choices(board, sheet, station),
            "#waiting": card.waiting_column(self._preview, sheet),
            "#refilled": card.refill_column(board, self._preview, station, sheet),
            "#basis": card.basis(self._preview, sheet),
            "#cautions": card.cautions(board, sheet, station, self._preview, sources=self.wide),
        }
        for where, text in parts.items():
            if self._drawn.get(where) != text:
                self.query_one(where, Static).update(text)
        self._drawn = parts

    def action_station(self, step: int) -> None:
        keys = list(self._board.snapshot.places.stations)
        at = (keys.index(self._sheet.station_id) + step) % len(keys)
        moved = replace(self._sheet, station_id=keys[at])
        self._set(moved.about(None, self.brimbook.session.new_id()))

    def action_other_event(self) -> None:
        """Turn from a new event to the open ones, one after the other, and round again."""
        ways = [None, *self._open_events]
        if len(ways) == 1:
            self.field.say("This station has no open event, so this one is new.")
            return
        ids = [None if event is None else event.event_id for event in ways]
        here = None if self._sheet.event is None else self._sheet.event_id
        event = ways[(ids.index(here) + 1) % len(ways)] if here in ids else None
        new_id = self.brimbook.session.new_id() if event is None else event.event_id
        self._set(self._sheet.about(event, new_id))

    def action_shift(self, days: int) -> None:
        self._to_day(self._sheet.shifted(days))

    def _to_day(self, moved: EventDraft) -> None:
        if moved.day > self._board.snapshot.today:
            self.field.say("That day is still to come; an event is found today or earlier.")
            return
        self.field.say("")
        self._set(moved)

    def action_date(self) -> None:
        self.field.ask(
            "date", "Date, as yesterday or oct 14", self._sheet.day.isoformat(), only=DATE
        )

    def action_cause(self, cause: str) -> None:
        if self._sheet.event is not None:
            self.field.say(f"The cause of the open event is known; {OTHER} turns to a new event.")
        else:
            self.field.say("")
            self._set(replace(self._sheet, new_cause=Cause(cause)))

    def action_done(self, name: str) -> None:
        action = Action(name)
        if action not in self._sheet.offered:
            self.field.say(
                f"A new event cannot be over yet; {OTHER} turns to the open one."
                if self._sheet.event is None
                else "The event is open already; press what was done about it."
            )
        elif action is Action.REFILLED and action not in self._sheet.actions:
            self.field.ask("refill", words.brought(self._board.snapshot.units), only=AMOUNT)
        else:
            self.field.say("")
            self._set(self._sheet.turned(action))

    def action_bail_percent(self) -> None:
        percent = self._sheet.bailed_percent
        shown = "" if percent is None else f"{percent:g}"
        self.field.ask("bail", "Percent bailed (empty: the usual)", shown, only=NUMBER)

    def action_turn(self, question: str) -> None:
        sheet = self._sheet
        if question in ("smell", "colour", "response"):
            if sheet.event is None:
                self.field.say(f"Signs are judged of an open event; {OTHER} turns to one.")
                return
        elif sheet.event is not None or not sheet.is_carcass:
            self.field.say(
                f"This is asked of a new drowned animal or dead fish; press {CARCASS_KEYS}."
            )
            return
        self.field.say("")
        self._set(sheet.answered(question))

    def action_days_dead(self) -> None:
        if self._sheet.event is not None or not self._sheet.is_carcass:
            self.action_turn("size")
        else:
            self.field.ask("days dead", "Days it had lain when found", only=NUMBER)

    def action_bears(self) -> None:
        if not self._station.bear_country:
            self.field.say("This station is not in bear country by its facts; change them there.")
            return
        count = str(self._sheet.bears or 1)
        self.field.ask("bears", "Times bears came that day (0: none)", count, only=NUMBER)

    def action_photo(self) -> None:
        self.field.ask("photo", "Path of the picture (empty: none)", self._sheet.photo_path)

    def _read_photo(self, path: Path) -> None:
        work_out(
            self,
            "photo",
            lambda: photo_checksum(path),
            lambda sha256: self._keep_photo(path, sha256),
            self._refuse_photo,
        )

    def _keep_photo(self, path: Path, sha256: str) -> None:
        self._photo_wanted = None
        self.field.say("")
        self._set(replace(self._sheet, photo_path=str(path), photo_sha256=sha256))

    def _refuse_photo(self, error: BrimbookError) -> None:
        self._photo_wanted = None
        self.field.say(str(error))

    def action_ramp(self) -> None:
        self._set(self._sheet.ramp_turned())

    def action_note(self) -> None:
        self.field.ask("note", "Note", self._sheet.note)

    def check(self, asking: str, text: str) -> None:
        if asking != "photo":
            with_typed(self._sheet, asking, text, self._board)

    async def entered(self) -> None:
        self.taken()

    def taken(self) -> bool:
        """Take what stands in the field, if it is open; False when it cannot be taken."""
        field = self.field
        if field.asking is None:
            return True
        try:
            sheet = self._taken(field.asking, field.text)
            field.close()
        except (BadValue, BadFile) as error:
            field.say(str(error))
            return False
        self._set(sheet)
        if self._photo_wanted is not None:
            field.say("Reading the picture ...")
            self._read_photo(self._photo_wanted)
        return True

    def _taken(self, asking: str, text: str) -> EventDraft:
        """The sheet with a typed text where it belongs; a picture is still to be read.

        Raises:
            BadValue: it is no number, no date, or cannot be.
            BadFile: a path in a home folder nobody knows.
        """
        if asking == "photo":
            self._photo_wanted = path_from(text).absolute() if text else None
            return replace(self._sheet, photo_path="", photo_sha256="")
        return with_typed(self._sheet, asking, text, self._board)

    async def saved(self) -> bool:
        if not self.taken():
            return False
        if self._photo_wanted is not None:
            self.field.say("The picture is still being read; save again when it is.")
            return False
        try:
            self._refuse_day()
            drafts = self._sheet.drafts()
        except BadValue as error:
            self.field.say(str(error))
            return False
        label = self._board.snapshot.places.label(self._station)
        return await self.brimbook.save(self._sheet.title(label), drafts)

    @property
    def about(self) -> str:
        return self._sheet.station_id if self._ready else self._start_at

    def typed(self) -> Mapping[str, Any] | None:
        if not self._ready:
            return None
        field = None if self.field.asking == "date" else self.field.typed
        typed: Mapping[str, Any] | None = plain_event(self._sheet, self._photo_wanted, field)
        return typed

    def typed_title(self) -> str:
        return self._sheet.title(self._board.snapshot.places.label(self._station))

    def take_up(self, typed: Mapping[str, Any]) -> None:
        kept = event_again(typed, self._board.snapshot)
        self._set(kept.sheet)
        if kept.photo:
            self._photo_wanted = Path(kept.photo)
            self._read_photo(self._photo_wanted)
        if kept.field is not None:
            asks: dict[str, Callable[[], object]] = {
                "bail": self.action_bail_percent,
                "days dead": self.action_days_dead,
                "bears": self.action_bears,
                "photo": self.action_photo,
                "note": self.action_note,
                "refill": partial(self.action_done, Action.REFILLED.value),
            }
            self.field.ask_again(kept.field, asks)

    def unsaved(self) -> str | None:
        if self._sheet.is_empty:
            return None
        return self._sheet.title(self._board.snapshot.places.label(self._station))
