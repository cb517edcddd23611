"""Follow stations from the last evening that still holds, and keep evenings for next time.

What a station does up to an evening depends on its log, its prior and its weather up to
then, and on nothing else: where their digest is the one of a stop that was kept, the run
goes on from there and its numbers are those of a run from the first day, to the last bit.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from hashlib import blake2b

import numpy as np
from numpy.typing import NDArray

from store.model.code_version import code_version
from store.model.kept_run import (
    KeptRun,
    Stop,
    run_as_bytes,
    run_from_bytes,
    stops_as_bytes,
    stops_from_bytes,
)  # fmt: skip
from store.model.shelf import Shelf
from store.model.spans import Span, span_forcing, spans_of, weather_digests
from store.model.water_input import Kind, StationWater, side_by_side, sites_of
from store.model.water_log import hand_work
from store.water.filter_run import FilterRun, FilterState
from store.water.filtering import follow
from store.water.forcing import Forcing
from store.water.model_errors import BLOCK_DAYS, ErrorState, blank_state
from store.water.parameters import Parameters
from store.water.priors import MEMBERS, PARAMETER_NAMES, StationPriors, draw_parameters
from store.weather.days import FloatArray

AT_ONCE = 25
"""Stations followed side by side: their members of an evening stay in the cache."""
UNDER_WAY = 100
"""Stations whose members of several evenings are in memory at a time."""
STEPS = (1, 8)
"""Of the blocks of days, every so many keeps its last evening while it is among the last two
of its step: close together lately, further apart long ago."""


@dataclass(frozen=True, eq=False)
class Asked:
    """A station to follow, and the prior it begins from (one row)."""

    water: StationWater
    priors: StationPriors

    @property
    def station_id(self) -> str:
        return self.water.station.facts.station_id

    @property
    def first(self) -> int:
        return self.water.station.first.toordinal()

    @property
    def last(self) -> int:
        return self.first + self.water.days - 1

    @property
    def name(self) -> str:
        """The name of its run on a shelf."""
        return blake2b(self.station_id.encode(), digest_size=16).hexdigest()

    @property
    def name_of_stops(self) -> str:
        """The name of the stops of its run."""
        return f"{self.name}-stops"


def digest_of(asked: Asked) -> str:
    """What a station's run to its last day depends on, boiled down."""
    digest = blake2b(_log_digests(asked, (asked.last,))[asked.last], digest_size=16)
    digest.update(asked.water.station.site.digest)
    return digest.hexdigest()


def _log_digests(asked: Asked, evenings: Collection[int]) -> dict[int, bytes]:
    """What a station has of its own to go by up to each of some evenings, by ordinal."""
    water, facts = asked.water, asked.water.station.facts
    digest = blake2b(code_version(), digest_size=16)
    said = (
        facts.station_id, facts.tank, facts.apron_area_m2, facts.apron_surface,
        facts.rim_above_ground_mm, facts.exposure, asked.first, _is_southern(asked),
    )  # fmt: skip
    digest.update(repr(said).encode())
    digest.update(asked.priors.log_median.tobytes())
    digest.update(asked.priors.log_spread.tobytes())
    entries = water.log.said
    found, start, place = {}, 0, 0
    for evening in sorted(evenings):
        stop = evening - asked.first + 1
        for values in (water.in_place, water.covered, water.demand_share):
            digest.update(values[start:stop].tobytes())
        digest.update(repr((start, stop)).encode())
        while place < len(entries) and entries[place][0] < stop:
            digest.update(f"{entries[place]}\n".encode())
            place += 1
        found[evening], start = digest.digest(), stop
    return found


def _is_southern(asked: Asked) -> bool:
    return asked.water.station.site.latitude_deg < 0.0


@dataclass(eq=False)
class _Underway:
    """A station being followed: what is kept of it, and what has been worked out since.

    `stop` is the evening it goes on from, None for its first day, and `back_d` the days before
    that a reading may still change; `looks_back` while the span of that evening lasts.
    """

    asked: Asked
    spans: tuple[Span, ...]
    digests: dict[int, str]
    kept: KeptRun | None
    stop: int | None
    back_d: int
    state: FilterState
    looks_back: bool
    parts: list[FilterRun]
    stops: dict[int, Stop]
    shelf: Shelf

    @property
    def at(self) -> int:
        """The first day to be followed."""
        return self.asked.first if self.stop is None else self.stop + 1


def followed(asked: Sequence[tuple[Asked, KeptRun | None]], shelf: Shelf) -> Iterator[FilterRun]:
    """Follow stations, each from its first day or the last evening kept that still holds.

    What is kept of each comes with it, and what is worth keeping goes to the shelf. So many
    are under way at a time that memory stays bounded.
    """
    for first in range(0, len(asked), UNDER_WAY):
        yield from _followed([_begun(*one, shelf) for one in asked[first : first + UNDER_WAY]])
    shelf.tidy()


def _followed(underway: list[_Underway]) -> Iterator[FilterRun]:
    together: dict[tuple[tuple[Span, ...], int | None, bool], list[_Underway]] = {}
    for one in underway:
        key = one.spans, one.stop, _is_southern(one.asked)
        together.setdefault(key, []).append(one)
    for (spans, stop, _), some in together.items():
        some.sort(key=lambda one: one.asked.first)
        for span in spans:
            if stop is not None and span.stop <= stop + 1:
                continue
            active = [one for one in some if one.asked.first < span.stop]
            for first in range(0, len(active), AT_ONCE):
                _follow_span(active[first : first + AT_ONCE], span)
    yield from (_finished(one) for one in underway)


def taken(asked: Asked, shelf: Shelf) -> KeptRun | None:
    """What is kept of a station, be it of use or not."""
    kept = run_from_bytes(shelf.take(asked.name), _prior(asked))
    if kept is None or kept.run.station_ids != (asked.station_id,) or kept.first != asked.first:
        return None
    return kept


def _prior(asked: Asked) -> Parameters:
    return draw_parameters([asked.station_id], asked.priors, MEMBERS)


def _begun(asked: Asked, kept: KeptRun | None, shelf: Shelf) -> _Underway:
    site, last_day = asked.water.station.site, date.fromordinal(asked.last)
    spans = spans_of(site, last_day)
    evenings = _evenings(spans, asked.last)
    stops = {}
    if kept is not None:
        stops = stops_from_bytes(shelf.take(asked.name_of_stops), kept.digest)
    asked_for = {*evenings, *stops}
    weathers = weather_digests(site, last_day, tuple(sorted(asked_for)))
    logs = _log_digests(asked, [one for one in asked_for & weathers.keys() if one > asked.first])
    digests = {
        one: blake2b(log + weathers[one], digest_size=16).hexdigest() for one, log in logs.items()
    }
    holding = [one for one, stop in stops.items() if stop.digest == digests.get(one)]
    stop = max(holding, default=None)
    if stop is None:
        prior = _prior(asked)
        errors = blank_state(1, MEMBERS)
        state = FilterState(np.zeros((1, MEMBERS)), prior, errors, (0,), ())
    else:
        state = stops[stop].state
    return _Underway(
        asked,
        tuple(span for span in spans if span.stop > asked.first),
        {one: digests[one] for one in evenings if one in digests},
        kept,
        stop,
        len(state.looked_back[0].volume_l) if state.looked_back else 0,
        state,
        any(span.first <= (stop or 0) < span.stop - 1 for span in spans),
        [],
        {one: stops[one] for one in holding if one in evenings},
        shelf,
    )


def _evenings(spans: Sequence[Span], last: int) -> set[int]:
    """The evenings worth keeping: ends of blocks, and the last before a gap that is open."""
    last = spans[-1].first - 1 if spans[-1].gap else last
    now = (last + 1) // BLOCK_DAYS
    blocks = {
        block
        for step in STEPS
        for block in range(now // step * step, max(now - 2 * step, 0), -step)
    }
    return {one for one in (last, *(block * BLOCK_DAYS - 1 for block in blocks)) if one <= last}


def _follow_span(some: Sequence[_Underway], span: Span) -> None:
    """Follow stations through what they have not been followed through of a span."""
    start = max(span.first, min(one.at for one in some))
    asked = [one.asked for one in some]
    firsts = [one.first - start for one in asked]
    days, waters = span.stop - start, [one.water for one in asked]
    goes_on = some[0].looks_back and some[0].stop == start - 1
    marks = {one - start for under in some for one in under.digests if start <= one}
    wanted = sorted({days - 1, *(one for one in marks if one < days)})
    run = follow(
        [one.station_id for one in asked],
        [one.station.tank_site for one in waters],
        _forcing(waters, span, start),
        _parameters([one.state.parameters for one in some]),
        np.concatenate([one.state.volume_l for one in some]),
        observations=[
            replace(seen, day=seen.day + first, station=column)
            for column, (water, first) in enumerate(zip(waters, firsts, strict=True))
            for seen in water.log.readings
            if 0 <= seen.day + first < days
        ],
        counts=[
            replace(count, day=count.day + first, station=column)
            for column, (water, first) in enumerate(zip(waters, firsts, strict=True))
            for count in water.log.counts
            if 0 <= count.day + first < days
        ],
        changes=[
            replace(change, day=change.day + first, station=column)
            for column, (water, first) in enumerate(zip(waters, firsts, strict=True))
            for change in hand_work(water.station, water.log, -first, days - first)
        ],
        in_place=_inside([one.in_place for one in waters], firsts, days, False),
        covered=_inside([one.covered for one in waters], firsts, days, False),
        demand_share=_inside([one.demand_share for one in waters], firsts, days, 1.0),
        errors=_errors([one.state.errors for one in some]),
        new_years=_new_years(start, span.stop, _is_southern(asked[0])),
        priors=StationPriors(
            np.concatenate([one.priors.log_median for one in asked]),
            np.concatenate([one.priors.log_spread for one in asked]),
        ),
        evenings_read=[one.state.evenings_read[0] for one in some],
        starts=firsts,
        looked_back=tuple(one.state.looked_back[0] for one in some) if goes_on else (),
        marks=wanted,
    )
    end = run.states[days - 1]
    for column, (one, first) in enumerate(zip(some, firsts, strict=True)):
        part = run.of_station(column, max(first, 0))
        earlier = None if run.earlier_l is None else run.earlier_l[:, :, column]
        checks = tuple(check.moved(max(-first, 0), 0) for check in part.checks)
        one.parts.append(replace(part, earlier_l=earlier if goes_on else None, checks=checks))
        one.state = end.of_station(column)
        for day, state in run.states.items():
            if start + day in one.digests and start + day > one.asked.first:
                one.stops[start + day] = Stop(one.digests[start + day], state.of_station(column))


def _inside(
    columns: Sequence[NDArray[Kind]], firsts: Sequence[int], days: int, around: bool | float
) -> NDArray[Kind]:
    """Columns of own days side by side over a window, `firsts` their first days in it."""
    result = np.full((days, len(columns)), around, dtype=columns[0].dtype)
    for place, (column, first) in enumerate(zip(columns, firsts, strict=True)):
        part = column[max(-first, 0) : max(days - first, 0)]
        result[max(first, 0) : max(first, 0) + len(part), place] = part
    return result


def _forcing(waters: Sequence[StationWater], span: Span, start: int) -> Forcing:
    sites = sites_of(water.station for water in waters)
    last_day = waters[0].last_day
    by_site = side_by_side([span_forcing(site, span, start, last_day) for site in sites])
    if len(sites) == 1:
        return by_site
    return by_site.for_stations([sites.index(water.station.site) for water in waters])


def _parameters(parts: Sequence[Parameters]) -> Parameters:
    return Parameters(
        *(np.concatenate([getattr(one, name) for one in parts]) for name in PARAMETER_NAMES)
    )


def _errors(parts: Sequence[ErrorState]) -> ErrorState:
    width = max(one.wet.shape[1] for one in parts)
    return ErrorState(
        np.concatenate([one.storm for one in parts]),
        np.concatenate([one.demand for one in parts]),
        np.concatenate([np.broadcast_to(one.wet, (1, width)) for one in parts]),
    )


def _new_years(start: int, stop: int, southern: bool) -> list[int]:
    """Days from `start` on which a year of drinking begins, between two ruts."""
    begins = (1, 1) if southern else (7, 1)
    days = (date.fromordinal(day) for day in range(start, stop))
    return [index for index, day in enumerate(days) if (day.month, day.day) == begins]


def _finished(one: _Underway) -> FilterRun:
    """The run of a station put together, and kept."""
    before = _before(one)
    parts = one.parts if before is None else [before, *one.parts]

    def joined(name: str, axis: int = 0) -> FloatArray:
        return np.concatenate([getattr(part, name) for part in parts], axis=axis)

    run = FilterRun(
        station_ids=(one.asked.station_id,),
        last_day=date.fromordinal(one.asked.last),
        p10_l=joined("p10_l"),
        p50_l=joined("p50_l"),
        p90_l=joined("p90_l"),
        hindsight_l=joined("hindsight_l", axis=1),
        overflow_l=joined("overflow_l"),
        volume_l=one.state.volume_l,
        prior=_prior(one.asked) if one.kept is None else one.kept.run.prior,
        parameters=one.state.parameters,
        errors=one.state.errors,
        checks=tuple(check for part in parts for check in part.checks),
    )
    digest = digest_of(one.asked)
    one.shelf.put(one.asked.name, run_as_bytes(KeptRun(digest, one.asked.first, run)))
    one.shelf.put(one.asked.name_of_stops, stops_as_bytes(digest, one.stops))
    return run


def _before(one: _Underway) -> FilterRun | None:
    """The days up to the stop that a run goes on from, as they were known then and are now."""
    if one.kept is None or one.stop is None:
        return None
    run, days = one.kept.run, one.stop - one.asked.first + 1
    hindsight = run.hindsight_l[:, :days].copy()
    open_days = slice(days - one.back_d, days)
    hindsight[:, open_days, 0] = [
        values[open_days, 0] for values in (run.p10_l, run.p50_l, run.p90_l)
    ]
    earlier = one.parts[0].earlier_l if one.parts else None
    if earlier is not None:
        recent = hindsight[:, -earlier.shape[1] :, 0]
        told = earlier[:, -recent.shape[1] :]
        np.copyto(recent, told, where=~np.isnan(told))
    return replace(
        run,
        p10_l=run.p10_l[:days],
        p50_l=run.p50_l[:days],
        p90_l=run.p90_l[:days],
        hindsight_l=hindsight,
        overflow_l=run.overflow_l[:days],
        checks=tuple(check for check in run.checks if check.observation.day < days),
    )
