"""The weather of a site cut into spans: those it knows, and pieces of gaps.

Where the record has gaps every member lives through weather of its own; elsewhere all share
the record. The cuts belong to the site alone, whoever is followed on it and from when.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from hashlib import blake2b

import numpy as np

from store.model.site_weather import WARM_UP_DAYS, SiteWeather, unknown_days
from store.model.tract_weather import TractWeather
from store.water.forcing import ARRAYS, Forcing
from store.water.priors import MEMBERS
from store.weather.calendar_grid import CalendarGrid, calendar_days, calendar_grid
from store.weather.days import FloatArray
from store.weather.elements import FIELDS
from store.weather.gaps import cut

AFTER_GAP_DAYS = 6
"""Days after a gap on which the soil still remembers the gap's rain."""
LONGEST_SPAN_DAYS = 120
"""Longer gaps are taken in pieces, so that memory stays bounded."""


@dataclass(frozen=True)
class Span:
    """Days from `first` up to and without `stop`, as ordinals.

    `gap` marks a piece of a gap and the days after it.
    """

    first: int
    stop: int
    gap: bool


@lru_cache(maxsize=64)
def spans_of(site: SiteWeather, last_day: date) -> tuple[Span, ...]:
    """The spans of a site from the first day of its record to a day."""
    first_day = site.record.weather.first_day
    unsure = np.zeros((last_day - first_day).days + 1, dtype=bool)
    for day in np.flatnonzero(unknown_days(site.record, first_day, last_day)):
        unsure[day : day + AFTER_GAP_DAYS] = True
    begin, spans = first_day.toordinal(), []
    edges = (np.flatnonzero(np.diff(unsure.astype(np.int8))) + 1).tolist()
    for start, stop in itertools.pairwise([0, *edges, len(unsure)]):
        if not unsure[start]:
            spans.append(Span(begin + start, begin + stop, gap=False))
            continue
        for piece in range(start, stop, LONGEST_SPAN_DAYS):
            end = min(piece + LONGEST_SPAN_DAYS, stop)
            spans.append(Span(begin + piece, begin + end, gap=True))
    return tuple(spans)


def span_forcing(site: SiteWeather, span: Span, start: int, last_day: date) -> Forcing:
    """The forcing of a site from a day of a span to its end, in a run up to `last_day`.

    In a gap it has members.
    """
    if span.gap:
        return _piece(site, span).between(start - span.first, span.stop - span.first)
    return site.forcing(date.fromordinal(start), last_day).between(0, span.stop - start)


@lru_cache(maxsize=4)
def _piece(site: SiteWeather, span: Span) -> Forcing:
    return site.gap_forcing(date.fromordinal(span.first), date.fromordinal(span.stop - 1), MEMBERS)


@lru_cache(maxsize=64)
def weather_digests(
    site: SiteWeather, last_day: date, evenings: tuple[int, ...]
) -> Mapping[int, bytes]:
    """What the water of a site up to each of some evenings, ordinals, depends on.

    Those before its record or after `last_day` are left out.
    """
    whole = site.forcing(site.record.weather.first_day, last_day)
    first, digest = whole.first_day.toordinal(), blake2b(digest_size=16)
    digest.update(repr((first, site.latitude_deg, site.record.drinking)).encode())
    spans, found = spans_of(site, last_day), dict[int, bytes]()
    waiting = [one for one in sorted(evenings) if one >= spans[0].first]
    for span in spans:
        start = span.first
        if span.gap:
            digest.update(_piece_digest(site, span))
        while start < span.stop:
            stop = min([span.stop, *(one + 1 for one in waiting[:1])])
            digest.update(repr((start, stop)).encode())
            if not span.gap:
                for name in ARRAYS:
                    digest.update(getattr(whole, name)[start - first : stop - first].tobytes())
            if waiting and stop == waiting[0] + 1:
                found[waiting.pop(0)] = digest.digest()
            start = stop
    return found


@lru_cache(maxsize=512)
def _piece_digest(site: SiteWeather, span: Span) -> bytes:
    """What the members of a piece of a gap depend on."""
    digest, record = blake2b(digest_size=16), site.record
    digest.update(repr((span, site.elevation_m, record.normals)).encode())
    first = date.fromordinal(span.first - WARM_UP_DAYS)
    last = date.fromordinal(span.stop - 1)
    grids = _grids(record)
    _, slots = calendar_days(first, (last - first).days + 1)
    lent = np.stack([grid.values[:, slots] for grid in grids])
    own = cut(record.weather, first, last)
    known = np.stack([own.rain_mm, own.tmin_c, own.tmax_c])
    fits = ~np.isnan(lent) | ~np.isnan(known)[:, np.newaxis]
    if record.normals is None and not fits.all(axis=0).any(axis=0).all():
        for name in FIELDS:
            digest.update(getattr(record.weather, name).tobytes())
        digest.update(repr(record.weather.first_day).encode())
    digest.update(known.tobytes())
    if record.normals is None:
        there = np.flatnonzero(~np.isnan(lent).all(axis=(0, 2)))
        years = slice(there[0], there[-1] + 1) if len(there) else slice(0)
        digest.update(repr(grids[0].first_year + (years.start or 0)).encode())
        digest.update(np.ascontiguousarray(lent[:, years]).tobytes())
    return digest.digest()


@lru_cache(maxsize=16)
def _grids(record: TractWeather) -> tuple[CalendarGrid, CalendarGrid, CalendarGrid]:
    def grid(values: FloatArray) -> CalendarGrid:
        return calendar_grid(record.weather.first_day, values)

    weather = record.weather
    return grid(weather.rain_mm), grid(weather.tmin_c), grid(weather.tmax_c)
