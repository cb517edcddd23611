"""Everything the screens and commands ask of a logbook on one day, worked out once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.answers.following import Memory
from store.answers.futures import Future, future_runs
from store.answers.levels import Levels, levels
from store.answers.outlook import station_outlook
from store.answers.recoveries import Recoveries, recoveries
from store.answers.snapshot import Snapshot
from store.season.prompt import Prompt, StationOutlook
from store.season.prompts import prompts_for


@dataclass(frozen=True, eq=False)
class Board:
    """A snapshot with its answers; mappings are by station id."""

    snapshot: Snapshot
    levels: Levels
    ahead: Mapping[str, Future]
    recoveries: Recoveries
    outlooks: Mapping[str, StationOutlook]
    prompts: Mapping[str, tuple[Prompt, ...]]


def board(snapshot: Snapshot, memory: Memory | None = None) -> Board:
    """Work out levels, futures, recoveries and prompts of a snapshot.

    `memory` carries what an earlier board worked out.
    """
    answer = levels(snapshot, memory)
    runs = future_runs(answer, snapshot.today)
    ahead = {station_id: run.future for station_id, run in runs}
    clear = recoveries(snapshot, answer)
    outlooks = {
        station_id: station_outlook(snapshot, answer, ahead.get(station_id), clear, station_id)
        for station_id in snapshot.places.stations
    }
    prompts = {
        station_id: prompts_for(history, outlooks[station_id], snapshot.season, snapshot.today)
        for station_id, history in snapshot.histories.items()
    }
    return Board(snapshot, answer, ahead, clear, outlooks, prompts)
