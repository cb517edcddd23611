"""The log of a station, or of a tract's rain gauge, in plain words, one line an entry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from store.model.snapshot import Snapshot
from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Entry,
    GaugeReading,
    Note,
    Photo,
    PromptAnswer,
    RampCheck,
    Reading,
    Sighting,
    SiteCheck,
    StationFacts,
    Withdrawal,
)
from store.season.prompt import WORK, days_of, plain_date
from store.season.site import SITE_POINTS
from store.vocabulary import Action, ChoreKind


class LineKind(StrEnum):
    FACTS = "facts"
    READING = "reading"
    SIGHTING = "sighting"
    RAMP = "ramp"
    CHORE = "chore"
    EVENT = "event"
    ACTION = "action"
    SIGN = "sign"
    """What smell, colour or animals told about a contamination event."""
    BEARS = "bears"
    PHOTO = "photo"
    NOTE = "note"
    SITE = "site"
    """What was found when the site was looked at."""
    GAUGE = "gauge"
    """Rain of a day in the tract's gauge."""
    ANSWER = "answer"
    """What a person said to a prompt."""
    WITHDRAWN = "withdrawn"
    """A withdrawal, which no log shows: it stands among what an entry said before."""


@dataclass(frozen=True)
class LogLine:
    """One live entry; `what` says it without the amounts and the person's own note.

    `below_rim_mm` is the level of a measured reading, `volume_l` the water brought or
    taken, `rain_mm` that of a gauge; None where the entry has none. `event_id` names a
    contamination event.
    """

    entry: Entry
    kind: LineKind
    what: str
    below_rim_mm: float | None = None
    volume_l: float | None = None
    note: str = ""
    chore: ChoreKind | None = None
    action: Action | None = None
    event_id: str | None = None
    rain_mm: float | None = None

    @property
    def on(self) -> date:
        return self.entry.day


_CHORE_WORDS = {
    ChoreKind.INSTALL: "Tank installed",
    ChoreKind.RAKE: "Apron raked",
    ChoreKind.FILL: "Tank filled",
    ChoreKind.DRAIN: "Tank drained",
    ChoreKind.COVER: "Cover put on",
    ChoreKind.UNCOVER: "Cover taken off",
    ChoreKind.RETIRE: "Tank retired",
}
_ACTION_WORDS = {Action.LEFT: "left as it was", Action.SEEN_CLEAR: "seen clear and used again"}


def log_lines(snapshot: Snapshot, owner_id: str) -> tuple[LogLine, ...]:
    """The live entries of a station, or of a tract's gauge, up to today, newest first."""
    entries = snapshot.entries_about(owner_id)
    return lines_of(tuple(reversed(entries)), entries)


def lines_of(said: Iterable[Entry], log: Iterable[Entry]) -> tuple[LogLine, ...]:
    """Some entries of a station in words, in their order; `log` has the events they name."""
    events = {entry.fact.event_id: entry for entry in log if isinstance(entry.fact, Contamination)}
    lines = (_line(entry, events) for entry in said)
    return tuple(line for line in lines if line is not None)


def _line(entry: Entry, events: dict[str, Entry]) -> LogLine | None:
    match entry.fact:
        case StationFacts():
            return LogLine(entry, LineKind.FACTS, _facts_words(entry))
        case Reading(below_rim_mm=below_rim_mm, mark=mark) as reading:
            what = "Level read" if mark is None else f"Level by eye: {mark}"
            when = f" {reading.when}" if reading.after_work else ""
            return LogLine(entry, LineKind.READING, what + when, below_rim_mm)
        case Sighting() as sighting:
            return LogLine(entry, LineKind.SIGHTING, _sighting_words(sighting))
        case RampCheck(in_place=in_place):
            state = "in place" if in_place else "MISSING"
            return LogLine(entry, LineKind.RAMP, f"Escape ramp {state}")
        case Chore(chore=chore, volume_l=volume_l, note=note):
            to_rim = " to the rim" if chore is ChoreKind.FILL and volume_l is None else ""
            what = _CHORE_WORDS[chore] + to_rim
            return LogLine(entry, LineKind.CHORE, what, volume_l=volume_l, note=note, chore=chore)
        case Contamination() as event:
            what = f"Fouled: {event.cause}{_carcass_words(event)}; {_action_words(event.action)}"
            return _event_line(entry, event, LineKind.EVENT, what)
        case ContaminationAction() as taken:
            what = _action_words(taken.action)
            what = f"{what[0].upper()}{what[1:]}{_about(events.get(taken.event_id))}"
            return _event_line(entry, taken, LineKind.ACTION, what)
        case ContaminationSign(event_id=event_id) as sign:
            what = f"{_sign_words(sign)}{_about(events.get(event_id))}"
            return LogLine(entry, LineKind.SIGN, what, event_id=event_id)
        case BearVisit(visits=visits):
            return LogLine(entry, LineKind.BEARS, f"Bear visits: {visits}")
        case Photo(path=path, event_id=event_id):
            return LogLine(entry, LineKind.PHOTO, "Photo", note=path, event_id=event_id)
        case PromptAnswer() as answer:
            what = f"{WORK[answer.prompt]}: {_answer_words(answer)}"
            return LogLine(entry, LineKind.ANSWER, what, note=answer.note)
        case SiteCheck(note=note) as check:
            return LogLine(entry, LineKind.SITE, _site_words(check), note=note)
        case GaugeReading(rain_mm=rain_mm):
            return LogLine(entry, LineKind.GAUGE, "Rain gauge read", rain_mm=rain_mm)
        case Note(text=text):
            return LogLine(entry, LineKind.NOTE, "Note", note=text)
        case Withdrawal(reason=reason):
            return LogLine(entry, LineKind.WITHDRAWN, "Withdrawn", note=reason)
        case _:
            return None


def _event_line(
    entry: Entry, said: Contamination | ContaminationAction, kind: LineKind, what: str
) -> LogLine:
    return LogLine(
        entry,
        kind,
        what,
        volume_l=said.volume_l,
        note=said.note,
        action=said.action,
        event_id=said.event_id,
    )


def _facts_words(entry: Entry) -> str:
    return "Station's facts entered" if entry.revises is None else "Station's facts changed"


def _carcass_words(event: Contamination) -> str:
    """What is known of the animal, in brackets; empty where nothing is."""
    animal = " ".join(word for word in (event.animal_size, event.animal) if word is not None)
    dead = "" if event.days_dead is None else f"dead {days_of(event.days_dead)}"
    known = ", ".join(filter(None, (animal, dead)))
    return f" ({known})" if known else ""


def _sighting_words(sighting: Sighting) -> str:
    seen = [] if sighting.use is None else [f"Sign of deer: {sighting.use}"]
    if sighting.camera_per_day is not None:
        seen.append(f"Camera: {sighting.camera_per_day:g} animals a day")
    return "; ".join(seen) or "Looked for sign of deer"


def _sign_words(sign: ContaminationSign) -> str:
    seen = [("smell", sign.smell), ("colour", sign.colour), ("animals", sign.response)]
    words = ", ".join(f"{name} {value}" for name, value in seen if value is not None)
    return f"Looked at the water: {words}" if words else "Looked at the water"


def _site_words(check: SiteCheck) -> str:
    weak = [point.question for point in SITE_POINTS if getattr(check, point.name) is False]
    left = sum(getattr(check, point.name) is None for point in SITE_POINTS)
    not_looked = f"; {left} not looked at" if left else ""
    found = f"weak: {'; '.join(weak)}" if weak else "no weak point"
    return f"Site looked at{not_looked}; {found}"


def _answer_words(answer: PromptAnswer) -> str:
    if answer.until is None:
        return answer.decision.value
    return f"{answer.decision} to {plain_date(answer.until)}"


def _action_words(action: Action) -> str:
    return _ACTION_WORDS.get(action, action.value)


def _about(found: Entry | None) -> str:
    if found is None or not isinstance(found.fact, Contamination):
        return ""
    return f" ({found.fact.cause} of {plain_date(found.day)})"


def withdrawal_drafts(
    lines: Iterable[LogLine], withdrawn: LogLine, reason: str
) -> tuple[Draft, ...]:
    """What takes back one line; with a contamination event go the actions and signs of it."""
    with_it = [
        line
        for line in lines
        if withdrawn.kind is LineKind.EVENT
        and line.kind in (LineKind.ACTION, LineKind.SIGN)
        and line.event_id == withdrawn.event_id
    ]
    return tuple(
        Draft(line.on, Withdrawal(reason), revises=line.entry.entry_id)
        for line in (*with_it, withdrawn)
    )
