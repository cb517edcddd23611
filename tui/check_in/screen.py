"""The daily check-in: rain gauges, and station by station what was seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from store.errors import BadValue
from store.logbook.entries import live_entries
from store.model.board import Board
from store.records import Entry, GaugeReading, Reading, StationFacts, TractFacts
from store.typed import as_typed
from tui import words
from tui.base.key_line import KeyLine
from tui.base.keys import HELP_KEY
from tui.base.open_screens import close
from tui.base.steady_list import SteadyList
from tui.base.typed_field import AMOUNT, DATE, TypedField, typed_volume_l
from tui.check_in.card import gauge_card, keys_card, station_card, summary_card
from tui.check_in.entered import CheckIn, StationVisit
from tui.check_in.keys import CHECKIN_KEYS, key
from tui.check_in.place_list import View, already, list_line
from tui.check_in.stops import (
    Stop,
    entries_before,
    entry_before,
    is_wanted,
    known_ids,
    left_out,
    stop_id,
    stops_on,
)
from tui.check_in.typed import stop_named, with_typed
from tui.check_in.unsaved import check_in_again, plain_check_in
from tui.check_in.visit_screen import VisitScreen

EARLIER, LATER = key("shift", -1), key("shift", 1)
RAIN = frozenset("0123456789.,'\"incm ")
"""What an amount of rain is typed with, its unit too."""
_WORK_ON = (EARLIER, LATER, *map(key, ("save", "clear", "date", "jump")), HELP_KEY)
THROUGH = "".join(one for one in _WORK_ON if one not in RAIN)
"""Keys that no amount of rain holds, so they work while one is typed."""
MOVES = frozenset({"date", "jump"})
"""What is typed to go elsewhere."""


class CheckInScreen(VisitScreen):
    """Gauges and stations on the left, the one at the cursor on the right."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    where = "check_in"
    BINDINGS: ClassVar[list[BindingType]] = CHECKIN_KEYS

    def __init__(self, station_id: str | None = None) -> None:
        super().__init__()
        self._start_at = station_id
        self._ready = False
        self._tract: str | None = None
        """The one tract that is checked in; None is all of them."""
        self._stops: tuple[Stop, ...] = ()
        self._at = 0
        self._typed_as: dict[tuple[str, float | None], str] = {}
        """How a rain of a tract was typed, to be shown that way again."""
        self._known: set[str] = set()
        """Readings in the log when the check-in began, or that the person was asked about; of one
        taken up again none is known."""

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        with Horizontal():
            yield SteadyList(id="stops", markup=False)
            with Vertical(id="right"):
                with VerticalScroll(id="scrolled", can_focus=False):
                    yield Static(id="card", markup=False)
                yield TypedField(id="field")
                yield Static(id="keys", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self._list.can_focus = False

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        return self._ready or action == "back"

    @property
    def _list(self) -> OptionList:
        return self.query_one("#stops", OptionList)

    @property
    def _stop(self) -> Stop | None:
        """The place at the cursor; None on the summary."""
        return self._stops[self._at] if self._at < len(self._stops) else None

    def show(self, board: Board) -> None:
        if self._ready:
            same_units = board.snapshot.units is self._board.snapshot.units
            self._board = board
            self._drop_what_is_gone()
            self._find_stops(stop_id(self._stop))
            if not same_units:
                self._typed_as.clear()
                self._arrive()
            return
        self._board = board
        self._ready = True
        self._known = known_ids(board)
        if self._start_at is None:
            self._tract = self.brimbook.shown_tract
        self._sheet = CheckIn(board.snapshot.today)
        self._find_stops(self._start_at)
        self._arrive()
        self.offer_unsaved()

    def _drop_what_is_gone(self) -> None:
        kept = self._sheet.among(self._board.snapshot.places)
        if kept != self._sheet:
            self._sheet = kept
            self.brimbook.say(
                "A station was taken out of the logbook; what was entered for it too."
            )

    def _find_stops(self, at: str | None) -> None:
        """The places of the day, with the cursor on the one of that id if it is there."""
        self._stops = stops_on(self._board, self._sheet, self._start_at, self._tract)
        ids = [stop_id(stop) for stop in (*self._stops, None)]
        self._at = ids.index(at) if at in ids else min(self._at, len(self._stops))
        self.redraw()

    def redraw(self) -> None:
        if self._ready:
            self._list.clear_options()
            self._list.add_options([Option("", id=stop_id(stop)) for stop in (*self._stops, None)])
            self._draw()

    def _draw(self) -> None:
        """Draw the day, the list and the card of the place at the cursor."""
        ago = words.days_ago((self._board.snapshot.today - self._sheet.day).days)
        day = f"Check-in of {words.full_day(self._sheet.day)}"
        day += f", {self._tract} only" if self._tract else ""
        rest = f" ({ago})   {EARLIER} {LATER} other day   {self._sheet.counts}"
        self.query_one("#status", Static).update(Text.assemble((day, "bold"), rest))
        for index, stop in enumerate((*self._stops, None)):
            line = self._line(stop)
            if self._list.get_option_at_index(index).prompt != line:
                self._list.replace_option_prompt_at_index(index, line)
        self._list.highlighted = self._at
        self.query_one("#card", Static).update(self._card())
        self.query_one("#keys", Static).update(keys_card(self._stop, self._board.snapshot.units))

    def _view(self, stop: Stop | None) -> View:
        hauling = self.field.asking == "fill" and stop is self._stop
        before = self._before(stop)
        typed_l = self._typed_l if hauling else None
        return View(self._board, self._sheet, before, self.wide, hauling, typed_l)

    @property
    def _typed_l(self) -> float | None:
        """The litres typed so far; None where they are no number yet."""
        try:
            return typed_volume_l(self.field.text, self._board.snapshot.units)
        except BadValue:
            return None

    @on(Input.Changed)
    def _typed(self) -> None:
        if self._ready and self.field.asking == "fill":
            self.query_one("#card", Static).update(self._card())

    def _before(self, stop: Stop | None) -> Entry | None:
        return entry_before(self._board, stop, self._sheet)

    def _line(self, stop: Stop | None) -> Text:
        head = Text("> " if stop is self._stop else "  ", no_wrap=True)
        return head + list_line(self._view(stop), stop, max(self._list.size.width - 4, 20))

    def _card(self) -> Text:
        view = self._view(self._stop)
        unvisited = left_out(self._board, self._stops, self._tract)
        match self._stop:
            case TractFacts() as tract:
                return gauge_card(view, tract, unvisited)
            case StationFacts() as station:
                return station_card(view, station)
            case None:
                return summary_card(view, unvisited)

    async def action_next(self) -> None:
        if not self.taken():
            return
        if self._stop is not None:
            self._go(self._next)
        elif self._sheet.is_empty:
            close(self)
        else:
            await self.action_save()

    @property
    def _next(self) -> int:
        """Where Enter leads: the next place, gauges that nobody keeps left out, or the summary."""
        later = range(self._at + 1, len(self._stops))
        wanted = (at for at in later if is_wanted(self._board, self._stops[at], self._sheet))
        return next(wanted, len(self._stops))

    def action_down(self) -> None:
        if self.taken():
            self._go(min(self._at + 1, len(self._stops)))

    def action_previous(self) -> None:
        if self.taken():
            self._go(max(self._at - 1, 0))

    def _go(self, at: int) -> None:
        self._at = at
        self._arrive()

    def _arrive(self) -> None:
        """Draw the place the cursor came to; at a gauge the field is open at once."""
        self.field.close()
        if isinstance(self._stop, TractFacts):
            units = self._board.snapshot.units
            rain_mm = self._sheet.gauges.get(self._stop.tract_id)
            value = as_typed(None if rain_mm is None else units.rain(rain_mm))
            value = self._typed_as.get((self._stop.tract_id, rain_mm), value)
            label = f"Rain, {units.rain_name}"
            self.field.ask("gauge", label, value, only=AMOUNT, through=THROUGH)
        self.query_one("#scrolled").scroll_home(animate=False)
        self._draw()

    @on(OptionList.OptionSelected, "#stops")
    def _clicked(self, event: OptionList.OptionSelected) -> None:
        if self.taken():
            self._go(event.option_index)
        else:
            self._draw()

    def action_shift(self, days: int) -> None:
        if self.taken():
            self._sheet = self._sheet.shifted(days, self._board.snapshot.today)
            self._find_stops(stop_id(self._stop))
            self._arrive()

    def action_clear(self) -> None:
        if isinstance(self._stop, TractFacts):
            self._sheet = self._sheet.with_gauge(self._stop.tract_id, None)
            self._arrive()
        self._change(lambda _: StationVisit())

    def action_date(self) -> None:
        if self.taken():
            self.field.ask("date", "Day of the check-in, as yesterday or oct 14", only=DATE)

    def action_jump(self) -> None:
        if self.taken():
            self.field.ask("jump", "Go to the station named")

    def check(self, asking: str, text: str) -> None:
        if asking != "jump":
            with_typed(self._sheet, self._stop, asking, text, self._board)

    async def entered(self) -> None:
        if self.field.asking == "gauge":
            await self.action_next()
        else:
            self.taken()

    def taken(self) -> bool:
        """Take what stands in the field, if it is open; False when it cannot be taken."""
        asking = self.field.asking
        if asking is None:
            return True
        try:
            self._take(asking, self.field.text)
        except BadValue as error:
            self.field.say(str(error))
            return False
        if asking in MOVES:
            self._arrive()
        elif asking != "gauge":
            self.field.close()
        self._draw()
        return True

    def _take(self, asking: str, text: str) -> None:
        """Put a typed text where it belongs.

        Raises:
            BadValue: it is no number, day or name, or one that cannot be.
        """
        if asking == "jump":
            self._at = stop_named(self._board, self._stops, text, self._at) if text else self._at
            return
        if text and self.field.typed is None:
            return
        self._sheet = with_typed(self._sheet, self._stop, asking, text, self._board)
        if asking == "gauge" and isinstance(self._stop, TractFacts):
            rain_mm = self._sheet.gauges.get(self._stop.tract_id)
            self._typed_as[self._stop.tract_id, rain_mm] = text
        if asking == "date":
            self._find_stops(stop_id(self._stop))

    async def saved(self) -> bool:
        if not self.taken():
            return False
        if self._sheet.is_empty:
            self.brimbook.say("Nothing is entered yet, so there is nothing to save.")
            return False
        entries = await self.brimbook.tried(self._readings_now)
        if entries is None:
            return False
        before = entries_before(entries, self._stops, self._sheet)
        if self._ask_about_news(before):
            return False
        replaced = {key: entry.entry_id for key, entry in before.items()}
        return await self.brimbook.save(self._sheet.title, self._sheet.drafts(replaced))

    def _readings_now(self) -> list[Entry]:
        """The readings in the file, another program's too."""
        kinds = (GaugeReading, Reading)
        return self.brimbook.session.do(lambda book: live_entries(book, kinds))

    def _ask_about_news(self, before: Mapping[str, Entry]) -> bool:
        """Whether something read meanwhile elsewhere would be replaced; asked once, and shown."""
        news = [key for key, entry in before.items() if entry.entry_id not in self._known]
        self._known |= {before[key].entry_id for key in news}
        if not news:
            return False
        self._go(next(at for at, stop in enumerate(self._stops) if stop_id(stop) == news[0]))
        seen = already(replace(self._view(self._stop), before=before[news[0]]))
        self.field.say(
            f"Read {seen} elsewhere meanwhile. {key('save')} puts yours in its place, "
            f"{key('clear')} drops yours."
        )
        self.brimbook.refresh_board()
        return True

    def action_back(self) -> None:
        if self.field.asking == "gauge":
            self.leave(lambda: close(self))
        elif self.field.asking in MOVES:
            self._arrive()
        else:
            super().action_back()

    def typed(self) -> Mapping[str, Any] | None:
        if not self._ready:
            return None
        field = None if self.field.asking in MOVES else self.field.typed
        typed: Mapping[str, Any] | None = plain_check_in(self._sheet, stop_id(self._stop), field)
        return typed

    def typed_title(self) -> str:
        return self._sheet.title

    def take_up(self, typed: Mapping[str, Any]) -> None:
        kept = check_in_again(typed, self._board.snapshot)
        self._sheet = kept.sheet
        self._known = set()
        self._find_stops(kept.at)
        self._arrive()
        if kept.field is not None:
            asks = {
                "below": self.action_measure,
                "camera": self.action_camera,
                "fill": self.action_fill,
                "note": self.action_note,
            }
            self.field.ask_again(kept.field, asks)

    def unsaved(self) -> str | None:
        return None if self.taken() and self._sheet.is_empty else self._sheet.title
