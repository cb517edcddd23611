"""What the model makes of a snapshot: the whole board."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from store.model.assimilation import FilterCache
from store.model.board import Board, with_levels
from store.model.foresight import ahead_digests, foreseen
from store.model.futures import Futures
from store.model.known_levels import Levels
from store.model.levels import levels_of
from store.model.recoveries import recoveries_of
from store.model.snapshot import Snapshot
from store.season.prompts import open_of, set_aside_of, tasks_around


def board_of(
    snapshot: Snapshot, memory: FilterCache | None = None, levels: Levels | None = None
) -> Board:
    """Work out levels, futures, recoveries and prompts of a snapshot.

    `memory` carries what an earlier board worked out; `levels` are those of the snapshot,
    where they are known already.
    """
    memory = FilterCache() if memory is None else memory
    levels = levels_of(snapshot, memory) if levels is None else levels
    digests = ahead_digests(snapshot, levels)
    ahead = Futures(levels, snapshot.today, digests, memory)
    inputs = foreseen(snapshot, levels, ahead, digests, memory)
    clear = recoveries_of(snapshot, levels, digests=digests, memory=memory)
    outlooks = {
        station_id: replace(own, clear_on=clear.expected_of(station_id))
        for station_id, own in inputs.items()
    }
    tasks = {
        station_id: tasks_around(
            history, outlooks[station_id], snapshot.season_of(station_id), snapshot.today
        )
        for station_id, history in snapshot.histories.items()
    }
    prompts = {
        station_id: open_of(own, snapshot.season_of(station_id), snapshot.today)
        for station_id, own in tasks.items()
    }
    aside = {station_id: set_aside_of(own) for station_id, own in tasks.items()}
    return Board(snapshot, levels, ahead, clear, outlooks, prompts, aside)


def boards_of(snapshot: Snapshot, memory: FilterCache, *, at_once: bool) -> Iterator[Board]:
    """The board of a snapshot, after one with the levels alone where it is wanted `at_once`.

    When it is taken, what a screen would otherwise wait for is worked out too.
    """
    levels = levels_of(snapshot, memory)
    if at_once:
        yield with_levels(snapshot, levels)
    board = board_of(snapshot, memory, levels)
    yield board
    if isinstance(board.ahead, Futures):
        board.ahead.at_hand()
