"""What a station taught, what a look would settle, and its water budget, in words."""

from __future__ import annotations

from rich.console import Group
from rich.table import Table
from rich.text import Text

from store.units import Units
from store.views.budget import LINES, StationBudget
from store.views.learned import DoubtedReading, LearnedLine
from tui import words


def learned_words(lines: tuple[LearnedLine, ...]) -> Group:
    """Every lesson after the day of the reading that taught it."""
    heading = Text.assemble(
        ("What the readings showed", "bold"), "  (in brackets: 80 in 100 lie within)"
    )
    table = Table.grid(padding=(0, 1))
    table.add_column(width=11)
    table.add_column(ratio=1)
    for line in lines:
        day = "as assumed" if line.taught_on is None else words.plain_day(line.taught_on)
        table.add_row(Text(day), Text(line.text))
    return Group(heading, table)


def doubted_words(doubted: tuple[DoubtedReading, ...]) -> Group:
    if not doubted:
        return Group(Text("No reading is doubted."))
    table = Table.grid(padding=(0, 1))
    table.add_column(width=11)
    table.add_column(ratio=1)
    for reading in doubted:
        table.add_row(Text(words.plain_day(reading.on)), Text(f"! {reading.text}"))
    return Group(Text("Doubted readings", "bold"), table)


def budget_words(budget: StationBudget, units: Units) -> Table:
    """What came beside what went, between the start and the end."""

    def line(name: str, field: str) -> Text:
        shown = round(units.volume(getattr(budget, field)), 1) + 0.0
        return Text(f"{name:29}{shown:>7.1f}")

    came, went, rest = (
        [line(name, field) for name, field in LINES if name[0] in signs]
        for signs in ("+", "-", "al=")
    )
    table = Table.grid(padding=(0, 2))
    start, end, left_over = rest
    table.add_row(start, Text(f"{'all in ' + units.volume_name:>36}", "dim"))
    for one, other in zip(came, went, strict=True):
        table.add_row(one, other)
    table.add_row(end, left_over)
    return table
