"""A station that was followed, as bytes for a shelf and back, to the last bit."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np

from store.vocabulary import LevelMark
from store.water.filter_run import FilterRun, FilterState
from store.water.hindsight import LookedBack
from store.water.model_errors import ErrorState
from store.water.observing import Observation
from store.water.parameters import Parameters
from store.water.priors import PARAMETER_NAMES
from store.water.updating import ReadingCheck
from store.weather.days import FloatArray

SERIES = ("p10_l", "p50_l", "p90_l", "overflow_l")
CHECK_ARRAYS = (
    "expected_depth_mm",
    "volume_before_l",
    "volume_after_l",
    "parameters_before",
    "parameters_after",
)
CHECK_NUMBERS = ("probability", "blunder", "unlogged", "contradicted", "early")
LENGTH_BYTES = 8
SPOILT = (ValueError, KeyError, TypeError, IndexError)
"""What bytes that are something else may raise when they are read."""
Arrays = dict[str, np.ndarray[Any, Any]]


@dataclass(frozen=True, eq=False)
class Stop:
    """Where a station stood on an evening, and a digest of all it depends on up to then."""

    digest: str
    state: FilterState


@dataclass(frozen=True, eq=False)
class KeptRun:
    """A station followed from its first day, an ordinal, to its last.

    `digest` stands for all that the run depends on; `run.prior` is not kept.
    """

    digest: str
    first: int
    run: FilterRun


def run_as_bytes(kept: KeptRun) -> bytes:
    """The run as bytes, without the stops on its way."""
    run = kept.run
    arrays: Arrays = {name: getattr(run, name) for name in SERIES}
    arrays["hindsight_l"] = run.hindsight_l
    arrays |= _members("end", run.volume_l, run.parameters, run.errors)
    for name in CHECK_ARRAYS:
        arrays[f"check {name}"] = np.array([getattr(check, name) for check in run.checks])
    head = {
        "digest": kept.digest,
        "first": kept.first,
        "ids": run.station_ids,
        "last_day": run.last_day.toordinal(),
        "checks": [_check_head(check) for check in run.checks],
    }
    return _as_bytes(head, arrays)


def stops_as_bytes(digest: str, stops: Mapping[int, Stop]) -> bytes:
    """Stops by their evening's ordinal, on the way of the run with that digest."""
    arrays: Arrays = {}
    for evening, stop in stops.items():
        state = stop.state
        arrays |= _members(str(evening), state.volume_l, state.parameters, state.errors)
        arrays[f"{evening} back"] = state.looked_back[0].volume_l
    said = [[evening, stop.digest, stop.state.evenings_read[0]] for evening, stop in stops.items()]
    return _as_bytes({"digest": digest, "stops": said}, arrays)


def _as_bytes(head: dict[str, Any], arrays: Arrays) -> bytes:
    """A header in JSON, then the arrays it names, one after the other."""
    shapes = [[name, values.dtype.str, values.shape] for name, values in arrays.items()]
    text = json.dumps(head | {"arrays": shapes}).encode()
    parts = [len(text).to_bytes(LENGTH_BYTES, "little"), text]
    return b"".join([*parts, *(np.ascontiguousarray(array).tobytes() for array in arrays.values())])


def run_from_bytes(content: bytes | None, prior: Parameters) -> KeptRun | None:
    """What `run_as_bytes` made, with the prior it began from; None where it is not that."""
    try:
        head, arrays = _from_bytes(content or b"")
        return _kept(head, arrays, prior)
    except SPOILT:
        return None


def stops_from_bytes(content: bytes | None, digest: str) -> dict[int, Stop]:
    """What `stops_as_bytes` made of the run with that digest; none where it is not that."""
    try:
        head, arrays = _from_bytes(content or b"")
        if head["digest"] != digest:
            return {}
        return {
            int(evening): Stop(own, _state(str(evening), arrays, int(read)))
            for evening, own, read in head["stops"]
        }
    except SPOILT:
        return {}


def _from_bytes(content: bytes) -> tuple[dict[str, Any], Arrays]:
    start = LENGTH_BYTES + int.from_bytes(content[:LENGTH_BYTES], "little")
    head = json.loads(content[LENGTH_BYTES:start])
    return head, _arrays(head["arrays"], content, start)


def _arrays(shapes: list[Any], content: bytes, start: int) -> Arrays:
    arrays: Arrays = {}
    for name, kind, shape in shapes:
        dtype = np.dtype(kind)
        if dtype.hasobject:
            raise ValueError(name)
        count = math.prod(shape)
        values = np.frombuffer(content, dtype, count, start)
        arrays[name] = values.reshape(shape)
        start += count * dtype.itemsize
    return arrays


def _kept(head: dict[str, Any], arrays: Arrays, prior: Parameters) -> KeptRun:
    volume, parameters, errors = _taken("end", arrays)
    checks = [
        _check(said, {name: arrays[f"check {name}"][place] for name in CHECK_ARRAYS})
        for place, said in enumerate(head["checks"])
    ]
    run = FilterRun(
        station_ids=tuple(head["ids"]),
        last_day=date.fromordinal(head["last_day"]),
        p10_l=arrays["p10_l"],
        p50_l=arrays["p50_l"],
        p90_l=arrays["p90_l"],
        overflow_l=arrays["overflow_l"],
        hindsight_l=arrays["hindsight_l"],
        volume_l=volume,
        prior=prior,
        parameters=parameters,
        errors=errors,
        checks=tuple(checks),
    )
    return KeptRun(head["digest"], int(head["first"]), run)


def _members(key: str, volume: FloatArray, parameters: Parameters, errors: ErrorState) -> Arrays:
    return {
        f"{key} volume": volume,
        f"{key} parameters": np.stack([getattr(parameters, name) for name in PARAMETER_NAMES]),
        f"{key} storm": errors.storm,
        f"{key} demand": errors.demand,
        f"{key} wet": errors.wet,
    }


def _taken(key: str, arrays: Arrays) -> tuple[FloatArray, Parameters, ErrorState]:
    errors = ErrorState(arrays[f"{key} storm"], arrays[f"{key} demand"], arrays[f"{key} wet"])
    return arrays[f"{key} volume"], Parameters(*arrays[f"{key} parameters"]), errors


def _state(key: str, arrays: Arrays, read: int) -> FilterState:
    volume, parameters, errors = _taken(key, arrays)
    return FilterState(volume, parameters, errors, (read,), (LookedBack(arrays[f"{key} back"]),))


def _check_head(check: ReadingCheck) -> list[Any]:
    seen = check.observation
    mark = None if seen.mark is None else seen.mark.value
    said = [seen.day, seen.depth_mm, mark, seen.error_mm, seen.dry_edge]
    return [*said, *(getattr(check, name) for name in CHECK_NUMBERS)]


def _check(said: list[Any], arrays: Arrays) -> ReadingCheck:
    day, depth_mm, mark, error_mm, dry_edge, *numbers = said
    seen = Observation(
        day, 0, depth_mm, None if mark is None else LevelMark(mark), error_mm, dry_edge
    )
    values: dict[str, Any] = dict(zip(CHECK_NUMBERS, numbers, strict=True)) | arrays
    return ReadingCheck(observation=seen, **values)
