"""The fields of each kind of entry, as they are written and read when one is corrected."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from store.errors import BadValue
from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Fact,
    Note,
    PromptAnswer,
    RampCheck,
    Reading,
    Sighting,
    SiteCheck,
)
from store.typed import amount_typed, as_typed, number_from
from store.units import Quantity, Units
from store.vocabulary import Action, ChoreKind, LevelMark, Response, Strength, UseSeen, WhenRead

NOT_NOTED = "not noted"
IN_PLACE, MISSING = "in place", "missing"


@dataclass(frozen=True)
class CorrectionField:
    """One thing an entry says; `read` gives the fields of the fact that a text stands for.

    `read` raises BadValue with what is wrong. Where there are `choices` the text is one of
    them.
    """

    key: str
    label: str
    text: Callable[[Any, Units], str]
    read: Callable[[str, Units], Mapping[str, Any]]
    choices: tuple[str, ...] = ()
    hint: str = ""


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


def _volume_text(fact: Any, units: Units) -> str:
    if fact.volume_l is None:
        return ""
    return f"{as_typed(units.volume(fact.volume_l))} {units.volume_name}"


def _volume(text: str, units: Units) -> Mapping[str, Any]:
    if not text:
        return {"volume_l": None}
    volume_l = amount_typed(text, Quantity.VOLUME, units)
    if volume_l <= 0.0:
        raise BadValue("It must be more than 0; leave it empty, or withdraw the entry")
    return {"volume_l": volume_l}


VOLUME = CorrectionField("volume", "Water", _volume_text, _volume, hint="empty: not measured")
FILLED = CorrectionField("volume", "Water brought", _volume_text, _volume, hint="empty: to the rim")
_WITH_VOLUME = frozenset({Action.BAILED, Action.DRAINED, Action.REFILLED})


def _written(key: str, label: str, *, needed: bool = False) -> CorrectionField:
    """A text as the person wrote it."""

    def read(text: str, _units: Units) -> Mapping[str, Any]:
        if needed and not text:
            raise BadValue("It cannot be empty; withdraw the entry instead")
        return {key: text}

    return CorrectionField(key, label, lambda fact, _units: str(getattr(fact, key)), read)


NOTE = _written("note", "Note")
TEXT = _written("text", "Note", needed=True)


def _one_of(key: str, label: str, kind: type[StrEnum], *, optional: bool) -> CorrectionField:
    """A word of a kind; `not noted` among them where it may be left out."""
    words = tuple(one.value for one in kind)

    def text(fact: Any, _units: Units) -> str:
        value = getattr(fact, key)
        return NOT_NOTED if value is None else str(value)

    def read(text: str, _units: Units) -> Mapping[str, Any]:
        return {key: None if text == NOT_NOTED else kind(text)}

    return CorrectionField(
        key, label, text, read, (*words, NOT_NOTED) if optional else words, "left and right"
    )


def _per_day(text: str, _units: Units) -> Mapping[str, Any]:
    counted = number_from(text) if text else None
    if counted is not None and counted < 0.0:
        raise BadValue("It cannot be less than 0")
    return {"camera_per_day": counted}


CAMERA = CorrectionField(
    "camera", "Animals a day",
    lambda fact, _units: "" if fact.camera_per_day is None else as_typed(fact.camera_per_day),
    _per_day, hint="on the camera; empty: not counted",
)  # fmt: skip


def _visits(text: str, _units: Units) -> Mapping[str, Any]:
    visits = number_from(text)
    if visits < 1.0 or not visits.is_integer():
        raise BadValue("It must be a whole number from 1 on")
    return {"visits": int(visits)}


VISITS = CorrectionField("visits", "Bear visits", lambda fact, _units: str(fact.visits), _visits)
RAMP = CorrectionField(
    "ramp", "Escape ramp",
    lambda fact, _units: IN_PLACE if fact.in_place else MISSING,
    lambda text, _units: {"in_place": text == IN_PLACE},
    (IN_PLACE, MISSING), "left and right",
)  # fmt: skip
WHEN = CorrectionField(
    "when", "Read",
    lambda fact, _units: fact.when.value,
    lambda text, _units: {"after_work": text == WhenRead.AFTER_WORK},
    tuple(WhenRead), "left and right",
)  # fmt: skip
SIGNS = (
    _one_of("smell", "Smell", Strength, optional=True),
    _one_of("colour", "Colour", Strength, optional=True),
    _one_of("response", "Animals", Response, optional=True),
)


def fields_of(fact: Fact) -> tuple[CorrectionField, ...]:
    """What can be corrected of a fact besides its day."""
    match fact:
        case Reading():
            return (LEVEL, WHEN)
        case Sighting():
            return (_one_of("use", "Sign of deer", UseSeen, optional=True), CAMERA)
        case RampCheck():
            return (RAMP,)
        case Chore(chore=ChoreKind.FILL):
            return (FILLED, NOTE)
        case Contamination(action=action) | ContaminationAction(action=action):
            return (VOLUME, NOTE) if action in _WITH_VOLUME or fact.volume_l else (NOTE,)
        case Chore() | SiteCheck() | PromptAnswer():
            return (NOTE,)
        case ContaminationSign():
            return SIGNS
        case BearVisit():
            return (VISITS,)
        case Note():
            return (TEXT,)
        case _:
            return ()
