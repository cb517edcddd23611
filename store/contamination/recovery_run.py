"""How a contaminated tank and the habit of using it come back, day by day.

Row 0 of every array is the day the event was found. Each day the hand work comes
first, then what clings to walls and bottom is released, then the weather; while its
source lies in the water the concentration stays at the source's strength. This
says nothing of safety.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from store.contamination.carcass import (
    WARM_C,
    lasting_degree_days,
    strength,
    warmth,
    warmth_when_found,
)
from store.contamination.draws import Draws
from store.contamination.events import CARCASS_CAUSES, EventHistory
from store.contamination.habit import BACK, BoolArray, habit
from store.contamination.mixing import Array
from store.contamination.tank_weather import TankWeather
from store.contamination.work import Work, by_day, worked
from store.errors import BadValue
from store.vocabulary import Action, Cause
from store.water.dilution import HEEL_SHARE

DECAY_PER_DEGREE = 1.047
"""First-order decay in water grows so much with each degree (published for organic
matter: Lin, Water and Wastewater Calculations Manual)."""
WATER_BACK_SHARE = 0.25
"""Share of the tank at which a dry spell is over (assumed)."""
CLEAR_FOR_DAYS = 14
"""Water is clear from the first of so many clear days in a row (assumed)."""

SOURCE_ENDS: dict[Cause, frozenset[Action]] = {
    Cause.BEAR_USE: frozenset({Action.COVERED, Action.DRAINED}),
    Cause.SILT: frozenset({Action.REMOVED, Action.BAILED, Action.DRAINED}),
}
"""What ends a source, where it is more than taking it out."""
_TAKEN_OUT = frozenset({Action.REMOVED})


@dataclass(frozen=True, eq=False)
class RecoveryRun:
    """Days from `first_day` on; every array but `habit_days` is (days, members).

    `concentration` is against the usual case, `residue` what clings, in the same
    measure times the tank's volume. `no_use` marks days on which the tank is fouled,
    dry, covered or kept by bears; `habit` is 0 to 1 at the end of the day.
    """

    first_day: date
    concentration: Array
    residue: Array
    no_use: BoolArray
    habit: Array
    habit_left: Array
    habit_days: Array

    @property
    def clear_days(self) -> Array:
        """Days until the water is clear, one per member; inf if not in the run."""
        return first_of_run(~self.no_use, CLEAR_FOR_DAYS)

    @property
    def used_days(self) -> Array:
        """Days until the habit is back after the water is clear; inf if not in it."""
        day = np.arange(len(self.habit))[:, np.newaxis]
        back = (self.habit >= BACK) & (day >= self.clear_days)
        return np.where(back.any(axis=0), back.argmax(axis=0), np.inf)


def recovery_run(
    event: EventHistory,
    draws: Draws,
    weather: TankWeather,
    planned: Sequence[Work] = (),
    closed: BoolArray | None = None,
) -> RecoveryRun:
    """The way back of one event in each member.

    `draws` has one member for each of `weather`. `planned` is work still to be done,
    `closed` (days,) marks the days under a cover. Work beyond the days is left out.

    Raises:
        BadValue: the members differ in number.
    """
    if draws.members != weather.members:
        raise BadValue(
            f"{draws.members} members of the cause do not fit {weather.members} of the weather; "
            "draw as many."
        )
    work = sorted((*event.actions, *planned), key=lambda done: done.on)
    source, active = _source(event, draws, weather, work)
    concentration, residue = _mass(event, draws, weather, work, source)
    if event.cause is Cause.DRY_SPELL:
        enough = weather.volume_l >= WATER_BACK_SHARE * weather.capacity_l
        active = ~np.maximum.accumulate(enough, axis=0)
    no_use = active | (concentration > draws.clear_share)
    no_use |= weather.volume_l < weather.dry_l
    if closed is not None:
        no_use |= closed[:, np.newaxis]
    return RecoveryRun(
        event.found,
        concentration,
        residue,
        no_use,
        habit(no_use, draws.habit_days, draws.habit_left),
        draws.habit_left,
        draws.habit_days,
    )


def together(courses: Sequence[RecoveryRun]) -> RecoveryRun:
    """Several events of one station as one: it is back when all are over.

    The courses end on the same day and have as many members. The concentration and
    residue are those of the event found first, for no two can be added.
    """
    first = min(courses, key=lambda one: one.first_day)
    no_use = first.no_use.copy()
    for one in courses:
        no_use[len(no_use) - len(one.no_use) :] |= one.no_use
    habit_days = np.maximum.reduce([one.habit_days for one in courses])
    return RecoveryRun(
        first.first_day,
        first.concentration,
        first.residue,
        no_use,
        habit(no_use, habit_days, first.habit_left),
        first.habit_left,
        habit_days,
    )


def first_of_run(holds: BoolArray, days: int) -> Array:
    """The first day of `days` in a row on which it holds, per member; inf if none.

    A run that the last day cuts short counts.
    """
    fails = np.zeros((len(holds) + 1, *holds.shape[1:]), dtype=np.intp)
    np.cumsum(~holds, axis=0, out=fails[1:])
    ends = np.minimum(np.arange(len(holds)) + days, len(holds))
    begins = fails[ends] == fails[:-1]
    return np.where(begins.any(axis=0), begins.argmax(axis=0), np.inf)


def _source(
    event: EventHistory, draws: Draws, weather: TankWeather, work: Sequence[Work]
) -> tuple[Array, BoolArray]:
    """What the source would keep the water at, and whether it is there, each day."""
    day = np.arange(weather.days)[:, np.newaxis]
    ends_by = SOURCE_ENDS.get(event.cause, _TAKEN_OUT)
    since = event.bears_last or date.min
    ended = (done.on for done in work if done.action in ends_by and done.on >= since)
    ended_day = min(((on - event.found).days for on in ended), default=weather.days)
    if event.cause in CARCASS_CAUSES:
        degree_days = warmth(event.carcass, weather.temperature_c)
        lasts = degree_days < lasting_degree_days(event.carcass, draws.source_days)
        full = draws.strength * strength(event.carcass, degree_days)
    else:
        seen_day = ((event.bears_last or event.found) - event.found).days
        lasts = np.broadcast_to(day < seen_day + draws.source_days, weather.unspilled.shape)
        full = np.broadcast_to(draws.strength, weather.unspilled.shape)
    active = lasts & (day < ended_day)
    return np.where(active, full, 0.0), active


def _mass(
    event: EventHistory,
    draws: Draws,
    weather: TankWeather,
    work: Sequence[Work],
    source: Array,
) -> tuple[Array, Array]:
    """Concentration and residue at the end of each day."""
    concentration, residue = np.empty(source.shape), np.empty(source.shape)
    factor = weather.unspilled * np.exp(-draws.mixed_share * weather.spilled)
    warmer_c = np.maximum(weather.temperature_c, 0.0) - WARM_C
    factor *= np.exp(-draws.decay_per_day * DECAY_PER_DEGREE**warmer_c)
    released = -np.expm1(-1.0 / draws.residue_days)
    dilutes = weather.capacity_l / np.maximum(weather.volume_l, HEEL_SHARE * weather.capacity_l)

    now = _found_at(event, draws, weather)
    clinging = draws.residue_share * now
    works = by_day(work, event.found)
    for day in range(len(source)):
        if day in works:
            thinned, rinsed = worked(works[day], weather.volume_l[day], weather.capacity_l)
            now, clinging = now * thinned, clinging * rinsed
        freed = clinging * released
        clinging = np.maximum(clinging - freed, draws.residue_share * source[day])
        now = np.maximum((now + freed * dilutes[day]) * factor[day], source[day])
        concentration[day], residue[day] = now, clinging
    return concentration, residue


def _found_at(event: EventHistory, draws: Draws, weather: TankWeather) -> Array:
    """The concentration when the event was found, (members,)."""
    if event.cause not in CARCASS_CAUSES:
        return draws.strength
    degree_days = warmth_when_found(event.carcass, weather.temperature_c[0])
    return draws.strength * strength(event.carcass, degree_days)
