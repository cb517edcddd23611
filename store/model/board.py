"""Everything the screens and commands ask of a logbook on one day, worked out once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from store.model.assimilation import FilterCache
from store.model.ensembles import Ensemble
from store.model.foresight import ahead_digests, foreseen
from store.model.futures import Futures
from store.model.levels import Levels, levels_of
from store.model.recoveries import Recoveries, recoveries_of
from store.model.snapshot import Snapshot
from store.season.prompt import Prompt, PromptInputs
from store.season.prompts import open_of, prompts_for, set_aside_of, tasks_around

AT_WORK = "The model is still at work; levels and dates come in a moment."


@dataclass(frozen=True, eq=False)
class Board:
    """A snapshot with its answers; mappings are by station id."""

    snapshot: Snapshot
    levels: Levels
    ahead: Mapping[str, Ensemble]
    recoveries: Recoveries
    outlooks: Mapping[str, PromptInputs]
    prompts: Mapping[str, tuple[Prompt, ...]]
    set_aside: Mapping[str, tuple[Prompt, ...]]
    """What was put off or declined."""
    worked_out: bool = True
    """False while the model is at work: what the log says stands here, and maybe the levels."""

    def get_at_hand(self) -> None:
        """Work out what a screen would otherwise wait for when it is opened."""
        if isinstance(self.ahead, Futures):
            self.ahead.at_hand()


def register_of(snapshot: Snapshot) -> Board:
    """What the log says by itself, at once: no levels, no dates, dangers alone of the prompts."""
    stations = snapshot.places.stations
    unknown = PromptInputs()
    asked = {
        station_id: prompts_for(history, unknown, snapshot.season_of(station_id), snapshot.today)
        for station_id, history in snapshot.histories.items()
    }
    return Board(
        snapshot=snapshot,
        levels=Levels({}, dict.fromkeys(stations, AT_WORK)),
        ahead={},
        recoveries=Recoveries({}, {}),
        outlooks=dict.fromkeys(stations, unknown),
        prompts={key: tuple(p for p in own if p.endangers) for key, own in asked.items()},
        set_aside=dict.fromkeys(stations, ()),
        worked_out=False,
    )


def with_levels(snapshot: Snapshot, levels: Levels) -> Board:
    """The register with the levels of today and before, which come first."""
    return replace(register_of(snapshot), levels=levels)


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
