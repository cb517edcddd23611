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
from store.errors import BadValue
from store.logbook.entries import live_entries
from store.model.board import AT_WORK, Board
from store.model.snapshot import Snapshot
from store.records import Contamination, ContaminationAction, Draft, StationFacts
from store.views.event_entries import event_entries, event_news
from store.views.event_preview import event_preview, refuse_event_day
from store.views.planned_recovery import bailed_l
from store.vocabulary import Action
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.open_screens import close
from tui.base.typed_field import DATE, TypedField
from tui.event import card
from tui.event.answers_screen import OTHER, AnswersScreen
from tui.event.entered import EventDraft
from tui.event.keys import CAUSE_KEYS, EVENT_KEYS, key
from tui.event.unsaved import event_again, plain_event

PAUSE_S = 0.25
"""A pause in pressing keys this long has the recovery worked out."""


class EventScreen(AnswersScreen):
    """Everything on one screen; each key says one thing, and the dates follow at once."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "event"
    one_for_each = False
    BINDINGS: ClassVar[list[BindingType]] = EVENT_KEYS

    def __init__(self, station_id: str, event_id: str | None = None) -> None:
        """Open on an event of a station, or on a new one where no event is named."""
        super().__init__()
        self._start_at = station_id
        self._start_on = event_id
        self._ready = False
        self._preview: card.Preview | None = None
        self._drawn: dict[str, Text | str] = {}
        self._asked: object = None
        self._known: frozenset[str] = frozenset()
        """Entries about events that were there at first, or that the person was asked about; of
        a sheet taken up again none about its day is known."""

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
            self._known = frozenset(entry.entry_id for entry in event_entries(board.snapshot))
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
        if await self._ask_about_news():
            return False
        label = self._board.snapshot.places.label(self._station)
        return await self.brimbook.save(self._sheet.title(label), drafts)

    async def _ask_about_news(self) -> bool:
        """Whether something of the station's events was entered meanwhile elsewhere; asked once."""
        kinds = (Contamination, ContaminationAction)
        entries = await self.brimbook.tried(
            lambda: self.brimbook.session.do(lambda book: live_entries(book, kinds))
        )
        if entries is None:
            return True
        news = event_news(entries, self._known, self._sheet.station_id)
        self._known |= {entry.entry_id for entry in entries}
        if not news:
            return False
        self.field.say(
            f"Entered elsewhere meanwhile: {news}. {key('save')} saves yours as well; "
            f"{OTHER} turns to the open event."
        )
        self.brimbook.refresh_board()
        return True

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
        entries = event_entries(self._board.snapshot)
        self._known = frozenset(one.entry_id for one in entries if one.day != kept.sheet.day)
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
