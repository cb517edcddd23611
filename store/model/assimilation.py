"""Follow the stations of a logbook with members, learning from their readings.

A station's result depends on its own log and weather, and on what it borrows: results are
remembered under a digest of just that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import TYPE_CHECKING

import numpy as np

from store.contamination.estimates import RecoveryForecast
from store.model.following import Asked, digest_of, followed, taken
from store.model.kept_run import KeptRun
from store.model.last_asked import LastAsked
from store.model.shelf import NoShelf, Shelf, Unchanged
from store.model.snapshot import Snapshot
from store.model.water_input import StationWater
from store.season.prompt import PromptInputs
from store.water.filter_run import FilterRun
from store.water.parameters import Parameters
from store.water.priors import MEMBERS, StationPriors, station_priors
from store.water.sharing import borrowed_priors, weights_by_neighbours

if TYPE_CHECKING:
    from store.model.ensembles import Ensemble

AT_HAND = 64
"""Futures kept, the last asked for: each holds half a megabyte."""


class FilterCache(dict[str, FilterRun]):
    """Stations already followed, by the digest of what they depend on.

    `shelf` holds more of them, and evenings to go on from, between one start and the next.
    What lies ahead of stations (`futures` and, in a few numbers, `foreseen`), and of their
    open events (`recovered`), stands under the digests of what that depends on.
    """

    def __init__(self, known: Mapping[str, FilterRun] | None = None, shelf: Shelf | None = None):
        super().__init__(known or {})
        self.shelf: Shelf = NoShelf() if shelf is None else shelf
        self.foreseen: Mapping[str, PromptInputs] = {}
        self.recovered: Mapping[str, RecoveryForecast] = {}
        self.futures: LastAsked[Ensemble] = LastAsked(AT_HAND)

    def to_try(self) -> FilterCache:
        """The same for what is only supposed: nothing of that is kept."""
        trial = FilterCache(self, Unchanged(self.shelf))
        trial.foreseen, trial.recovered = self.foreseen, self.recovered
        return trial


def filter_runs(
    snapshot: Snapshot, waters: Sequence[StationWater], memory: FilterCache
) -> dict[str, FilterRun]:
    """Follow stations, by id; each result holds one station from its first day on.

    Stations with readings are followed first; the others then borrow from them.
    `memory` is read at the start, and at the end it holds what was asked for. Two threads
    may share it: the later one to end is remembered.
    """
    known, used = dict(memory), dict[str, FilterRun]()
    taught = [water for water in waters if _readings(snapshot, water)]
    untaught = [water for water in waters if not _readings(snapshot, water)]
    result = _remembered(taught, _own_priors(taught), known, used, memory.shelf)
    priors = _own_priors(untaught)
    if taught and untaught:
        priors = _borrowed(taught, untaught, result)
    result |= _remembered(untaught, priors, known, used, memory.shelf)
    memory.clear()
    memory.update(used)
    return result | _told_of_the_rut(taught, result)


def _told_of_the_rut(
    taught: Sequence[StationWater], result: Mapping[str, FilterRun]
) -> dict[str, FilterRun]:
    """The runs of taught stations, their last members weighed by what neighbours learned."""
    if len(taught) < 2:
        return {}
    facts = [water.station.facts for water in taught]
    runs = [result[station.station_id] for station in facts]
    together = _side_by_side([run.parameters for run in runs])
    everyone = np.ones(len(facts), dtype=bool)
    weights = weights_by_neighbours(facts, station_priors(facts), together, everyone)
    return {
        run.station_ids[0]: run.drawn_again(weight[np.newaxis])
        for run, weight in zip(runs, weights, strict=True)
    }


def _side_by_side(parameters: Sequence[Parameters]) -> Parameters:
    return Parameters(
        **{
            field.name: np.concatenate([getattr(one, field.name) for one in parameters])
            for field in fields(Parameters)
        }
    )


def _readings(snapshot: Snapshot, water: StationWater) -> bool:
    history = snapshot.histories[water.station.facts.station_id]
    return history.last_reading is not None and history.last_reading.on >= water.station.first


def _own_priors(waters: Sequence[StationWater]) -> StationPriors:
    return station_priors([water.station.facts for water in waters])


def _borrowed(
    taught: Sequence[StationWater],
    untaught: Sequence[StationWater],
    result: Mapping[str, FilterRun],
) -> StationPriors:
    """Priors of the untaught stations after hearing what the taught ones learned."""
    facts = [water.station.facts for water in (*taught, *untaught)]
    priors = station_priors(facts)
    known = [result[water.station.facts.station_id].parameters for water in taught]
    blank = known[0].map(lambda _: np.ones((len(untaught), MEMBERS)))
    flags = np.arange(len(facts)) < len(taught)
    shared = borrowed_priors(facts, priors, _side_by_side([*known, blank]), flags)
    return StationPriors(shared.log_median[len(taught) :], shared.log_spread[len(taught) :])


def _remembered(
    waters: Sequence[StationWater],
    priors: StationPriors,
    known: dict[str, FilterRun],
    used: dict[str, FilterRun],
    shelf: Shelf,
) -> dict[str, FilterRun]:
    """Results that are known by their digest, the rest taken off the shelf or followed."""
    asked = [
        Asked(water, StationPriors(priors.log_median[row, None], priors.log_spread[row, None]))
        for row, water in enumerate(waters)
    ]
    digests = [digest_of(one) for one in asked]
    fresh: list[tuple[Asked, KeptRun | None]] = []
    for one, digest in zip(asked, digests, strict=True):
        if digest in known:
            continue
        kept = taken(one, shelf)
        if kept is not None and kept.digest == digest:
            known[digest] = kept.run
        else:
            fresh.append((one, kept))
    runs = followed(fresh, shelf) if fresh else iter(())
    known |= {digest_of(one): run for (one, _), run in zip(fresh, runs, strict=True)}
    used |= {digest: known[digest] for digest in digests}
    return {one.station_id: known[digest] for one, digest in zip(asked, digests, strict=True)}
