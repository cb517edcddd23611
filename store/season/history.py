"""What a station's log says happened there, boiled down for the calendar.

Built from live entries alone. A station counts as installed from its first
install chore; a log without one counts as installed from its first reading,
sighting, ramp check, chore or contamination, because the tank must have stood.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from store.contamination.events import EventAction, EventHistory
from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Entry,
    Fact,
    PromptAnswer,
    RampCheck,
    Reading,
    Sighting,
    StationFacts,
    TractFacts,
)
from store.season.bears import BearSeen, bear_season
from store.season.cover import Cover, covers
from store.season.event_log import events_of
from store.season.month_day import Span
from store.service import Service, services
from store.vocabulary import Action, ChoreKind, UseSeen

Kind = TypeVar("Kind", bound=Fact)

_AT_STATION = (
    Reading,
    Sighting,
    RampCheck,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    BearVisit,
)


@dataclass(frozen=True)
class FillDone:
    """Water brought; `volume_l` None means to the rim.

    `event_id` names the contamination event it was a refill of, if it was one.
    """

    on: date
    volume_l: float | None
    event_id: str | None = None


@dataclass(frozen=True)
class ReadingSeen:
    on: date
    reading: Reading


@dataclass(frozen=True)
class RampSeen:
    on: date
    in_place: bool


@dataclass(frozen=True)
class UseSighting:
    on: date
    use: UseSeen | None
    camera_per_day: float | None


@dataclass(frozen=True)
class StationHistory:
    """A station's log up to a day; all lists run oldest first.

    `known_since` is the date of the station's own facts. `looks` are the days
    somebody was there; a camera's count or bears alone are no look, for they may have
    been read from afar. `fills` holds fill chores and the refills of contamination
    events. `bear_season` is that of the tract, where the station lies in bear country.
    """

    facts: StationFacts
    known_since: date | None = None
    installed: date | None = None
    install_logged: bool = False
    retired: date | None = None
    looks: tuple[date, ...] = ()
    rakes: tuple[date, ...] = ()
    fills: tuple[FillDone, ...] = ()
    drains: tuple[date, ...] = ()
    covers: tuple[Cover, ...] = ()
    uncoverings: tuple[date, ...] = ()
    ramp_checks: tuple[RampSeen, ...] = ()
    last_reading: ReadingSeen | None = None
    uses: tuple[UseSighting, ...] = ()
    events: tuple[EventHistory, ...] = ()
    bear_visits: tuple[BearSeen, ...] = ()
    bear_season: Span | None = None
    answers: tuple[tuple[date, PromptAnswer], ...] = ()
    """What people said to prompts, with the day they said it."""

    @property
    def service(self) -> Service:
        """The days its tank stood in the ground, by what is logged."""
        return Service(self.installed if self.install_logged else None, self.retired)

    def stood_on(self, day: date) -> bool:
        """Whether there was a tank that day, as far as the log can say."""
        return self.installed is not None and day in self.service

    @property
    def covered_since(self) -> date | None:
        """The day the cover was put on; None while the tank stands open."""
        return self.covers[-1].on if self.covers and self.covers[-1].off is None else None

    @property
    def last_look(self) -> date | None:
        return self.looks[-1] if self.looks else None

    @property
    def last_rake(self) -> date | None:
        return self.rakes[-1] if self.rakes else None

    @property
    def last_ramp_check(self) -> RampSeen | None:
        return self.ramp_checks[-1] if self.ramp_checks else None

    @property
    def open_events(self) -> tuple[EventHistory, ...]:
        return tuple(event for event in self.events if event.is_open)

    def with_chores(self, event: EventHistory) -> EventHistory:
        """The event with the drains and fills since it was found, logged apart from it.

        Of one day's chores the drain is taken to come first.
        """
        drains = (EventAction(on, Action.DRAINED) for on in self.drains if on >= event.found)
        fills = (
            EventAction(fill.on, Action.REFILLED, fill.volume_l)
            for fill in self.fills
            if fill.on >= event.found and fill.event_id != event.event_id
        )
        return event.with_actions(*drains, *fills)


def station_history(
    facts: StationFacts,
    entries: Iterable[Entry],
    today: date,
    tract: TractFacts | None = None,
) -> StationHistory:
    """The history of one station from live entries about days up to `today`.

    Entries about other stations or later days are left out, and so is an action
    whose contamination event is not among them.

    Raises:
        BadValue: the bear season of the tract is no stretch of a year.
    """
    own = sorted(
        (
            entry
            for entry in entries
            if entry.day <= today and getattr(entry.fact, "station_id", None) == facts.station_id
        ),
        key=lambda entry: (entry.day, entry.entry_id),
    )
    log = [entry for entry in own if isinstance(entry.fact, _AT_STATION)]
    service = services(log).get(facts.station_id, Service())
    readings = [ReadingSeen(day, reading) for day, reading in _facts_of(log, Reading)]
    return StationHistory(
        facts=facts,
        known_since=min((day for day, _ in _facts_of(own, StationFacts)), default=None),
        installed=service.installed or min((entry.day for entry in log), default=None),
        install_logged=service.installed is not None,
        retired=service.retired,
        looks=tuple(sorted({entry.day for entry in log if _is_look(entry)})),
        rakes=_chore_days(log, ChoreKind.RAKE),
        fills=_fills(log),
        drains=_chore_days(log, ChoreKind.DRAIN),
        covers=covers(log),
        uncoverings=_chore_days(log, ChoreKind.UNCOVER),
        ramp_checks=tuple(RampSeen(day, seen.in_place) for day, seen in _facts_of(log, RampCheck)),
        last_reading=readings[-1] if readings else None,
        uses=tuple(
            UseSighting(day, seen.use, seen.camera_per_day)
            for day, seen in _facts_of(log, Sighting)
        ),
        events=events_of(log),
        bear_visits=tuple(BearSeen(day, seen.visits) for day, seen in _facts_of(log, BearVisit)),
        bear_season=bear_season(tract) if tract is not None and facts.bear_country else None,
        answers=tuple(_facts_of(own, PromptAnswer)),
    )


def _facts_of(log: Sequence[Entry], kind: type[Kind]) -> Iterator[tuple[date, Kind]]:
    """The facts of one kind with their days, oldest first."""
    return ((entry.day, entry.fact) for entry in log if isinstance(entry.fact, kind))


def _chore_days(log: Sequence[Entry], kind: ChoreKind) -> tuple[date, ...]:
    return tuple(day for day, chore in _facts_of(log, Chore) if chore.chore is kind)


def _is_look(entry: Entry) -> bool:
    if isinstance(entry.fact, Sighting):
        return entry.fact.use is not None
    return not isinstance(entry.fact, BearVisit)


def _fills(log: Sequence[Entry]) -> tuple[FillDone, ...]:
    fills = []
    for entry in log:
        match entry.fact:
            case Chore(chore=ChoreKind.FILL, volume_l=volume_l):
                fills.append(FillDone(entry.day, volume_l))
            case (
                Contamination(action=Action.REFILLED)
                | ContaminationAction(action=Action.REFILLED) as refill
            ):
                fills.append(FillDone(entry.day, refill.volume_l, refill.event_id))
    return tuple(fills)
