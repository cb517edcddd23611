"""An entry of the log as texts to be corrected, and what they say then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from store.errors import BadValue
from store.logbook.checks import EARLIEST
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Entry,
    Fact,
    GaugeReading,
    Photo,
    PromptAnswer,
    RampCheck,
    Sighting,
    SiteCheck,
    StationFacts,
)
from store.typed import day_typed
from store.units import Units
from store.views.correction_field import NOT_NOTED, CorrectionField
from store.views.correction_fields import fields_of
from store.vocabulary import ChoreKind, Decision

DAY = "day"
"""The key of the day an entry is about."""
NOTHING_LEFT = "Nothing would be left of the entry; withdraw it instead."


@dataclass(frozen=True)
class CorrectionText:
    """One thing an entry says, as a text in the shown units.

    Where there are `choices` the text is one of them.
    """

    key: str
    label: str
    text: str
    choices: tuple[str, ...] = ()
    hint: str = ""


@dataclass(frozen=True)
class Correction:
    """What corrected texts say: a draft, None where nothing is changed or some are wrong.

    `problems` has a sentence for each field that is wrong; `asked` are the keys of those that
    go with what the others say.
    """

    draft: Draft | None
    problems: Mapping[str, str]
    asked: frozenset[str]


def correction_texts(
    entry: Entry, units: Units, capacity_l: float | None = None
) -> tuple[CorrectionText, ...]:
    """What can be corrected of an entry; nothing of some kinds, `kept_as_it_is` says why."""
    if isinstance(entry.fact, StationFacts):
        return ()
    day = CorrectionText(DAY, "Day", entry.day.isoformat(), hint="as oct 14 or 2026-05-09")
    own = (
        CorrectionText(
            field.key, field.label, field.text(entry.fact, units), field.choices, field.hint
        )
        for field in fields_of(entry, capacity_l)
    )
    return (day, *own)


def corrected(
    entry: Entry,
    texts: Mapping[str, str],
    units: Units,
    today: date,
    capacity_l: float | None = None,
) -> Correction:
    """Read corrected texts by their key; a text left as it was changes nothing.

    `capacity_l` is what the tank holds, where that is known.
    """
    before = {one.key: one.text for one in correction_texts(entry, units, capacity_l)}
    typed = {key: texts[key].strip() for key in before}
    problems: dict[str, str] = {}
    day, changes = entry.day, dict[str, Any]()
    if typed[DAY] != before[DAY]:
        try:
            day = _day(typed[DAY], today)
        except BadValue as error:
            problems[DAY] = _sentence(error)
    fields = fields_of(entry, capacity_l)
    for field in fields:
        if typed[field.key] != before[field.key]:
            try:
                changes |= field.read(typed[field.key], units)
            except BadValue as error:
                problems[field.key] = _sentence(error)
    fact = replace(entry.fact, **changes)
    for field in fields:
        if field.hangs_on in changes and not field.belongs(fact):
            fact = replace(fact, **field.without)
    asked = {
        DAY,
        *(one.key for one in fields if one.belongs(fact) or _says(one, fact, units)),
    }
    problems = {key: said for key, said in problems.items() if key in asked} or _at_odds(fact)
    changed = (day, fact) != (entry.day, entry.fact)
    draft = Draft(day, fact, revises=entry.entry_id) if changed and not problems else None
    return Correction(draft, problems, frozenset(asked))


def _says(field: CorrectionField, fact: Fact, units: Units) -> bool:
    return field.text(fact, units) not in ("", NOT_NOTED)


def _sentence(error: BadValue) -> str:
    return f"{str(error).removesuffix('.')}."


def _day(text: str, today: date) -> date:
    day = day_typed(text, today)
    if day > today:
        raise BadValue(f"{day} is still to come; correct the date")
    if day < EARLIEST:
        raise BadValue(f"{day} is before {EARLIEST}; correct the date")
    return day


def _at_odds(fact: Fact) -> dict[str, str]:
    """What is wrong where an entry would say nothing any more, or half of what it must."""
    match fact:
        case Sighting(use=None, camera_per_day=None):
            return {"use": NOTHING_LEFT}
        case ContaminationSign(smell=None, colour=None, response=None):
            return {"smell": NOTHING_LEFT}
        case PromptAnswer(decision=Decision.PUT_OFF, until=None):
            return {"until": "Type the day it is put off to."}
        case _:
            return {}


def kept_as_it_is(entry: Entry) -> str:
    """What of an entry cannot be corrected in place, why, and what to do; empty for none."""
    match entry.fact:
        case StationFacts():
            return (
                "A station's facts hang together, so they are changed on the screen of its "
                "facts, all at once."
            )
        case Contamination() | ContaminationAction():
            return "What was done later stays with the event; its dates are worked out anew."
        case Chore(chore=ChoreKind.INSTALL | ChoreKind.RETIRE):
            return "It stays an install or a retirement: withdraw it if it was neither."
        case (
            RampCheck() | Sighting() | ContaminationSign() | Chore() | SiteCheck() | GaugeReading()
        ):
            return ""
        case Photo():
            return (
                "The file stays: a picture is known by what is in it. If it is the wrong one, "
                "withdraw the entry and enter the other."
            )
        case PromptAnswer():
            return "What it was about stays: withdraw the entry and decide anew among work due."
        case _:
            return "What kind of entry it is stays: withdraw it and enter the other kind instead."
