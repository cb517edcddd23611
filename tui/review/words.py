"""What the review says of one station: its suggestion, its forms, the jump in use."""

from __future__ import annotations

from rich.text import Text

from store.units import Units
from store.views.review import SeasonLine
from store.views.what_if import Tried
from tui import words
from tui.base.table import SCROLLBAR, Column, cut
from tui.widgets.gauge import gauge

WORKING = "Tried in other forms over all weather years ..."
BAR_WIDTH = 10
NAME_WIDTH = 36


def columns_for(units: Units, width: int) -> tuple[Column[SeasonLine], ...]:
    """The columns for a screen `width` characters wide; from 80 on nothing is lost."""
    others: tuple[Column[SeasonLine], ...] = (
        Column("Season", 7, lambda line: Text(str(line.season.year))),
        Column("Wet days", 9, lambda line: Text(_wet(line).rjust(8))),
        Column(" Dry", 5, lambda line: _number(line.season.dry_days, 4)),
        Column("Fills", 6, lambda line: _number(len(line.season.fills), 5)),
        Column(
            f"{units.volume_name:>4}",
            6,
            lambda line: _number(round(units.volume(line.season.hauled_l)), 4),
        ),
        Column("  Won", 6, lambda line: _number(round(line.season.brought_days), 5)),
        Column("Visits", 7, lambda line: _number(line.season.visits, 6)),
        Column("Quiet", 6, lambda line: _number(line.season.quiet_visits, 5)),
        Column("Fouled", 7, lambda line: _number(line.season.fouled_days, 6)),
    )
    room = max(width - sum(column.width for column in others) - SCROLLBAR, 10)
    return (Column("Station", room, lambda line: cut(line.label, room - 1)), *others)


def _number(value: int, width: int) -> Text:
    return Text((str(value) if value else "").rjust(width))


def _wet(line: SeasonLine) -> str:
    season = line.season
    return "-" if season.wet_days is None else f"{season.wet_days[1]} of {season.heavy_days}"


def teaches(line: SeasonLine, found: Tried | str | None) -> Text:
    """The lines below the table; `found` is a sentence where there is nothing to try."""
    lines = [Text.assemble((line.label, "bold"), f"  {line.tract}{_band(line)}")]
    if line.pulse is not None:
        lines.append(
            Text(
                f"Use rose about {words.full_day(line.pulse.middle)} "
                f"({words.day_month(line.pulse.low)} to {words.day_month(line.pulse.high)}), from "
                f"{line.pulse.before:.1f} to {line.pulse.after:.1f} animals a day."
            )
        )
    if found is None:
        return Text("\n").join([*lines, Text(WORKING)])
    if isinstance(found, str):
        return Text("\n").join([*lines, Text(found)])
    if found.suggestion is not None:
        lines.append(Text(f"{found.suggestion.text}.", "bold"))
    lines += [
        Text.assemble(
            f"{variant.name:<{NAME_WIDTH}}",
            gauge(variant.hold_chance, BAR_WIDTH),
            f" holds {words.chance(variant.hold_chance)}, {variant.fills.mean():.1f} fills a year",
        )
        for variant in found.found.variants
    ]
    return Text("\n").join(lines)


def _band(line: SeasonLine) -> str:
    season = line.season
    if season.wet_days is None:
        return ""
    low, _, high = season.wet_days
    return f"   wet days between {low} and {high} of {season.heavy_days} in {season.year}"
