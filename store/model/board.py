"""Everything the screens and commands ask of a logbook on one day, worked out once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.model.assimilation import FilterCache
from store.model.ensembles import Ensemble, ensemble_runs
from store.model.fill_worth import FillWorth, fill_worth
from store.model.levels import Levels, levels_of
from store.model.prompt_inputs import station_outlook
from store.model.recoveries import Recoveries, recoveries_of
from store.model.snapshot import Snapshot
from store.season.prompt import Prompt, PromptInputs
from store.season.prompts import prompts_for, set_aside

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
    """False while no model has run: what the log alone says stands here, and nothing else."""


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


def board_of(snapshot: Snapshot, memory: FilterCache | None = None) -> Board:
    """Work out levels, futures, recoveries and prompts of a snapshot.

    `memory` carries what an earlier board worked out.
    """
    levels = levels_of(snapshot, memory)
    ahead: dict[str, Ensemble] = {}
    worths: dict[str, FillWorth | None] = {}
    for station_id, run in ensemble_runs(levels, snapshot.today):
        ahead[station_id] = run.future
        worths[station_id] = fill_worth(snapshot, levels, run, station_id)
    clear = recoveries_of(snapshot, levels)
    outlooks = {
        station_id: station_outlook(
            snapshot, levels, ahead.get(station_id), worths.get(station_id), clear, station_id
        )
        for station_id in snapshot.places.stations
    }
    prompts = {
        station_id: prompts_for(
            history, outlooks[station_id], snapshot.season_of(station_id), snapshot.today
        )
        for station_id, history in snapshot.histories.items()
    }
    aside = {
        station_id: set_aside(
            history, outlooks[station_id], snapshot.season_of(station_id), snapshot.today
        )
        for station_id, history in snapshot.histories.items()
    }
    return Board(snapshot, levels, ahead, clear, outlooks, prompts, aside)
