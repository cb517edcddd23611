"""What stands in the overview's cells and in the lines below it, or in their place."""

from __future__ import annotations

from collections.abc import Callable

from rich.text import Text

from store.contamination.estimates import CAVEAT
from store.model.board import Board
from store.season.prompt import Prompt, PromptState
from store.units import Units
from store.views.overview import OverviewRow
from store.views.weather_state import weather_states
from store.vocabulary import PromptKind
from tui import words
from tui.base.board_screen import WIDE
from tui.base.doors import DOORS
from tui.base.keys import HELP_KEY
from tui.base.table import SCROLLBAR, Column
from tui.widgets.gauge import gauge

SHORT_KINDS = {PromptKind.CONTAMINATION: "fouled"}
"""Kinds whose own word is too long for a narrow column."""

GO_AND_LOOK = "*go and look"
ROOM_FOR_TEXT = 30


def columns_for(board: Board, width: int) -> tuple[Column[OverviewRow], ...]:
    """The columns for a screen `width` characters wide; from 80 on nothing is lost."""
    units, today = board.snapshot.units, board.snapshot.today
    name, tract, bar = (24, 16, 12) if width >= WIDE else (13, 6, 5)
    columns: tuple[Column[OverviewRow], ...] = (
        Column("Station", name + 1, lambda row: _cut(row.label, name)),
        Column("Tract", tract + 1, lambda row: _cut(row.tract, tract)),
        Column("Level", bar + 1, lambda row: _bar(row, bar)),
        Column("  %", 4, lambda row: _right(_level(row, lambda v: f"{100 * v.share:.0f}"), 3)),
        Column(
            f"{units.volume_name:>4}",
            5,
            lambda row: _right(_level(row, lambda v: f"{units.volume(v.volume_l):.0f}"), 4),
        ),
        Column(
            f"{units.depth_name:>4}",
            5,
            lambda row: _right(_level(row, lambda v: f"{units.depth(v.below_rim_mm):.1f}"), 4),
        ),
        Column("Seen", 5, lambda row: _right(_look(row), 4)),
        Column("Raked", 7, lambda row: Text(words.short_day(row.last_rake, today))),
        Column("Ramp", 5, lambda row: _ramp(row)),
        Column("In use", 8, lambda row: _event(row)),
    )
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (*columns, Column("Next", room, lambda row: _next(row, units, room)))


def _cut(text: str, width: int, style: str = "") -> Text:
    cut = Text(text, style, no_wrap=True, end="")
    cut.truncate(width, overflow="ellipsis")
    return cut


def _right(text: str, width: int) -> Text:
    return Text(text.rjust(width))


def _level(row: OverviewRow, show: Callable[..., str]) -> str:
    return words.UNKNOWN if row.level is None else show(row.level)


def _bar(row: OverviewRow, width: int) -> Text:
    if row.retired is not None:
        return Text("retired" if width > len("retired") else "ended", "dim")
    if row.level is None:
        return gauge(None, width)
    level = row.level
    return gauge(level.share, width, low=level.low_share, high=level.high_share)


def _look(row: OverviewRow) -> str:
    days = row.days_since_look
    if days is None:
        return words.UNKNOWN
    return f"{days}d" if days < 1000 else f"{days // 365}y"


def _ramp(row: OverviewRow) -> Text:
    if row.ramp is None:
        return Text("?")
    return Text("yes") if row.ramp.in_place else Text("GONE", "bold")


def _event(row: OverviewRow) -> Text:
    if row.event is None:
        return Text("")
    expected = row.event.expected
    return Text("!" + ("?" if expected is None else words.day_month(expected)), "bold")


def _next(row: OverviewRow, units: Units, width: int) -> Text:
    if row.next_due is None:
        worth_it = row.look is not None and row.look.worth_it
        return _cut(GO_AND_LOOK if worth_it else "", width)
    return _due(row.next_due, units, width)


def _due(prompt: Prompt, units: Units, width: int) -> Text:
    mark = words.state_mark(prompt.state)
    by = "" if prompt.last is None else f" {words.day_month(prompt.last)}"
    kind = SHORT_KINDS.get(prompt.kind, prompt.kind.value)
    if prompt.volume_l:
        kind += f" {words.volume(prompt.volume_l, units)}"
    short = kind + by if len(mark + kind + by) <= width else kind
    style = "bold" if prompt.state is PromptState.OVERDUE or prompt.endangers else ""
    return _cut(mark + (short if width < ROOM_FOR_TEXT else prompt.text), width, style)


def status(board: Board, view: str) -> Text:
    """The line above the table: the day, the view, and what is known of the weather."""
    snapshot = board.snapshot
    known = _weather(board) if board.worked_out else "levels are being worked out ..."
    return Text(f"{words.full_day(snapshot.today)}   {view}   {known}")


def _weather(board: Board) -> str:
    states = weather_states(board.snapshot)
    if not states:
        return f"no weather yet: press {DOORS['import'].key} to import some"
    records = [state for state in states if not state.from_normals]
    if not records:
        return "no full weather record: levels from monthly normals"
    last = min(state.last_day for state in records)
    filled = max(state.missing for state in records)
    ends = f"weather to {words.short_day(last, board.snapshot.today)}"
    some = "; some tracts by normals" if len(records) < len(states) else ""
    return ends + (f", {filled} days of this year filled in" if filled else "") + some


def detail(board: Board, row: OverviewRow) -> Text:
    """All about one station, in at most five lines."""
    units, today = board.snapshot.units, board.snapshot.today
    lines = [Text.assemble((row.label, "bold"), f"   {row.tract}   {_level_words(row, units)}")]
    ramp = "never confirmed"
    if row.ramp is not None:
        state = "in place" if row.ramp.in_place else "MISSING"
        ramp = f"{state}, seen {words.full_day(row.ramp.on)}"
    lines.append(
        Text(
            f"Seen {words.days_ago(row.days_since_look)}; raked "
            f"{words.short_day(row.last_rake, today)}; ramp {ramp}"
        )
    )
    if row.event is not None:
        expected = row.event.expected
        back = words.OUT_OF_SIGHT if expected is None else f"about {words.full_day(expected)}"
        back = back if row.event.dated else "when the model says so"
        clear = row.event.clear
        clears = "" if clear is None else f"water clear about {words.short_day(clear, today)}, "
        lines.append(
            Text(
                f"! {row.event.cause}, found {words.full_day(row.event.found)}; "
                f"{clears}in use again {back} ({CAVEAT})"
            )
        )
    if row.look is not None and row.look.worth_it:
        lines.append(Text(f"* {words.look(row.look)}"))
    lines += [
        Text(f"{words.state_mark(prompt.state)} {prompt.state.value}: {words.work(prompt, units)}")
        for prompt in row.prompts
    ]
    return Text("\n").join(lines[:6])


def _level_words(row: OverviewRow, units: Units) -> str:
    if row.retired is not None:
        return f"retired {words.full_day(row.retired)}"
    if row.level is None:
        return row.no_level
    how = "read today" if row.level.read_today else "modeled"
    level = row.level
    return (
        f"{how}: {words.percent(level.share)}, {words.volume(level.volume_l, units)}, "
        f"{words.depth(level.below_rim_mm, units)} below the rim "
        f"({words.span(level.highest_mm, level.lowest_mm, units)})"
    )


FIRST_STEPS = f"""\
This logbook is empty. Three steps make it useful:

1  Press {DOORS["new"].key} to add your first tank: its tract, inside measures and apron.
   Or press {DOORS["import"].key} to import a spreadsheet of all of them at once.

2  Press {DOORS["import"].key} to import daily weather for the tract: a GHCN-Daily file of
   the nearest weather station, or any CSV with dates, rain and
   temperatures.

3  Press {DOORS["check_in"].key} each morning you have seen something: rain gauge, levels,
   use, ramps.

Press {HELP_KEY} for every key.
"""
