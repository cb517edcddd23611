"""The pages of the demo's story: what its keeper saved in one go on an evening.

A page is written with the records of `store.records`, but where somebody read a
level it says `Level`: the number comes from the tank as it truly stood that day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from hashlib import sha256

from store.demo.stations import EVENT_STATION, event_id, station_id
from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Fact,
    Note,
    Photo,
    PromptAnswer,
    RampCheck,
    Sighting,
    SiteCheck,
)
from store.units import litres_from_gallons
from store.vocabulary import (
    Action,
    AnimalClass,
    AnimalSize,
    Cause,
    ChoreKind,
    Decision,
    PromptKind,
    Response,
    Strength,
    UseSeen,
)


@dataclass(frozen=True)
class Level:
    """A level read with a tape, or judged by eye.

    `odd_in` inches are added below the rim: by a slip of the pen, or because
    something happened that no entry tells of.
    """

    station_id: str
    by_eye: bool = False
    odd_in: float = 0.0


@dataclass(frozen=True)
class Line:
    """One entry: about the page's day unless it names another.

    With `corrects` it replaces the entry of its kind about that day and station.
    """

    fact: Fact | Level
    day: date | None = None
    corrects: bool = False


@dataclass(frozen=True)
class Page:
    """Lines saved together under a title; `undone` pages were taken back at once."""

    on: date
    title: str
    lines: tuple[Line, ...]
    undone: bool = False


@dataclass(frozen=True)
class WeatherPage:
    """A weather file brought in on a day."""

    on: date
    source: str
    first: date
    last: date


@dataclass(frozen=True)
class GaugePage:
    """The days of a hand-kept rain gauge, entered together."""

    on: date
    first: date
    last: date


AnyPage = Page | WeatherPage | GaugePage


def look(
    name: str,
    *more: Fact,
    by_eye: bool = False,
    odd_in: float = 0.0,
    ramp: bool | None = True,
    use: UseSeen | None = None,
    camera: float | None = None,
) -> tuple[Line, ...]:
    """A check-in: the level, the ramp (None: not looked at), sign of use, and more."""
    station = station_id(name)
    found: list[Fact | Level] = [Level(station, by_eye, odd_in)]
    if ramp is not None:
        found.append(RampCheck(station, ramp))
    if use is not None or camera is not None:
        found.append(Sighting(station, use, camera))
    return tuple(Line(what) for what in (*found, *more))


def check_in(on: date, *looks: tuple[Line, ...]) -> tuple[Page, ...]:
    """One page for each station looked at on a day."""
    return tuple(Page(on, f"Check-in on {on}", lines) for lines in looks)


def chore(name: str, kind: ChoreKind, gallons: float | None = None, note: str = "") -> Chore:
    return Chore(station_id(name), kind, _litres(gallons), note)


def rake(name: str) -> Chore:
    return chore(name, ChoreKind.RAKE)


def fill(name: str, gallons: float | None = None, note: str = "") -> Chore:
    return chore(name, ChoreKind.FILL, gallons, note)


def note(name: str, text: str) -> Note:
    return Note(station_id(name), text)


def found(
    event: str,
    cause: Cause,
    action: Action,
    text: str,
    *,
    animal: AnimalClass | None = None,
    size: AnimalSize | None = None,
    days_dead: float | None = None,
) -> Contamination:
    return Contamination(
        event_id(event),
        EVENT_STATION[event],
        cause,
        action,
        note=text,
        animal=animal,
        animal_size=size,
        days_dead=days_dead,
    )


def answer(
    name: str, asked: PromptKind, since: date, text: str, until: date | None = None
) -> PromptAnswer:
    """What the keeper said to a prompt: put off to a day, or declined."""
    decision = Decision.DECLINED if until is None else Decision.PUT_OFF
    return PromptAnswer(station_id(name), asked, since, decision, until, text)


def site(name: str, note: str = "", **points: bool) -> SiteCheck:
    return SiteCheck(station_id(name), **points, note=note)


def done(
    event: str, action: Action, gallons: float | None = None, text: str = ""
) -> ContaminationAction:
    return ContaminationAction(
        event_id(event), EVENT_STATION[event], action, _litres(gallons), text
    )


def sign(
    event: str,
    *,
    smell: Strength | None = None,
    colour: Strength | None = None,
    response: Response | None = None,
) -> ContaminationSign:
    return ContaminationSign(event_id(event), EVENT_STATION[event], smell, colour, response)


def bears(name: str, visits: int = 1) -> BearVisit:
    return BearVisit(station_id(name), visits)


def photo(name: str, path: str, event: str | None = None) -> Photo:
    """A picture that only the story tells of; its checksum is made from its path."""
    checksum = sha256(path.encode()).hexdigest()
    return Photo(station_id(name), path, checksum, None if event is None else event_id(event))


def _litres(gallons: float | None) -> float | None:
    return None if gallons is None else round(litres_from_gallons(gallons), 1)


Key = tuple[date, str, str, str]


def key_of(day: date, fact: Fact | Level) -> Key:
    """What tells an entry from the others of its day, so that a later page can correct it."""
    detail = getattr(fact, "chore", None) or getattr(fact, "action", None) or ""
    kind = "Reading" if isinstance(fact, Level) else type(fact).__name__
    return day, kind, getattr(fact, "station_id", ""), str(detail)
