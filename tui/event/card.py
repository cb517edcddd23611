"""What the event screen shows: what is entered, when it would be over, the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from rich.text import Text

from store.contamination.choices import Way
from store.contamination.estimates import Choice
from store.model.board import Board
from store.model.recovery import EventRecovery
from store.records import StationFacts
from store.season.bears import BearPattern, BearSeen, bear_pattern
from store.season.cautions import (
    BEARS,
    BEARS_COMING,
    ESCAPE_RAMP,
    ICE,
    Caution,
    contamination_cautions,
    not_to_be_done,
)
from store.views.station_page import ice_today
from store.vocabulary import Access, Action, AnimalSize, Cause, Response, Strength
from tui import words
from tui.base.fouling_words import NOT_BAILED, basis_words, signs_words, times
from tui.event.entered import EventDraft
from tui.event.keys import ACTIONS, CAUSE_KEYS, CAUSES, key
from tui.key_table import key as key_for
from tui.widgets.cells import one_line
from tui.words import LOCAL_RULES, caution_text

CHOSEN, OPEN = "●", "◦"
CAUSE_WIDTHS = (18, 16, 19, 16)
DONE_WIDTHS = (23, 23, 23)
ANIMAL_WIDTHS = (26, 26, 18)
SIZE_WORDS = {
    AnimalSize.SMALL: "up to a squirrel",
    AnimalSize.MEDIUM: "up to a raccoon",
    AnimalSize.LARGE: "a deer",
}


@dataclass(frozen=True)
class Preview:
    """The recovery that was worked out, or `why` there is none to show."""

    found: EventRecovery | None = None
    why: str = ""


def head(board: Board, sheet: EventDraft, station: StationFacts, others: int) -> Text:
    """Station, day, and which event is meant; `others` is the number of open ones."""
    places = board.snapshot.places
    ago = words.days_ago((board.snapshot.today - sheet.day).days)
    other = key("other_event")
    if sheet.event is None:
        which = "new event" + (f"   {other}: the open event ({others})" if others else "")
    else:
        found = words.short_day(sheet.event.found, board.snapshot.today)
        which = f"open event: {sheet.event.cause.value}, found {found}   {other}: others"
    lines = [
        Text.assemble(
            "Station ",
            (one_line(places.label(station)), "bold"),
            f" ({places.tract_of(station).name}, {station.access.value})   "
            f"{key('station', -1)}/{key('station', 1)}: another",
        ),
        Text.assemble(
            "Found   " if sheet.event is None else "Done    ",
            (f"{words.full_day(sheet.day)} ({ago})", "bold"),
            f"   {key('shift', -1)} {key('shift', 1)} a day, {key('date')} types it",
        ),
        Text.assemble("Entry   ", (which, "bold")),
    ]
    return Text("\n").join(lines)


def choices(board: Board, sheet: EventDraft, station: StationFacts) -> Text:
    """Everything that can be said, with its keys; what is chosen has a filled mark."""
    done = [
        _choice(key_for(meaning), _amount(board, sheet, action, text), action in sheet.actions)
        for meaning, action, text in ACTIONS
        if action in sheet.offered and _hauls(station, sheet, action)
    ]
    lines = [*_causes(sheet)]
    if sheet.event is None and sheet.is_empty:
        lines.append(Text("Then     what was done, whether the ramp was there, a note", "dim"))
        return Text("\n").join(lines)
    if sheet.event is None and sheet.is_carcass:
        lines.append(_carcass(sheet))
    lines += _rows("Done", done, DONE_WIDTHS)
    if sheet.event is not None:
        lines.append(_signs(sheet))
    ramp = key("ramp") + {None: "", True: " in place", False: " MISSING"}[sheet.ramp]
    asked = "bold" if sheet.is_carcass and sheet.ramp is None else ""
    lines.append(
        Text.assemble(
            "Ramp    ",
            (_mark(sheet.ramp is not None) + ramp, "bold" if sheet.ramp is not None else ""),
            (f"   {_ramp_seen(board, sheet)}", asked),
        )
    )
    if station.bear_country or sheet.bears:
        lines.append(_bears(board, sheet))
    photo = f"{key('photo')} photo {one_line(Path(sheet.photo_path).name)}"
    note = f"{key('note')} {one_line(sheet.note)}"
    lines.append(
        Text(f"Note    {_mark(bool(sheet.note))}{note}   {_mark(bool(sheet.photo_path))}{photo}")
    )
    return Text("\n").join(lines)


def _causes(sheet: EventDraft) -> list[Text]:
    """Every cause, or the one that is chosen."""
    chosen = [_choice(letter, text, True) for letter, cause, text in CAUSES if cause is sheet.cause]
    if not chosen:
        every = [_choice(letter, text, False) for letter, _, text in CAUSES]
        return _rows("Cause", every, CAUSE_WIDTHS)
    another = "" if sheet.event is not None else f"   {CAUSE_KEYS.replace(' or ', ', ')}: another"
    return [Text.assemble("Cause   ", chosen[0], (another, "dim"))]


def _carcass(sheet: EventDraft) -> Text:
    """The questions about a carcass; an open one is reckoned with the usual case."""
    lain = "days dead"
    if sheet.days_dead is not None:
        lain = "1 day dead" if sheet.days_dead == 1.0 else f"{sheet.days_dead:g} days dead"
    animal = sheet.animal or "animal: press on"
    questions = [
        _choice(key("turn", "animal"), animal, sheet.animal is not None),
        _choice(key("turn", "size"), _size(sheet.size), sheet.size is not None),
        _choice(key("days_dead"), lain, sheet.days_dead is not None),
    ]
    return _rows("Animal", questions, ANIMAL_WIDTHS)[0]


def _size(size: AnimalSize | None) -> str:
    return "size: press on" if size is None else f"{size.value} ({SIZE_WORDS[size]})"


def _signs(sheet: EventDraft) -> Text:
    questions = [
        _choice(key("turn", "smell"), _judged("smell", sheet.smell), sheet.smell is not None),
        _choice(key("turn", "colour"), _judged("colour", sheet.colour), sheet.colour is not None),
        _choice(key("turn", "response"), _response(sheet.response), sheet.response is not None),
    ]
    return _rows("Signs", questions, DONE_WIDTHS)[0]


def _judged(what: str, strength: Strength | None) -> str:
    return what if strength is None else f"{what} {strength.value}"


def _response(response: Response | None) -> str:
    if response is None:
        return "animals"
    return "animals use it" if response is Response.USED else "animals avoid it"


def _bears(board: Board, sheet: EventDraft) -> Text:
    """Visits of the day, and the pattern they make with those in the log."""
    history = board.snapshot.histories[sheet.station_id]
    seen = list(history.bear_visits)
    if sheet.bears:
        seen.append(BearSeen(sheet.day, sheet.bears))
    pattern = bear_pattern(sorted(seen, key=lambda one: one.on))
    said = "no visit in the log"
    if pattern is not None:
        said = _pattern(pattern, board.snapshot.today)
    text = f"visits: {sheet.bears}" if sheet.bears else "visits"
    return Text.assemble("Bears   ", _choice(key("bears"), text, bool(sheet.bears)), f"   {said}")


def _hauls(station: StationFacts, sheet: EventDraft, action: Action) -> bool:
    """Whether an action is shown: refilling only where a vehicle gets, or if it is chosen."""
    on_foot = station.access is Access.FOOT
    return not (on_foot and action is Action.REFILLED) or action in sheet.actions


def _amount(board: Board, sheet: EventDraft, action: Action, text: str) -> str:
    if action is Action.REMOVED and not sheet.is_carcass and sheet.cause is not None:
        return "leaves taken out" if sheet.cause is Cause.SILT else "taken out"
    if action is Action.BAILED:
        percent, typed = sheet.bailed_percent, key("bail_percent")
        return f"{text} ({typed}: percent)" if percent is None else f"{text} {percent:g}% ({typed})"
    if action is not Action.REFILLED or action not in sheet.actions:
        return text
    if sheet.refill_l is None:
        return f"{text} to the rim"
    return f"{text} {words.volume(sheet.refill_l, board.snapshot.units)}"


def _mark(chosen: bool) -> str:
    return CHOSEN if chosen else OPEN


def _choice(letter: str, text: str, chosen: bool) -> Text:
    return Text(f"{_mark(chosen)}{letter} {text}", "bold" if chosen else "")


def _pattern(pattern: BearPattern, today: date) -> str:
    """The latest run of visits: first, last, how often, and whether it is over."""
    first, last = words.short_day(pattern.first, today), words.short_day(pattern.last, today)
    often = f"once, {last}"
    if pattern.visits > 1:
        often = f"{first} to {last}: {pattern.visits}, {pattern.per_week:.1f} a week"
    if pattern.is_broken(today):
        return f"{often}; pattern broken"
    return f"{often}; broken if none to {words.short_day(pattern.broken_from, today)}"


def _rows(label: str, choices: Sequence[Text], widths: Sequence[int]) -> list[Text]:
    """Rows with as many choices each as there are widths."""
    rows = []
    for start in range(0, len(choices), len(widths)):
        row = Text((label if start == 0 else "").ljust(8))
        for choice, width in zip(choices[start:], widths, strict=False):
            choice.pad_right(max(width - choice.cell_len, 1))
            row.append_text(choice)
        rows.append(row)
    return rows


def _ramp_seen(board: Board, sheet: EventDraft) -> str:
    seen = board.snapshot.histories[sheet.station_id].last_ramp_check
    ask = "Was it there? " if sheet.is_carcass and sheet.ramp is None else ""
    if seen is None:
        return f"{ask}never confirmed"
    state = "in place" if seen.in_place else "MISSING"
    return f"{ask}last seen {state} {words.short_day(seen.on, board.snapshot.today)}"


def waiting_column(preview: Preview | None, sheet: EventDraft) -> Text:
    """When it is in use if nothing more is done."""
    title = "As it stands now" if sheet.work_entered else "Waiting for rain"
    lines = [Text(title, "bold")]
    if preview is None:
        lines.append(Text("..."))
    elif preview.found is not None:
        lines += _dates(preview.found.outlook.waiting)
    return Text("\n").join(lines)


def refill_column(
    board: Board, preview: Preview | None, station: StationFacts, sheet: EventDraft
) -> Text:
    """When a bailed and refilled tank is in use, or why that is not offered."""
    again = "Again " if sheet.actions & {Action.BAILED, Action.DRAINED} else ""
    refill = preview.found.way(Way.REFILL) if preview and preview.found else None
    often = "" if refill is None else times(refill.cost.rounds)
    title = f"{again}bailed and refilled{often}"
    lines = [Text(f"{title[0].upper()}{title[1:]}", "bold")]
    if station.access is Access.FOOT:
        lines.append(Text("Not offered: reached on foot alone."))
    elif preview is None:
        lines.append(Text("..."))
    elif preview.found is not None:
        if refill is None:
            why = NOT_BAILED.get(preview.found.event.cause, "Does not help against this.")
            lines.append(Text(why))
        else:
            cost, units = refill.cost, board.snapshot.units
            loads = "1 load" if cost.loads == 1 else f"{cost.loads} loads"
            lines += _dates(refill)
            lines.append(Text(f"takes {words.volume(cost.water_l, units)}, {loads}, today"))
    return Text("\n").join(lines)


def _dates(choice: Choice) -> list[Text]:
    """When animals may use it again, and when the water is clear."""
    used = choice.used
    if used.median is None:
        return [Text(f"in use again: {words.OUT_OF_SIGHT}", "bold"), Text(_clear(choice))]
    return [
        Text(f"in use about {words.full_day(used.median)}", "bold"),
        Text(f"8 in 10: {words.plain_day(used.low)} {_until(used.high)}"),
        Text(_clear(choice)),
    ]


def _until(day: date | None) -> str:
    return "or later" if day is None else f"to {words.plain_day(day)}"


def _clear(choice: Choice) -> str:
    clear = choice.clear.median
    return "" if clear is None else f"clear about {words.plain_day(clear)}"


def basis(preview: Preview | None, sheet: EventDraft) -> Text | str:
    """What the dates rest on, and what the signs that were seen changed."""
    if preview is None:
        return "..."
    if preview.found is None:
        return preview.why
    lines = signs_words(preview.found) if sheet.event is not None else []
    return Text("\n").join([*lines, Text(basis_words(preview.found))])


def cautions(
    board: Board,
    sheet: EventDraft,
    station: StationFacts,
    preview: Preview | None,
    *,
    sources: bool,
) -> Text:
    """The cautions for the cause and for all that is entered, without repeats."""
    wanted: list[Caution] = []
    if sheet.cause is not None:
        wanted += not_to_be_done(sheet.cause)
        wanted += (
            caution
            for action in (*sheet.in_order, None)
            for caution in contamination_cautions(
                sheet.cause, action, bear_country=station.bear_country
            )
        )
    if sheet.bears:
        wanted += [BEARS_COMING, BEARS]
    if sheet.ramp and board.snapshot.histories[sheet.station_id].last_ramp_check is None:
        wanted.append(ESCAPE_RAMP)
    if not wanted:
        return Text("")
    more = "" if sources else f" ({key('scroll_room', 1)}: more)"
    rule = Text(f"{LOCAL_RULES}{more}", "bold")
    if ice_today(board, sheet.station_id):
        wanted.append(ICE)
    refill = preview.found.way(Way.REFILL) if preview and preview.found else None
    load_l = sheet.refill_l or (refill.cost.water_l if refill else None)
    cautions = words.of_this_job(wanted, load_l, board.snapshot.units)
    lines = [caution_text(caution, sources=sources) for caution in cautions]
    return Text("\n").join([rule, *lines])
