"""What single keys enter at the station at the cursor of a check-in."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from store.model.board import Board
from store.records import StationFacts
from store.typed import as_typed
from store.views.check_in import expected_below_rim_mm, water_was_brought
from store.vocabulary import LevelMark, UseSeen
from tui import words
from tui.base.field_screen import FieldScreen
from tui.base.typed_field import AMOUNT, NUMBER
from tui.check_in.entered import CheckIn, StationVisit
from tui.check_in.stops import Stop


class VisitScreen(FieldScreen):
    """A sheet, and the place at the cursor; keys do nothing where that is no station."""

    _board: Board
    _sheet: CheckIn

    @property
    @abstractmethod
    def _stop(self) -> Stop | None:
        """The place at the cursor; None on the summary."""

    @abstractmethod
    def _draw(self) -> None:
        """Draw the sheet anew."""

    @property
    def _station(self) -> StationFacts | None:
        return self._stop if isinstance(self._stop, StationFacts) else None

    @property
    def _seen(self) -> StationVisit:
        station = self._station
        return StationVisit() if station is None else self._sheet.seen(station.station_id)

    @property
    def _brought(self) -> bool:
        """Whether the log tells of a fill at the station on the sheet's day."""
        snapshot, day = self._board.snapshot, self._sheet.day
        station = self._station
        return station is not None and water_was_brought(snapshot, station.station_id, day)

    def _change(self, change: Callable[[StationVisit], StationVisit]) -> None:
        """Change what was seen at the station at the cursor, if it is one."""
        if self._station is not None:
            self._sheet = self._sheet.with_seen(self._station.station_id, change)
            self._draw()

    def action_mark(self, mark: str) -> None:
        brought = self._brought
        self._change(lambda seen: seen.judged(LevelMark(mark), after_fill=brought))

    def action_as_expected(self) -> None:
        if self._station is None:
            return
        day, levels = self._sheet.day, self._board.levels
        below_mm = expected_below_rim_mm(levels, self._station.station_id, day)
        if below_mm is None:
            self.field.say("The model has no level of that day here; enter what you saw.")
        else:
            brought = self._brought
            self._change(lambda seen: seen.measured(below_mm, after_fill=brought))

    def action_order(self) -> None:
        if self._seen.has_level and (self._seen.filled or self._brought):
            self._change(StationVisit.order_turned)
        elif self._station is not None:
            self.field.say("Enter a level and a fill first; then this says which came first.")

    def action_use(self, use: str) -> None:
        self._change(lambda seen: seen.with_use(UseSeen(use)))

    def action_ramp(self) -> None:
        self._change(StationVisit.ramp_turned)

    def action_rake(self) -> None:
        self._change(StationVisit.rake_turned)

    def action_drain(self) -> None:
        self._change(StationVisit.drain_turned)

    def action_cover(self) -> None:
        if self._station is not None:
            history = self._board.snapshot.histories[self._station.station_id]
            covered = history.covered_since is not None
            self._change(lambda seen: seen.cover_turned(covered_before=covered))

    def action_measure(self) -> None:
        units, below_mm = self._board.snapshot.units, self._seen.below_rim_mm
        value = as_typed(None if below_mm is None else units.depth(below_mm))
        self._ask("below", f"{units.depth_name} below the rim", AMOUNT, value)

    def action_camera(self) -> None:
        value = as_typed(self._seen.camera_per_day)
        self._ask("camera", "Animals a day on the camera", NUMBER, value)

    def action_fill(self) -> None:
        if self._seen.filled:
            self._change(StationVisit.without_fill)
        else:
            self._ask("fill", words.brought(self._board.snapshot.units), AMOUNT)

    def action_note(self) -> None:
        self._ask("note", "Note", None, self._seen.note)

    def _ask(self, what: str, label: str, only: str | None, value: str = "") -> None:
        if self._station is not None:
            self.field.ask(what, label, value, only=only)
            self._draw()
