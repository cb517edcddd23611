"""What lies ahead of each station, and what is still the same since it was last worked out.

All of it follows from the members that followed a station, its facts and log, and the
weather and season it goes by. It is remembered under a digest of those, in memory and the
few numbers of it on the shelf.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, replace
from datetime import date
from hashlib import blake2b
from typing import Any

import numpy as np

from store.model.assimilation import FilterCache
from store.model.code_version import code_version
from store.model.ensembles import ensemble_runs
from store.model.fill_worth import fill_worth
from store.model.futures import Futures
from store.model.heavy_use import hold_chance, until_its_end
from store.model.known_levels import Levels
from store.model.prompt_inputs import read_on, station_outlook
from store.model.snapshot import Snapshot
from store.season.look import LookValue
from store.season.prompt import PromptInputs


def ahead_digests(snapshot: Snapshot, levels: Levels) -> dict[str, str]:
    """What the days ahead of each station that has levels depend on, boiled down."""
    return {station_id: _digest(snapshot, levels, station_id) for station_id in levels.by_station}


def _digest(snapshot: Snapshot, levels: Levels, station_id: str) -> str:
    run, water = levels.followed[station_id], levels.waters[station_id]
    digest = blake2b(code_version(), digest_size=16)
    said = (
        snapshot.today, snapshot.places.stations[station_id], snapshot.season_of(station_id),
        water.station.first, water.station.last, water.log.said,
    )  # fmt: skip
    digest.update(repr(said).encode())
    digest.update(water.station.site.digest)
    for values in (run.volume_l, *vars(run.parameters).values(), run.errors.storm):
        digest.update(np.ascontiguousarray(values).tobytes())
    for values in (run.errors.demand, run.hindsight_l[:, -1], run.p10_l, run.p50_l, run.p90_l):
        digest.update(np.ascontiguousarray(values).tobytes())
    for flags in (run.errors.wet, water.in_place, water.covered):
        digest.update(np.ascontiguousarray(flags).tobytes())
    return digest.hexdigest()


def foreseen(
    snapshot: Snapshot,
    levels: Levels,
    ahead: Futures,
    digests: Mapping[str, str],
    memory: FilterCache,
) -> dict[str, PromptInputs]:
    """What the season's rules ask of the days ahead, but for the dates of recoveries."""
    name = blake2b("".join(snapshot.places.stations).encode(), digest_size=16).hexdigest()
    known = {**_read(memory.shelf.take(name)), **memory.foreseen}
    missing = [key for key, digest in digests.items() if digest not in known]
    found: dict[str, PromptInputs] = {}
    for station_id, run in ensemble_runs(levels, snapshot.today, only=missing):
        ahead.keep(station_id, run.future)
        worth = fill_worth(snapshot, levels, run, station_id)
        weeks = snapshot.heavy_use(station_id)
        near = until_its_end(levels, snapshot.today, weeks, station_id) or run.future
        holds = hold_chance(near, weeks)
        found[station_id] = station_outlook(snapshot, levels, run.future, worth, holds, station_id)
    inputs = {
        key: known[digest] if digest in known else found.get(key, PromptInputs())
        for key, digest in digests.items()
    }
    memory.foreseen = {digest: inputs[key] for key, digest in digests.items()}
    if missing:
        memory.shelf.put(name, _written(memory.foreseen))
    return {
        station_id: inputs.get(station_id) or _as_read(snapshot, station_id)
        for station_id in snapshot.places.stations
    }


def _as_read(snapshot: Snapshot, station_id: str) -> PromptInputs:
    """What is known of a station without a model: what was read today."""
    return PromptInputs(read_share=read_on(snapshot, station_id, snapshot.today))


def _written(known: Mapping[str, PromptInputs]) -> bytes:
    return json.dumps({digest: _plain(inputs) for digest, inputs in known.items()}).encode()


def _plain(inputs: PromptInputs) -> dict[str, Any]:
    day = inputs.dry_from
    return asdict(replace(inputs, clear_on={})) | {
        "dry_from": None if day is None else day.isoformat()
    }


def _read(content: bytes | None) -> dict[str, PromptInputs]:
    """What was written; nothing where it is something else."""
    try:
        said = json.loads(content or b"{}")
        return {digest: _inputs(values) for digest, values in said.items()}
    except (ValueError, TypeError, AttributeError, KeyError):
        return {}


def _inputs(values: dict[str, Any]) -> PromptInputs:
    day, look = values["dry_from"], values["look"]
    return PromptInputs(
        **values
        | {
            "dry_from": None if day is None else date.fromisoformat(day),
            "look": None if look is None else LookValue(**look),
        }
    )
