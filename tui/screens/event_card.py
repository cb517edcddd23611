"""What the event screen shows: what is entered, when it would be over, the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from rich.text import Text

from store.answers.board import Board
from store.answers.recoveries import EventRecovery
from store.contamination.choices import Way
from store.contamination.estimates import Choice
from store.records import Access, Action, StationFacts
from store.season.cautions import Caution, contamination_cautions
from tui import words
from tui.screens.event_keys import ACTIONS, CAUSES
from tui.screens.event_sheet import EventSheet
from tui.widgets.cells import one_line

LOCAL_RULES = "Local codes and the wildlife agency's rules go first."
CHOSEN, OPEN = "●", "○"


@dataclass(frozen=True)
class Preview:
    """What came of working it out: a recovery, or `why` there is none to show."""

    found: EventRecovery | None = None
    why: str = ""


def head(board: Board, sheet: EventSheet, station: StationFacts, others: int) -> Text:
    """Station, day, and which event is meant; `others` is the number of open ones."""
    places = board.snapshot.places
    ago = words.days_ago((board.snapshot.today - sheet.day).days)
    if sheet.event is None:
        which = "new event" + (f"   Tab: the open event ({others})" if others else "")
    else:
        found = words.short_day(sheet.event.found, board.snapshot.today)
        which = f"open event: {sheet.event.cause.value}, found {found}   Tab: others"
    lines = [
        Text.assemble(
            "Station ",
            (one_line(places.label(station)), "bold"),
            f" ({places.tract_of(station).name}, {station.access.value})   up/down: another",
        ),
        Text.assemble(
            "Found   " if sheet.event is None else "Done    ",
            (f"{words.full_day(sheet.day)} ({ago})", "bold"),
            "   [ ] a day, d types it",
        ),
        Text.assemble("Entry   ", (which, "bold")),
    ]
    return Text("\n").join(lines)


def choices(board: Board, sheet: EventSheet, station: StationFacts) -> Text:
    """Causes and work with their keys; what is chosen has a filled mark."""
    causes = [
        _choice(key, text, cause is sheet.cause)
        for key, cause, text in CAUSES
        if sheet.event is None or cause is sheet.cause
    ]
    done = [
        _choice(key, _amount(board, sheet, action, text), action in sheet.actions)
        for key, action, text in ACTIONS
        if action in sheet.offered and _hauls(station, sheet, action)
    ]
    ramp = {None: "m", True: "m in place", False: "m MISSING"}[sheet.ramp]
    asked = "bold" if sheet.asks_for_ramp and sheet.ramp is None else ""
    return Text("\n").join(
        [
            *_rows("Cause", causes),
            *_rows("Done", done),
            Text.assemble(
                "Ramp    ",
                (_mark(sheet.ramp is not None) + ramp, "bold" if sheet.ramp is not None else ""),
                (f"   {_ramp_seen(board, sheet)}", asked),
            ),
            Text(f"Note    {_mark(bool(sheet.note))}o {one_line(sheet.note)}"),
        ]
    )


def _hauls(station: StationFacts, sheet: EventSheet, action: Action) -> bool:
    """Refilling is not offered where no vehicle gets; when chosen all the same it shows."""
    on_foot = station.access is Access.FOOT
    return not (on_foot and action is Action.REFILLED) or action in sheet.actions


def _amount(board: Board, sheet: EventSheet, action: Action, text: str) -> str:
    if action is not Action.REFILLED or action not in sheet.actions:
        return text
    if sheet.refill_l is None:
        return f"{text} to the rim"
    return f"{text} {words.volume(sheet.refill_l, board.snapshot.units)}"


def _mark(chosen: bool) -> str:
    return CHOSEN if chosen else OPEN


def _choice(key: str, text: str, chosen: bool) -> Text:
    return Text(f"{_mark(chosen)}{key} {text}", "bold" if chosen else "")


def _rows(label: str, choices: Sequence[Text]) -> list[Text]:
    rows = []
    for start in range(0, len(choices), 3):
        row = Text((label if start == 0 else "").ljust(8))
        for choice in choices[start : start + 3]:
            choice.pad_right(max(23 - choice.cell_len, 1))
            row.append_text(choice)
        rows.append(row)
    return rows


def _ramp_seen(board: Board, sheet: EventSheet) -> str:
    seen = board.snapshot.histories[sheet.station_id].last_ramp_check
    ask = "Was it there? " if sheet.asks_for_ramp and sheet.ramp is None else ""
    if seen is None:
        return f"{ask}never confirmed"
    state = "in place" if seen.in_place else "MISSING"
    return f"{ask}last seen {state} {words.short_day(seen.on, board.snapshot.today)}"


def waiting_column(preview: Preview | None) -> Text:
    lines = [Text("Waiting for rain", "bold")]
    if preview is None:
        lines.append(Text("..."))
    elif preview.found is not None:
        lines += _dates(preview.found.outlook.waiting)
    return Text("\n").join(lines)


def refill_column(board: Board, preview: Preview | None, station: StationFacts) -> Text:
    """The second way out; not offered where no vehicle gets."""
    lines = [Text("Bailed and refilled", "bold")]
    if station.access is Access.FOOT:
        lines.append(Text("Not offered: reached on foot alone."))
    elif preview is None:
        lines.append(Text("..."))
    elif preview.found is not None:
        refill = preview.found.way(Way.REFILL)
        if refill is None:
            lines.append(Text("Does not help against this."))
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
        return [Text("in use: not within sight", "bold"), Text(_clear(choice))]
    return [
        Text(f"in use about {words.full_day(used.median)}", "bold"),
        Text(f"10-90%: {_end(used.low)} to {_end(used.high)}"),
        Text(_clear(choice)),
    ]


def _clear(choice: Choice) -> str:
    clear = choice.clear.median
    return "" if clear is None else f"clear about {_end(clear)}"


def _end(day: date | None) -> str:
    return "beyond sight" if day is None else f"{day.day} {day:%b %Y}"


def basis(preview: Preview | None) -> str:
    if preview is None:
        return "..."
    if preview.found is None:
        return preview.why
    outlook = preview.found.outlook
    return f"By {outlook.basis}. {outlook.caveat.capitalize()}."


def cautions(sheet: EventSheet, station: StationFacts, *, sources: bool) -> Text:
    """The cautions for the cause and all that is chosen, each once."""
    if sheet.cause is None:
        return Text("")
    wanted = [
        caution
        for action in (*sheet.in_order, None)
        for caution in contamination_cautions(
            sheet.cause, action, bear_country=station.bear_country
        )
    ]
    rule = Text(LOCAL_RULES if sources else f"{LOCAL_RULES} (PgDn: more)", "bold")
    lines = [_caution(caution, sources) for caution in dict.fromkeys(wanted)]
    return Text("\n").join([rule, *lines])


def _caution(caution: Caution, sources: bool) -> Text:
    source = f" [{caution.source}]" if sources else ""
    return Text.assemble((f"{caution.subject}: ", "bold"), caution.text, (source, "dim"))
