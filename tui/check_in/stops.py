"""The places of a check-in, in the order they are visited: gauges kept, stations, others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from store.model.board import Board
from store.records import Entry, GaugeReading, Reading, StationFacts, TractFacts
from store.views.check_in import (
    gauge_entry,
    in_service,
    keeps_gauge,
    level_entry,
    reading_entry,
)
from tui.check_in.entered import CheckIn

Stop = TractFacts | StationFacts
SUMMARY = "summary"


def stops_on(
    board: Board, sheet: CheckIn, asked_for: str | None, tract: str | None = None
) -> tuple[Stop, ...]:
    """Gauges and stations of the sheet's day, by tract and name; of one `tract` if named.

    Gauges that nobody keeps come last, where they are in nobody's way. A station that was
    asked for, or about which something is entered, is never left out: the logbook says why
    when it refuses it.
    """
    places = board.snapshot.places
    there = {
        facts.station_id
        for facts in in_service(board.snapshot, sheet.day)
        if tract in (None, places.tract_of(facts).name)
    }
    there.update(sheet.stations, [asked_for] if asked_for else [])
    stations = [facts for key, facts in places.stations.items() if key in there]
    tracts = {facts.tract_id for facts in stations} | sheet.gauges.keys()
    gauges = [tract for key, tract in places.tracts.items() if key in tracts]
    kept = [one for one in gauges if is_wanted(board, one, sheet)]
    return (*kept, *stations, *(one for one in gauges if one not in kept))


def is_wanted(board: Board, stop: Stop, sheet: CheckIn) -> bool:
    """Whether a check-in comes by there by itself: not at a gauge that nobody keeps."""
    return isinstance(stop, StationFacts) or keeps_gauge(board.snapshot, stop.tract_id, sheet.day)


def stop_id(stop: Stop | None) -> str:
    """The id of the tract or station; the place after the last is the summary."""
    match stop:
        case TractFacts(tract_id=tract_id):
            return tract_id
        case StationFacts(station_id=station_id):
            return station_id
        case None:
            return SUMMARY


def left_out(board: Board, stops: Sequence[Stop], tract: str | None = None) -> list[str]:
    """The stations, of one `tract` if named, that are not visited, by name."""
    places = board.snapshot.places
    listed = {stop_id(stop) for stop in stops}
    return [
        places.label(facts)
        for key, facts in places.stations.items()
        if key not in listed and tract in (None, places.tract_of(facts).name)
    ]


def known_ids(board: Board) -> set[str]:
    """The readings of levels and gauges that a board knows, by id."""
    snapshot = board.snapshot
    logs = (*snapshot.gauges.values(), *snapshot.log.values())
    kinds = (GaugeReading, Reading)
    return {entry.entry_id for log in logs for entry in log if isinstance(entry.fact, kinds)}


def entries_before(
    entries: Sequence[Entry], stops: Iterable[Stop], sheet: CheckIn
) -> dict[str, Entry]:
    """By place: the reading that holds of the sheet's day where a new one is entered."""
    found: dict[str, Entry] = {}
    for stop in stops:
        key = stop_id(stop)
        if key in sheet.gauges:
            held = gauge_entry(entries, key, sheet.day)
        elif (seen := sheet.seen(key)).has_level:
            held = level_entry(entries, key, sheet.day, after_work=seen.after_work)
        else:
            continue
        if held is not None:
            found[key] = held
    return found


def entry_before(board: Board, stop: Stop | None, sheet: CheckIn) -> Entry | None:
    """The gauge reading or level that the log holds of that place and day."""
    day = sheet.day
    match stop:
        case TractFacts(tract_id=tract_id):
            return gauge_entry(board.snapshot.gauges.get(tract_id, ()), tract_id, day)
        case StationFacts(station_id=station_id):
            seen = sheet.seen(station_id)
            orders = (seen.after_work,) if seen.has_level else (True, False)
            held = (
                reading_entry(board.snapshot, station_id, day, after_work=one) for one in orders
            )
            return next((entry for entry in held if entry is not None), None)
        case None:
            return None
