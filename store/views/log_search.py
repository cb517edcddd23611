"""The log of all stations, or of one, and finding entries in it by their words.

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
    """A line of the log with the station it is about."""

    station_id: str
    label: str
    tract: str
    line: LogLine


@dataclass(frozen=True, eq=False)
class WholeLog:
    """Lines, newest first, with the index of their words."""

    lines: Sequence[StationLine]
    index: WordIndex


def whole_log(snapshot: Snapshot, station_id: str | None = None) -> WholeLog:
    """The live entries of all stations up to today, or those of one."""
    places = snapshot.places
    lines = [
        StationLine(facts.station_id, places.label(facts), places.tract_of(facts).name, line)
        for facts in places.stations.values()
        if station_id in (None, facts.station_id)
        for line in log_lines(snapshot, facts.station_id)
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
