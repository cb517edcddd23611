"""Gaps in a record, filled from the same calendar days of other years and marked.

Rain is never averaged: a run of missing days takes the rain of one other year, day
for day, so that spells and downpours stay what they are. Temperatures are the mean
of the other years.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from store.errors import BadValue
from store.weather.calendar_grid import (
    SLOTS,
    CalendarGrid,
    IntArray,
    calendar_days,
    calendar_grid,
)
from store.weather.days import BoolArray, DailyWeather, FloatArray, empty_weather, true_runs
from store.weather.elements import FIELDS
from store.weather.members import WeatherMembers


@dataclass(frozen=True)
class GapCount:
    """Of `days` days, how many lack rain or a temperature, and how many were filled."""

    days: int
    without_rain: int
    without_temperature: int
    filled: int


def cut(weather: DailyWeather, first_day: date, last_day: date) -> DailyWeather:
    """The days of a span; those outside the record are unknown.

    Raises:
        BadValue: the span ends before it begins.
    """
    if last_day < first_day:
        raise BadValue(f"The span from {first_day} to {last_day} ends before it begins; swap them.")
    span = empty_weather(first_day, (last_day - first_day).days + 1)
    start = (weather.first_day - first_day).days
    low, high = max(start, 0), min(start + weather.days, span.days)
    if low < high:
        for name in (*FIELDS, "filled"):
            getattr(span, name)[low:high] = getattr(weather, name)[low - start : high - start]
    return span


def gap_count(weather: DailyWeather, first_day: date, last_day: date) -> GapCount:
    """Count what is missing from a span. Raises: BadValue, as `cut`."""
    span = cut(weather, first_day, last_day)
    without_temperature = np.isnan(span.tmin_c) | np.isnan(span.tmax_c)
    return GapCount(
        days=span.days,
        without_rain=int(np.isnan(span.rain_mm).sum()),
        without_temperature=int(without_temperature.sum()),
        filled=int(span.filled.sum()),
    )


def fill_gaps(weather: DailyWeather, first_day: date, last_day: date) -> DailyWeather:
    """The span with rain and temperatures complete; filled days are marked.

    Rain of a run of missing days comes from the nearest year, the earlier of two,
    that knows the same calendar days; where none knows them all the run is halved.
    Where no year knows a calendar day, the record's known rain days are taken in
    order, starting from the nearest calendar day and going round. Temperatures are
    the mean of the years that know the calendar day, else lie between the nearest
    calendar days that are known. 29 February uses 28 February of years without one.

    Raises:
        BadValue: the record knows no rain or no temperature at all, or as `cut`.
    """
    _refuse_nothing(weather)
    span = cut(weather, first_day, last_day)
    missing_rain = np.isnan(span.rain_mm)
    no_low, no_high = np.isnan(span.tmin_c), np.isnan(span.tmax_c)
    years, slots = calendar_days(first_day, span.days)
    rain_mm = _filled_rain(weather, span, years, slots)
    tmin_c = np.where(no_low, _usual_year(weather.first_day, weather.tmin_c)[slots], span.tmin_c)
    tmax_c = np.where(no_high, _usual_year(weather.first_day, weather.tmax_c)[slots], span.tmax_c)
    tmin_c, tmax_c = _uncrossed(tmin_c, tmax_c, no_low, no_high)
    filled = span.filled | missing_rain | no_low | no_high
    return replace(span, rain_mm=rain_mm, tmin_c=tmin_c, tmax_c=tmax_c, filled=filled)


def gap_members(
    weather: DailyWeather, first_day: date, last_day: date, members: int, seed: int
) -> WeatherMembers:
    """The span as members that agree where the record knows and differ in its gaps.

    Each run of missing days takes, in each member, rain and temperatures of one
    other year that knows them all; the years are dealt out in a random order, so
    none comes twice before all came once. Without such a year the run is halved,
    and days no other year knows are filled as in `fill_gaps`, their rain from a
    different starting day in each member.

    Raises:
        BadValue: as `fill_gaps`, or fewer than one member.
    """
    if members < 1:
        raise BadValue(f"{members} members cannot be made; ask for at least one.")
    rng = np.random.default_rng(seed)
    span = cut(weather, first_day, last_day)
    complete = fill_gaps(weather, first_day, last_day)
    known = np.stack([span.rain_mm, span.tmin_c, span.tmax_c])
    grids = [
        calendar_grid(weather.first_day, values)
        for values in (weather.rain_mm, weather.tmin_c, weather.tmax_c)
    ]
    start = np.stack([complete.rain_mm, complete.tmin_c, complete.tmax_c])
    result = np.repeat(start[:, :, np.newaxis], members, axis=2)
    years, slots = calendar_days(first_day, span.days)
    missing = np.isnan(known)
    has_donor = _joint_donor(grids, slots, missing)
    gap = missing.any(axis=0)
    for run in true_runs(gap & has_donor):
        for part, offsets in _parts(grids, years, slots, missing, run):
            dealt = np.resize(rng.permutation(offsets), members)
            for element, grid in enumerate(grids):
                days = np.flatnonzero(missing[element, part]) + part.start
                lent = grid.at(years[days, np.newaxis] + dealt, slots[days, np.newaxis])
                result[element, days] = lent
    known_rain = weather.rain_mm[~np.isnan(weather.rain_mm)]
    for run in true_runs(missing[0] & ~has_donor):
        starts = rng.integers(len(known_rain), size=members)
        steps = np.arange(run.stop - run.start)
        result[0, run] = known_rain[(steps[:, np.newaxis] + starts) % len(known_rain)]
    tmin_c, tmax_c = _uncrossed(
        result[1], result[2], missing[1][:, np.newaxis], missing[2][:, np.newaxis]
    )
    return WeatherMembers(result[0], tmin_c, tmax_c)


def _refuse_nothing(weather: DailyWeather) -> None:
    for name, shown in (("rain_mm", "rain"), ("tmin_c", "lowest"), ("tmax_c", "highest")):
        if np.isnan(getattr(weather, name)).all():
            what = shown if shown == "rain" else f"{shown} temperature"
            raise BadValue(
                f"The weather record knows no {what} on any day, so its gaps cannot be filled; "
                "import a file that has it."
            )


def _offsets(grid: CalendarGrid, years: IntArray) -> list[int]:
    """Year offsets that reach into the record, nearest first, the earlier of two first."""
    lowest = grid.first_year - int(years.max())
    highest = grid.first_year + grid.years - 1 - int(years.min())
    return sorted((k for k in range(lowest, highest + 1) if k), key=lambda k: (abs(k), k))


def _halves(run: slice) -> tuple[slice, slice]:
    middle = (run.start + run.stop) // 2
    return slice(run.start, middle), slice(middle, run.stop)


def _filled_rain(
    weather: DailyWeather, span: DailyWeather, years: IntArray, slots: IntArray
) -> FloatArray:
    grid = calendar_grid(weather.first_day, weather.rain_mm)
    has_donor: BoolArray = (~np.isnan(grid.values)).sum(axis=0)[slots] > 0
    missing = np.isnan(span.rain_mm)
    rain_mm = span.rain_mm.copy()
    waiting = list(true_runs(missing & has_donor))
    while waiting:
        run = waiting.pop()
        for offset in _offsets(grid, years[run]):
            lent = grid.at(years[run] + offset, slots[run])
            if not np.isnan(lent).any():
                rain_mm[run] = lent
                break
        else:
            waiting.extend(_halves(run))
    known = ~np.isnan(weather.rain_mm)
    known_rain = weather.rain_mm[known]
    known_slots = calendar_days(weather.first_day, weather.days)[1][known]
    for run in true_runs(missing & ~has_donor):
        apart = np.abs(known_slots - slots[run.start])
        start = int(np.argmin(np.minimum(apart, SLOTS - apart)))
        rain_mm[run] = known_rain[(start + np.arange(run.stop - run.start)) % len(known_rain)]
    return rain_mm


def _usual_year(first_day: date, values: FloatArray) -> FloatArray:
    """Mean over the years by calendar day, shape (366,), bridged where none is known."""
    grid = calendar_grid(first_day, values).values
    known = ~np.isnan(grid)
    count = known.sum(axis=0)
    has_any = np.flatnonzero(count)
    mean = np.where(known, grid, 0.0).sum(axis=0)[has_any] / count[has_any]
    course: FloatArray = np.interp(np.arange(SLOTS), has_any, mean, period=SLOTS)
    return course


def _uncrossed(
    low: FloatArray, high: FloatArray, low_missing: BoolArray, high_missing: BoolArray
) -> tuple[FloatArray, FloatArray]:
    """Move filled temperatures that crossed: to the known one, else to the middle."""
    crossed = low > high
    middle = (low + high) / 2.0
    meeting = np.where(low_missing & high_missing, middle, np.where(low_missing, high, low))
    return (
        np.where(crossed & low_missing, meeting, low),
        np.where(crossed & high_missing, meeting, high),
    )


def _joint_donor(grids: list[CalendarGrid], slots: IntArray, missing: BoolArray) -> BoolArray:
    """Whether some year knows everything a day lacks, shape (days,)."""
    fits = np.ones((grids[0].years, len(slots)), dtype=bool)
    for element, grid in enumerate(grids):
        fits &= ~np.isnan(grid.values[:, slots]) | ~missing[element]
    some: BoolArray = fits.sum(axis=0) > 0
    return some


def _parts(
    grids: list[CalendarGrid], years: IntArray, slots: IntArray, missing: BoolArray, run: slice
) -> Iterator[tuple[slice, list[int]]]:
    """The run, halved until some year knows all it lacks, with the offsets of such years."""
    waiting = [run]
    while waiting:
        part = waiting.pop()
        offsets = [
            offset
            for offset in _offsets(grids[0], years[part])
            if not any(
                (np.isnan(grid.at(years[part] + offset, slots[part])) & missing[n, part]).any()
                for n, grid in enumerate(grids)
            )
        ]
        if offsets:
            yield part, offsets
        else:
            waiting.extend(reversed(_halves(part)))
