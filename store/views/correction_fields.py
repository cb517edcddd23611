"""What can be corrected of each kind of entry."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from store.contamination.events import CARCASS_CAUSES
from store.errors import BadValue
from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Entry,
    GaugeReading,
    Note,
    PromptAnswer,
    RampCheck,
    Reading,
    Sighting,
    SiteCheck,
)
from store.season.site import SITE_POINTS
from store.typed import amount_typed, as_typed, day_typed
from store.units import Quantity, Units
from store.views.answering import within_a_year
from store.views.check_in import checked_rain_mm
from store.views.correction_field import (
    CorrectionField,
    count,
    one_of,
    volume,
    volume_text,
    written,
    yes_or_no,
)
from store.views.install_water import WATER_HINT, install_water_l
from store.vocabulary import (
    Action,
    AnimalClass,
    AnimalSize,
    Cause,
    ChoreKind,
    Decision,
    LevelMark,
    Response,
    Strength,
    UseSeen,
    WhenRead,
)


def _level_text(fact: Reading, units: Units) -> str:
    if fact.mark is not None:
        return fact.mark.value
    return f"{as_typed(units.depth(fact.below_rim_mm or 0.0))} {units.depth_name}"


def _level(text: str, units: Units) -> Mapping[str, Any]:
    wanted = text.casefold()
    if wanted in {mark.value for mark in LevelMark}:
        return {"below_rim_mm": None, "mark": LevelMark(wanted)}
    below_rim_mm = amount_typed(text, Quantity.DEPTH, units)
    if below_rim_mm < 0.0:
        raise BadValue("A level is measured down from the rim and cannot be above it")
    return {"below_rim_mm": below_rim_mm, "mark": None}


LEVEL = CorrectionField(
    "level", "Level below the rim", _level_text, _level,
    hint=f"a depth, or {', '.join(mark.value for mark in LevelMark)}",
)  # fmt: skip
WHEN = CorrectionField(
    "when", "Read",
    lambda fact, _units: fact.when.value,
    lambda text, _units: {"after_work": text == WhenRead.AFTER_WORK},
    tuple(WhenRead), "left and right",
)  # fmt: skip
RAIN = CorrectionField(
    "rain", "Rain of the day",
    lambda fact, units: f"{as_typed(units.rain(fact.rain_mm))} {units.rain_name}",
    lambda text, units: {
        "rain_mm": checked_rain_mm(amount_typed(text, Quantity.RAIN, units), units)
    },
    hint="comes before the weather file",
)  # fmt: skip
NOTE = written("note", "Note")
TEXT = written("text", "Note", needed=True)
CAMERA = replace(
    count("camera_per_day", "Animals a day", "on the camera; empty: not counted"), key="camera"
)
VISITS = count("visits", "Bear visits", "on that day", whole=True)
RAMP = replace(
    yes_or_no("in_place", "Escape ramp", {"in place": True, "missing": False}), key="ramp"
)
USE = one_of("use", "Sign of deer", tuple(UseSeen), optional=True)
SIGNS = (
    one_of("smell", "Smell", tuple(Strength), optional=True),
    one_of("colour", "Colour", tuple(Strength), optional=True),
    one_of("response", "Animals", tuple(Response), optional=True),
)
SITE = tuple(
    yes_or_no(
        point.name,
        point.name.capitalize(),
        {"yes": True, "no": False, "not looked at": None},
        point.question,
    )
    for point in SITE_POINTS
)

_SEASONAL = (
    ChoreKind.RAKE,
    ChoreKind.FILL,
    ChoreKind.DRAIN,
    ChoreKind.COVER,
    ChoreKind.UNCOVER,
)
"""Work that may be mistaken for one another; an install or a retirement bounds the log."""
WORK = one_of("chore", "Work", _SEASONAL)
FILLED = replace(
    volume("Water brought", "empty: to the rim"),
    belongs=lambda fact: fact.chore is ChoreKind.FILL,
    hangs_on="chore",
    without={"volume_l": None},
)

_WITH_VOLUME = frozenset({Action.BAILED, Action.DRAINED, Action.REFILLED})
WATER = replace(
    volume("Water", "empty: not measured"),
    belongs=lambda fact: fact.action in _WITH_VOLUME,
    hangs_on="action",
    without={"volume_l": None},
)


def _is_carcass(fact: Contamination) -> bool:
    return fact.cause in CARCASS_CAUSES


CARCASS = tuple(
    replace(field, belongs=_is_carcass, hangs_on="cause", without={field.key: None})
    for field in (
        one_of("animal", "Animal", tuple(AnimalClass), optional=True),
        one_of("animal_size", "Its size", tuple(AnimalSize), optional=True),
        count("days_dead", "Days dead", "empty: not known"),
    )
)


def _done(now: Action, never: Action) -> CorrectionField:
    """What was done, but for what cannot be said there unless the entry says it already."""
    return one_of("action", "Done", tuple(one for one in Action if one is now or one is not never))


def _installed_with(capacity_l: float | None) -> CorrectionField:
    return CorrectionField(
        "volume",
        "Water in it",
        volume_text,
        lambda text, units: {"volume_l": install_water_l(text, units, capacity_l)},
        hint=WATER_HINT,
    )


def _put_off_to(said_on: date) -> CorrectionField:
    """The day work was put off to, as seen from the day that was said."""

    def read(text: str, _units: Units) -> Mapping[str, Any]:
        return {"until": within_a_year(day_typed(text, said_on, ahead=True), said_on)}

    return CorrectionField(
        "until",
        "Put off to",
        lambda fact, _units: "" if fact.until is None else fact.until.isoformat(),
        read,
        hint="as oct 14 or 2026-05-09",
        belongs=lambda fact: fact.decision is Decision.PUT_OFF,
        hangs_on="decision",
        without={"until": None},
    )


def fields_of(entry: Entry, capacity_l: float | None) -> tuple[CorrectionField, ...]:
    """What can be corrected of an entry besides its day; its tank holds `capacity_l`."""
    match entry.fact:
        case Reading():
            return (LEVEL, WHEN)
        case Sighting():
            return (USE, CAMERA)
        case RampCheck():
            return (RAMP,)
        case Chore(chore=ChoreKind.INSTALL):
            return (_installed_with(capacity_l), NOTE)
        case Chore(chore=ChoreKind.RETIRE):
            return (NOTE,)
        case Chore():
            return (WORK, FILLED, NOTE)
        case Contamination(action=action):
            cause = one_of("cause", "Cause", tuple(Cause))
            return (cause, *CARCASS, _done(action, Action.SEEN_CLEAR), WATER, NOTE)
        case ContaminationAction(action=action):
            return (_done(action, Action.LEFT), WATER, NOTE)
        case ContaminationSign():
            return SIGNS
        case PromptAnswer():
            decided = one_of("decision", "Decided", tuple(Decision))
            return (decided, _put_off_to(entry.day), NOTE)
        case SiteCheck():
            return (*SITE, NOTE)
        case GaugeReading():
            return (RAIN,)
        case BearVisit():
            return (VISITS,)
        case Note():
            return (TEXT,)
        case _:
            return ()
