"""What stands in the overview's cells and in the lines below it, or in their place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial

from rich.text import Text

from store.contamination.parameters import CAVEAT
from store.model.board import Board
from store.model.known_levels import TREND_DAYS
from store.season.prompt import WORK, Prompt, PromptState
from store.units import Units
from store.views.overview import OverviewRow, OverviewTotals
from store.views.weather_state import weather_states
from store.vocabulary import PromptKind
from tui import words
from tui.base.board_screen import WIDE
from tui.base.doors import DOORS
from tui.base.keys import HELP_KEY
from tui.base.table import SCROLLBAR, Column, cut
from tui.widgets.gauge import gauge
from tui.widgets.timeline_data import level_glyph

SHORT_KINDS = {PromptKind.CONTAMINATION: "fouled", PromptKind.RUN_DRY: "no fill gets there"}
"""Kinds whose own word is too long for a narrow column."""

GO_AND_LOOK = "*go and look"
DRY = "DRY"
LOOK_NOW = "look"
"""The water should be in use again by now: somebody is to look."""
DETAIL_LINES = 6
NAME_WIDTH, WIDE_NAME_WIDTH = 17, 24


@dataclass(frozen=True)
class TractHeading:
    """A line over the stations of a tract."""

    tract: str
    totals: OverviewTotals


Line = OverviewRow | TractHeading
Cell = Callable[[OverviewRow], Text]


def columns_for(board: Board, width: int) -> tuple[Column[Line], ...]:
    """The columns for a screen `width` characters wide; from 80 on nothing is lost."""
    units, today = board.snapshot.units, board.snapshot.today
    wide = width >= WIDE
    name, bar = (WIDE_NAME_WIDTH, 12) if wide else (NAME_WIDTH, 8)
    columns = [
        Column("Station", name + 1, partial(_name, width=name)),
        _of_station("Level", bar + 1, lambda row: _bar(row, bar, units)),
        _of_station("Full", 5, _share),
        _of_station("Holds", 6, lambda row: _right(words.chance(row.hold_chance), 5)),
        _of_station(" Seen", 6, lambda row: _right(_look(row), 5)),
        _of_station("Ramp", 5, _ramp),
        _of_station("Fouled", 8, partial(_event, today=today)),
    ]
    if wide:
        columns[3:3] = [
            _of_station(f"{units.volume_name:>4}", 5, partial(_volume, units=units)),
            _of_station(f"{units.depth_name:>4}", 5, partial(_depth, units=units)),
            _of_station("Two weeks", TREND_DAYS + 1, _trend),
        ]
        columns.append(
            _of_station("Raked", 7, lambda row: Text(words.short_day(row.last_rake, today)))
        )
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (*columns, Column("Next", room, partial(_next, units=units, width=room)))


def _of_station(heading: str, width: int, cell: Cell) -> Column[Line]:
    """A column that says nothing in the line of a tract."""
    return Column(
        heading, width, lambda line: Text() if isinstance(line, TractHeading) else cell(line)
    )


def _name(line: Line, width: int) -> Text:
    if isinstance(line, TractHeading):
        return cut(line.tract, width, "bold")
    return cut(f" {line.label}", width)


def _right(text: str, width: int) -> Text:
    return Text(text.rjust(width))


def _share(row: OverviewRow) -> Text:
    if row.level is None:
        return _right(words.UNKNOWN, 4)
    if row.level.dry:
        return Text(DRY.rjust(4), "bold")
    return _right(words.percent(row.level.share), 4)


def _volume(row: OverviewRow, units: Units) -> Text:
    level = row.level
    return _right(words.UNKNOWN if level is None else f"{units.volume(level.volume_l):.0f}", 4)


def _depth(row: OverviewRow, units: Units) -> Text:
    level = row.level
    return _right(words.UNKNOWN if level is None else f"{units.depth(level.below_rim_mm):.1f}", 4)


def _trend(row: OverviewRow) -> Text:
    """How full the tank was on each of the last days."""
    if row.level is None:
        return Text()
    return Text("".join(level_glyph(share) for share in row.level.trend))


def _bar(row: OverviewRow, width: int, units: Units) -> Text:
    """How full it is, or what was read last where no level is modeled."""
    if row.retired is not None:
        return Text("retired", "dim")
    if row.level is None and row.last_reading is not None:
        read = row.last_reading.reading
        return Text(words.level_read(read.mark, read.below_rim_mm, units, short=True))
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


def _event(row: OverviewRow, today: date) -> Text:
    """The day the water is back in use, that it is farther than the model sees, or past."""
    if row.event is None:
        return Text("")
    expected = row.event.expected
    if expected is None:
        back = words.BEYOND
    else:
        back = LOOK_NOW if expected <= today else words.day_month(expected)
    return Text(f"!{back}", "bold")


def _next(line: Line, units: Units, width: int) -> Text:
    if isinstance(line, TractHeading):
        totals = line.totals
        fills = "1 fill" if totals.to_fill == 1 else f"{totals.to_fill} fills"
        text = f"{fills}, {words.volume(totals.fill_l, units)}" if totals.to_fill else ""
        return cut(text, width)
    if line.next_due is None:
        worth_it = line.look is not None and line.look.worth_it
        return cut(GO_AND_LOOK if worth_it else "", width)
    return _due(line.next_due, len(line.prompts) - 1, units, width)


def _due(prompt: Prompt, others: int, units: Units, width: int) -> Text:
    """The most urgent work, as fully as there is room, and how much more there is."""
    mark = words.prompt_mark(prompt)
    more = f" +{others}" if others else ""
    room = width - len(mark) - len(more)
    texts = _wordings(prompt, units)
    text = next((text for text in texts if len(text) <= room), texts[-1])
    style = "bold" if prompt.state is PromptState.OVERDUE or prompt.endangers else ""
    return cut(mark + text, width - len(more), style).append(more)


def _wordings(prompt: Prompt, units: Units) -> tuple[str, ...]:
    """What is to be done, the fullest wording first; the amount of water is in all of them."""
    last = None if prompt.kind is PromptKind.RUN_DRY else prompt.last
    by = "" if last is None else f" by {words.day_month(last)}"
    work, kind = WORK[prompt.kind], SHORT_KINDS.get(prompt.kind, prompt.kind.value)
    if prompt.volume_l:
        short = f"{kind} {words.volume(prompt.volume_l, units)}"
        return f"{work}: {words.water(prompt.volume_l, units)},{by}", short + by, short
    return prompt.text, work + by, kind + by, work, kind


def totals_line(totals: OverviewTotals, units: Units) -> Text:
    """What matters first: who holds, who does not, what it would take."""
    water = f" ({words.water(totals.fill_l, units)})" if totals.to_fill else ""
    parts = (
        f"{totals.holding} hold",
        f"{totals.at_risk} at risk",
        f"{totals.to_fill} to fill{water}",
        f"{totals.fouled} fouled",
        f"{totals.due} due this week",
    )
    return Text("  ".join(parts))


def status(board: Board, view: str) -> Text:
    """The line above the table: the day, the view, and what is known of the weather."""
    snapshot = board.snapshot
    waiting = "dates" if board.levels.by_station else "levels"
    known = _weather(board) if board.worked_out else f"{waiting} are being worked out ..."
    day = words.full_day(snapshot.today)
    day = f"Shown as of {day}" if snapshot.on_its_own_day else day
    return Text(f"{day}   {view}   {known}")


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
    return ends + (f", {filled} days filled in" if filled else "") + some


def detail(board: Board, row: OverviewRow) -> Text:
    """All about one station, in at most `DETAIL_LINES` lines."""
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
        clears = "" if clear is None else f", water clear about {words.short_day(clear, today)}"
        found = words.short_day(row.event.found, today)
        lines.append(Text(f"! {row.event.cause} {found}: in use again {back}{clears} ({CAVEAT})"))
    if row.look is not None and row.look.worth_it:
        lines.append(Text(f"* {words.look(row.look)}"))
    lines += [
        Text(f"{words.state_mark(prompt.state)} {prompt.state.value}: {words.work(prompt, units)}")
        for prompt in row.prompts
    ]
    return Text("\n").join(lines[:DETAIL_LINES])


def _level_words(row: OverviewRow, units: Units) -> str:
    if row.retired is not None:
        return f"retired {words.full_day(row.retired)}"
    if row.level is None:
        seen = row.last_reading
        if seen is None:
            return row.no_level
        said = words.level_read(seen.reading.mark, seen.reading.below_rim_mm, units)
        return f"read {said}, {words.full_day(seen.on)}. {row.no_level}"
    how = "read today" if row.level.read_today else "modeled"
    level = row.level
    return (
        f"{how}: {words.percent(level.share)}, {words.volume(level.volume_l, units)}, "
        f"{words.depth(level.below_rim_mm, units)} below the rim "
        f"({words.span(level.highest_mm, level.lowest_mm, units)})"
    )


FIRST_STEPS = f"""\
No tank is in this logbook yet. What makes it useful:

1  Press {DOORS["new"].key} to add your first tank: its tract, inside measures and apron.
   Or press {DOORS["import"].key} to import a spreadsheet of all of them at once.

2  Press {DOORS["import"].key} to import daily weather for the tract: a GHCN-Daily file of
   the nearest weather station, or any CSV with dates, rain and
   temperatures.

3  Press {DOORS["check_in"].key} each morning you have seen something: rain gauge, levels,
   use, ramps.

Press {HELP_KEY} for every key.
"""
