"""Follow the stations of a logbook with members, learning from their readings.

Where the weather record has gaps, every member lives through weather of its own
there; elsewhere all share the record. So a gap widens the band and is never a dry
spell by silence. A station's result depends on its own log and weather, and on what
it borrows: results are remembered under a digest of just that.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, MutableMapping, Sequence
from dataclasses import fields, replace
from datetime import timedelta
from hashlib import blake2b

import numpy as np

from store.model.modeled import Modeled
from store.model.site_weather import unknown_days
from store.model.snapshot import Snapshot
from store.model.water_input import WaterInput, kept_off, side_by_side, sites_of, water_input
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.forcing import Forcing
from store.water.parameters import Parameters
from store.water.priors import MEMBERS, StationPriors, draw_parameters, station_priors
from store.water.sharing import borrowed_priors, weights_by_neighbours
from store.weather.days import BoolArray

AFTER_GAP_DAYS = 6
"""Days after a gap on which the soil still remembers the gap's rain."""
LONGEST_SPAN_DAYS = 120
"""Longer gaps are taken in pieces, so that memory stays bounded."""

FilterCache = MutableMapping[str, FilterRun]
"""Stations already followed, by the digest of what they depend on."""


def filter_runs(
    snapshot: Snapshot, stations: Sequence[Modeled], memory: FilterCache
) -> dict[str, FilterRun]:
    """Follow stations, by id; each result holds one station from its first day on.

    Stations with readings are followed first; the others then borrow from them.
    `memory` is read at the start, and at the end it holds what was asked for. Two threads
    may share it: the later one to end is remembered.
    """
    known = dict(memory)
    taught = [station for station in stations if _readings(snapshot, station)]
    untaught = [station for station in stations if not _readings(snapshot, station)]
    used: dict[str, FilterRun] = {}
    result = _remembered(snapshot, taught, _own_priors(taught), known, used)
    priors = _own_priors(untaught)
    if taught and untaught:
        priors = _borrowed(taught, untaught, result)
    result |= _remembered(snapshot, untaught, priors, known, used)
    memory.clear()
    memory.update(used)
    return result | _told_of_the_rut(taught, result)


def _told_of_the_rut(
    taught: Sequence[Modeled], result: Mapping[str, FilterRun]
) -> dict[str, FilterRun]:
    """The runs of taught stations, their last members weighed by what neighbours learned."""
    if len(taught) < 2:
        return {}
    facts = [station.facts for station in taught]
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


def _readings(snapshot: Snapshot, station: Modeled) -> bool:
    history = snapshot.histories[station.facts.station_id]
    return history.last_reading is not None and history.last_reading.on >= station.first


def _own_priors(stations: Sequence[Modeled]) -> StationPriors:
    return station_priors([station.facts for station in stations])


def _borrowed(
    taught: Sequence[Modeled], untaught: Sequence[Modeled], result: Mapping[str, FilterRun]
) -> StationPriors:
    """Priors of the untaught stations after hearing what the taught ones learned."""
    facts = [station.facts for station in (*taught, *untaught)]
    priors = station_priors(facts)
    known = [result[station.facts.station_id].parameters for station in taught]
    blank = known[0].map(lambda _: np.ones((len(untaught), MEMBERS)))
    flags = np.arange(len(facts)) < len(taught)
    shared = borrowed_priors(facts, priors, _side_by_side([*known, blank]), flags)
    return StationPriors(shared.log_median[len(taught) :], shared.log_spread[len(taught) :])


def _remembered(
    snapshot: Snapshot,
    stations: Sequence[Modeled],
    priors: StationPriors,
    known: FilterCache,
    used: dict[str, FilterRun],
) -> dict[str, FilterRun]:
    """Results that are known by their digest, the rest followed together and added."""
    digests = [_digest(snapshot, station, priors, row) for row, station in enumerate(stations)]
    fresh = [row for row, digest in enumerate(digests) if digest not in known]
    if fresh:
        source = water_input(snapshot, [stations[row] for row in fresh])
        own = StationPriors(priors.log_median[fresh], priors.log_spread[fresh])
        together = _followed(source, own)
        for column, row in enumerate(fresh):
            start = source.index(source.stations[column].first)
            known[digests[row]] = together.of_station(column, start)
    used |= {digest: known[digest] for digest in digests}
    return {
        station.facts.station_id: known[digest]
        for station, digest in zip(stations, digests, strict=True)
    }


def _digest(snapshot: Snapshot, station: Modeled, priors: StationPriors, row: int) -> str:
    """What a station's result depends on, boiled down."""
    digest = blake2b(digest_size=16)
    log = snapshot.log.get(station.facts.station_id, ())
    said = (
        station.facts,
        station.first,
        station.last,
        snapshot.today,
        [(entry.day, entry.fact) for entry in log],
        kept_off(snapshot.histories[station.facts.station_id], snapshot.cause_priors),
    )
    digest.update(repr(said).encode())
    digest.update(station.site.digest)
    digest.update(priors.log_median[row].tobytes())
    digest.update(priors.log_spread[row].tobytes())
    return digest.hexdigest()


def _followed(source: WaterInput, priors: StationPriors) -> FilterRun:
    ids = [station.facts.station_id for station in source.stations]
    tank_sites = [station.tank_site for station in source.stations]
    prior = draw_parameters(ids, priors, MEMBERS)
    parts: list[FilterRun] = []
    for start, stop, forcing in _spans(source):
        before = parts[-1] if parts else None
        part = follow(
            ids,
            tank_sites,
            forcing,
            before.parameters if before else prior,
            before.volume_l if before else 0.0,
            observations=[
                replace(reading, day=reading.day - start)
                for reading in source.readings
                if start <= reading.day < stop
            ],
            counts=[
                replace(count, day=count.day - start)
                for count in source.counts
                if start <= count.day < stop
            ],
            changes=[
                replace(change, day=change.day - start)
                for change in source.hand_work
                if start <= change.day < stop
            ],
            in_place=source.in_place[start:stop],
            covered=source.covered[start:stop],
            demand_share=source.demand_share[start:stop],
            errors=before.errors if before else None,
            new_years=_new_years(source, start, stop),
            priors=priors,
            evenings_read=_evenings_read(source, start),
        )
        checks = tuple(check.moved(start, check.observation.station) for check in part.checks)
        parts.append(replace(part, checks=checks))
    return replace(
        parts[-1],
        p10_l=np.concatenate([part.p10_l for part in parts]),
        p50_l=np.concatenate([part.p50_l for part in parts]),
        p90_l=np.concatenate([part.p90_l for part in parts]),
        hindsight_l=np.concatenate([part.hindsight_l for part in parts], axis=1),
        overflow_l=np.concatenate([part.overflow_l for part in parts]),
        prior=prior,
        checks=tuple(check for part in parts for check in part.checks),
    )


def _evenings_read(source: WaterInput, stop: int) -> list[int]:
    """On how many evenings before a day each station was read."""
    evenings = {(seen.station, seen.day) for seen in source.readings if seen.day < stop}
    return [
        sum(station == column for station, _ in evenings) for column in range(len(source.stations))
    ]


def _new_years(source: WaterInput, start: int, stop: int) -> list[int]:
    """Days from `start` on which a year of drinking begins, between two ruts."""
    southern = source.stations[0].site.latitude_deg < 0.0
    begins = (1, 1) if southern else (7, 1)
    days = (source.first_day + timedelta(days=day) for day in range(start, stop))
    return [index for index, day in enumerate(days) if (day.month, day.day) == begins]


def _spans(source: WaterInput) -> Iterator[tuple[int, int, Forcing]]:
    """The run cut into spans with their forcing; around gaps it has members."""
    unsure = _unsure_days(source)
    edges = np.flatnonzero(np.diff(unsure.astype(np.int8))) + 1
    for start, stop in itertools.pairwise([0, *edges.tolist(), source.days]):
        if not unsure[start]:
            yield start, stop, source.forcing.between(start, stop)
            continue
        for piece in range(start, stop, LONGEST_SPAN_DAYS):
            end = min(piece + LONGEST_SPAN_DAYS, stop)
            yield piece, end, _gap_forcing(source, piece, end)


def _unsure_days(source: WaterInput) -> BoolArray:
    """Days whose forcing depends on weather some record does not know, shape (days,)."""
    unsure = np.zeros(source.days, dtype=bool)
    last_day = source.first_day + timedelta(days=source.days - 1)
    for site in sites_of(source.stations):
        for day in np.flatnonzero(unknown_days(site.record, source.first_day, last_day)):
            unsure[day : day + AFTER_GAP_DAYS] = True
    return unsure


def _gap_forcing(source: WaterInput, start: int, stop: int) -> Forcing:
    first_day = source.first_day + timedelta(days=start)
    last_day = source.first_day + timedelta(days=stop - 1)
    sites = sites_of(source.stations)
    by_site = side_by_side([site.gap_forcing(first_day, last_day, MEMBERS) for site in sites])
    return by_site.for_stations([sites.index(station.site) for station in source.stations])
