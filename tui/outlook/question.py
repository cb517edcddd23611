"""What is known so far of one question: an outlook of a board to a day."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from rich.text import Text

from store.model.board import Board
from store.model.ensembles import Fill
from store.views.outlook import Outlook, outlook_stations, planned_fill
from tui import words
from tui.base.board_screen import WIDE
from tui.outlook.columns import Line
from tui.outlook.strip import strip_lines

WIDE_BARS = 3

Fills = Mapping[str, float | None]
"""Litres to be brought by station id; None is to the rim."""


@dataclass
class OutlookQuestion:
    """Answers come in station by station, first without and then with a fill."""

    board: Board
    until: date
    fills: Fills
    found: dict[str, Outlook] = field(default_factory=dict)
    filled: dict[str, Outlook] = field(default_factory=dict)

    @cached_property
    def station_ids(self) -> tuple[str, ...]:
        """Every station in service."""
        return tuple(facts.station_id for facts in outlook_stations(self.board))

    @cached_property
    def with_level(self) -> tuple[str, ...]:
        return tuple(one for one in self.station_ids if one in self.board.ahead)

    @property
    def missing(self) -> list[str]:
        return [one for one in self.with_level if one not in self.found]

    @property
    def missing_fills(self) -> dict[str, Fill]:
        return {
            one: planned_fill(self.board.snapshot, one, self.until, litres)
            for one, litres in self.fills.items()
            if one in self.with_level and one not in self.filled
        }

    def take(self, outlook: Outlook) -> None:
        """Keep an answer, unless it is about a fill that was given up meanwhile."""
        station_id = outlook.station.station_id
        if outlook.fill is None:
            self.found[station_id] = outlook
        elif (station_id, outlook.fill.volume_l) in self.fills.items():
            self.filled[station_id] = outlook

    def line(self, station_id: str) -> Line:
        return Line(
            station=self.board.snapshot.places.stations[station_id],
            found=self.found.get(station_id),
            has_level=station_id in self.with_level,
            fills=station_id in self.fills,
            fill_l=self.fills.get(station_id),
            filled=self.filled.get(station_id),
        )

    def lines(self, *, by_chance: bool) -> list[Line]:
        """The lines by tract, or by chance, lowest first, once all chances are known."""
        lines = [self.line(station_id) for station_id in self.station_ids]
        if by_chance and not self.missing:
            lines.sort(key=_chance_to_hold)
        return lines

    def status(self, *, by_chance: bool) -> str:
        end = self.board.snapshot.heavy_use_end
        what = " (end of heavy use)" if self.until == end else ""
        order = "lowest chance first" if by_chance else "by tract"
        known, count = len(self.found), len(self.with_level)
        state = "" if known == count else f"   {known} of {count} ..."
        return f"Outlook to {words.full_day(self.until)}{what}   {order}{state}"

    def strip(self, station_id: str, width: int) -> Text:
        """All about one station, on a screen `width` characters wide."""
        snapshot, line = self.board.snapshot, self.line(station_id)
        label = snapshot.places.label(line.station)
        if not line.has_level:
            return Text(self.board.levels.without.get(station_id, f"{label} has no level."))
        if line.found is None:
            return Text(f"{label}: being worked out ...")
        return strip_lines(
            f"{label}, {snapshot.places.tract_of(line.station).name}",
            line.found,
            line.filled,
            snapshot.heavy_use(station_id),
            snapshot.units,
            width=width - 2,
            rows=WIDE_BARS if width >= WIDE else 1,
        )


def _chance_to_hold(line: Line) -> float:
    """The chance to hold water in the heavy-use weeks, or to the last day if that is unknown."""
    if line.found is None:
        return math.inf
    hold = line.found.hold_chance
    return 1.0 - line.found.ever_dry_chance if hold is None else hold
