"""What is entered in a check-in, before it is saved."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from store.logbook.places import Places
from store.records import Chore, Draft, Fact, GaugeReading, Note, RampCheck, Reading, Sighting
from store.season.prompt import plain_date
from store.vocabulary import ChoreKind, LevelMark, UseSeen

_NEXT_RAMP: Mapping[bool | None, bool | None] = {None: True, True: False, False: None}
"""Not looked, in place, missing, and round again."""


@dataclass(frozen=True)
class StationVisit:
    """What was seen and done at one station; None and False where nothing was."""

    below_rim_mm: float | None = None
    mark: LevelMark | None = None
    after_work: bool = False
    """Whether the level was seen after water was brought, not on coming."""
    use: UseSeen | None = None
    camera_per_day: float | None = None
    ramp: bool | None = None
    raked: bool = False
    drained: bool = False
    covered: bool | None = None
    """Put under its cover, or the cover taken off; None where it was left as it was."""
    filled: bool = False
    fill_l: float | None = None
    note: str = ""

    @property
    def is_empty(self) -> bool:
        return self == StationVisit()

    @property
    def has_level(self) -> bool:
        return self.mark is not None or self.below_rim_mm is not None

    def judged(self, mark: LevelMark, *, after_fill: bool = False) -> StationVisit:
        """With a level by eye; `after_fill` where a fill stands in the log of that day.

        A level that is entered first is of the moment in which it is entered: after the water
        where that was entered before, else on coming.
        """
        return self._with_level(after_fill, mark=mark)

    def measured(self, below_rim_mm: float, *, after_fill: bool = False) -> StationVisit:
        """The same with a measured level."""
        return self._with_level(after_fill, below_rim_mm=below_rim_mm)

    def _with_level(
        self, after_fill: bool, mark: LevelMark | None = None, below_rim_mm: float | None = None
    ) -> StationVisit:
        after = self.after_work if self.has_level else after_fill or self.filled
        return replace(self, mark=mark, below_rim_mm=below_rim_mm, after_work=after)

    def order_turned(self) -> StationVisit:
        """The level seen after the water was brought, or on coming after all."""
        return replace(self, after_work=not self.after_work)

    def with_use(self, use: UseSeen) -> StationVisit:
        """With the use that was seen; the same use a second time takes it back."""
        return replace(self, use=None if self.use is use else use)

    def ramp_turned(self) -> StationVisit:
        return replace(self, ramp=_NEXT_RAMP[self.ramp])

    def rake_turned(self) -> StationVisit:
        return replace(self, raked=not self.raked)

    def drain_turned(self) -> StationVisit:
        return replace(self, drained=not self.drained)

    def cover_turned(self, *, covered_before: bool) -> StationVisit:
        """The cover put on or taken off, and round again to as it was."""
        turned = not covered_before if self.covered is None else None
        return replace(self, covered=turned)

    def with_fill(self, fill_l: float | None) -> StationVisit:
        """With a fill of so many litres; None is to the rim."""
        return replace(self, filled=True, fill_l=fill_l)

    def without_fill(self) -> StationVisit:
        return replace(self, filled=False, fill_l=None, after_work=False)

    def reading(self, station_id: str) -> Reading | None:
        if not self.has_level:
            return None
        return Reading(station_id, self.below_rim_mm, self.mark, self.after_work)

    def records(self, station_id: str) -> list[Fact]:
        """Everything but the reading, in the order of a visit."""
        records: list[Fact] = []
        if self.use is not None or self.camera_per_day is not None:
            records.append(Sighting(station_id, self.use, self.camera_per_day))
        if self.ramp is not None:
            records.append(RampCheck(station_id, self.ramp))
        if self.raked:
            records.append(Chore(station_id, ChoreKind.RAKE))
        if self.drained:
            records.append(Chore(station_id, ChoreKind.DRAIN))
        if self.filled:
            records.append(Chore(station_id, ChoreKind.FILL, self.fill_l))
        if self.covered is not None:
            cover = ChoreKind.COVER if self.covered else ChoreKind.UNCOVER
            records.append(Chore(station_id, cover))
        if self.note:
            records.append(Note(station_id, self.note))
        return records


@dataclass(frozen=True)
class CheckIn:
    """A check-in of one day: `gauges` in mm of rain by tract, `stations` by id."""

    day: date
    gauges: Mapping[str, float] = field(default_factory=dict)
    stations: Mapping[str, StationVisit] = field(default_factory=dict)

    def among(self, places: Places) -> CheckIn:
        """What was entered about tracts and stations that are still in the logbook."""
        return replace(
            self,
            gauges={key: value for key, value in self.gauges.items() if key in places.tracts},
            stations={key: seen for key, seen in self.stations.items() if key in places.stations},
        )

    @property
    def is_empty(self) -> bool:
        return not self.gauges and not self.stations

    def seen(self, station_id: str) -> StationVisit:
        return self.stations.get(station_id, StationVisit())

    def with_gauge(self, tract_id: str, rain_mm: float | None) -> CheckIn:
        others = {key: value for key, value in self.gauges.items() if key != tract_id}
        return replace(self, gauges=others if rain_mm is None else {**others, tract_id: rain_mm})

    def with_seen(self, station_id: str, change: Callable[[StationVisit], StationVisit]) -> CheckIn:
        seen = change(self.seen(station_id))
        others = {key: value for key, value in self.stations.items() if key != station_id}
        return replace(self, stations=others if seen.is_empty else {**others, station_id: seen})

    def shifted(self, days: int, today: date) -> CheckIn:
        """The same entries about another day, never one to come."""
        return replace(self, day=min(self.day + timedelta(days=days), today))

    @property
    def counts(self) -> str:
        stations, gauges = len(self.stations), len(self.gauges)
        parts = [
            f"{count} {name}" if count == 1 else f"{count} {name}s"
            for count, name in ((stations, "station"), (gauges, "gauge"))
            if count
        ]
        return ", ".join(parts) or "nothing entered"

    @property
    def title(self) -> str:
        return f"Check-in of {plain_date(self.day)}: {self.counts}"

    def drafts(self, replaced: Mapping[str, str]) -> list[Draft]:
        """What to write, in one transaction.

        `replaced` names the gauge reading or level of that day that a new one takes
        the place of, as entry ids by tract or station.
        """
        drafts = [
            Draft(self.day, GaugeReading(tract_id, rain_mm), replaced.get(tract_id))
            for tract_id, rain_mm in self.gauges.items()
        ]
        for station_id, seen in self.stations.items():
            reading = seen.reading(station_id)
            if reading is not None:
                drafts.append(Draft(self.day, reading, replaced.get(station_id)))
            drafts += [Draft(self.day, what) for what in seen.records(station_id)]
        return drafts
