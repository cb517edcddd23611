"""The log of all stations and gauges, or of one station, and finding entries by their words.

The words are those the log shows, amounts apart, so the index is made of the entries that
hold, anew for every board: fifty stations over fifteen years take a fraction of a second,
and no index is kept in the file that would have to follow undo, merging and other copies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from store.logbook.word_index import WordIndex, places_of, word_index
from store.model.snapshot import Snapshot
from store.season.prompt import plain_date
from store.views.log_lines import LogLine, log_lines


@dataclass(frozen=True)
class StationLine:
    """A line of the log with the station it is about, or the tract for its rain gauge."""

    owner_id: str
    station_id: str | None
    label: str
    tract: str
    line: LogLine


@dataclass(frozen=True, eq=False)
class WholeLog:
    """Lines, newest first, with the index of their words."""

    lines: Sequence[StationLine]
    index: WordIndex


def whole_log(snapshot: Snapshot, station_id: str | None = None) -> WholeLog:
    """The live entries of all stations and gauges up to today, or those of one station."""
    places = snapshot.places
    lines = [
        StationLine(one.station_id, one.station_id, places.label(one), tract.name, line)
        for one in places.stations.values()
        if station_id in (None, one.station_id)
        for tract in (places.tract_of(one),)
        for line in log_lines(snapshot, one.station_id)
    ]
    if station_id is None:
        lines += [
            StationLine(tract.tract_id, None, tract.name, tract.name, line)
            for tract in places.tracts.values()
            for line in log_lines(snapshot, tract.tract_id)
        ]
    lines.sort(key=lambda one: (one.line.on, one.line.entry.entry_id), reverse=True)
    return WholeLog(lines, word_index(_words(one) for one in lines))


def found_lines(log: WholeLog, asked: str) -> list[StationLine]:
    """The lines that hold every word asked for, or one it begins, newest first."""
    return [log.lines[place] for place in places_of(log.index, asked)]


def _words(one: StationLine) -> str:
    day = one.line.on
    return "\n".join(
        (one.label, one.tract, one.line.what, one.line.note, plain_date(day), day.isoformat())
    )
