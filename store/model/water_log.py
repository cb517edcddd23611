"""What a station's log did to its water and read of it, as the model takes it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from store.contamination.mixing import HEEL_BAILED
from store.model.modeled import Modeled
from store.records import Chore, Contamination, ContaminationAction, Entry, Reading, Sighting
from store.vocabulary import Action, Cause, ChoreKind, LevelMark
from store.water.balance import Change, ChangeKind
from store.water.geometry import Tank, volume_below_rim_l
from store.water.observing import Observation, UseCount, observation_of, use_counts_of
from store.water.priors import MEMBERS, unknown_start_l
from store.water.seeds import Purpose, station_rng

GALLONS_SPREAD = 0.12
"""Standard deviation of the logarithm of gallons brought or bailed against those noted
(assumed)."""


@dataclass(frozen=True)
class WaterLog:
    """The days of a run as indices, `column` the station's place in it.

    `hand_work` is what people did to the water and `readings` what they saw of it,
    `counts` what they saw of animals;
    `at_their_word` is the hand work with every reading as the level it says.
    """

    hand_work: tuple[Change, ...]
    readings: tuple[Observation, ...]
    counts: tuple[UseCount, ...]
    at_their_word: tuple[Change, ...]


def water_log(station: Modeled, log: Sequence[Entry], first_day: date, column: int) -> WaterLog:
    """The water's part of a station's log; a run's days count from `first_day`."""
    inside = [entry for entry in log if station.first <= entry.day <= station.last]
    work = _hand_work(station, inside, first_day, column)
    readings = [
        (reading, (entry.day - first_day).days) for entry in inside for reading in _read_in(entry)
    ]
    seen = [
        (entry.fact, (entry.day - first_day).days)
        for entry in inside
        if isinstance(entry.fact, Sighting)
    ]
    return WaterLog(
        hand_work=tuple(_unsure(station, change, first_day) for _, change in work),
        readings=tuple(
            observation_of(reading, station.tank_site, day, column) for reading, day in readings
        ),
        counts=use_counts_of(seen, (station.first - first_day).days, column),
        at_their_word=tuple(_taken_at_their_word(station, work, readings, column)),
    )


def _read_in(entry: Entry) -> tuple[Reading, ...]:
    """What an entry says of the level: a dry spell that was seen is a tank seen dry."""
    match entry.fact:
        case Reading() as reading:
            return (reading,)
        case Contamination(cause=Cause.DRY_SPELL, station_id=station_id):
            return (Reading(station_id, mark=LevelMark.DRY),)
        case _:
            return ()


SET_RANK, READING_RANK, OUT_RANK, IN_RANK = range(4)
"""The order of a day: a tank is dug in, its level read on coming, water taken out,
water brought."""


def _hand_work(
    station: Modeled, log: Sequence[Entry], first_day: date, column: int
) -> list[tuple[int, Change]]:
    """What people did to the water of a station, with its rank within the day."""
    capacity_l = station.tank.capacity_l
    unknown = unknown_start_l(station.facts.station_id, capacity_l, MEMBERS)
    day = (station.first - first_day).days
    work = [(SET_RANK, Change(day, column, ChangeKind.SET, unknown))]
    for entry in log:
        effect = _effect(entry)
        if effect is not None:
            rank, kind, volume_l, kept_share = effect
            day = (entry.day - first_day).days
            work.append((rank, Change(day, column, kind, volume_l, kept_share)))
    return sorted(work, key=lambda ranked: (ranked[1].day, ranked[0]))


def _effect(entry: Entry) -> tuple[int, ChangeKind, float | None, float] | None:
    """Rank, kind, volume and the share that stays of what an entry did to the water."""
    match entry.fact:
        case Chore(chore=ChoreKind.INSTALL, volume_l=float() as volume_l):
            return SET_RANK, ChangeKind.SET, volume_l, 0.0
        case (
            Chore(chore=ChoreKind.DRAIN)
            | Contamination(action=Action.DRAINED)
            | ContaminationAction(action=Action.DRAINED)
        ):
            return OUT_RANK, ChangeKind.DRAIN, None, 0.0
        case (
            Contamination(action=Action.BAILED, volume_l=volume_l)
            | ContaminationAction(action=Action.BAILED, volume_l=volume_l)
        ):
            return OUT_RANK, ChangeKind.DRAIN, volume_l, HEEL_BAILED
        case (
            Chore(chore=ChoreKind.FILL, volume_l=volume_l)
            | Contamination(action=Action.REFILLED, volume_l=volume_l)
            | ContaminationAction(action=Action.REFILLED, volume_l=volume_l)
        ):
            return IN_RANK, ChangeKind.ADD, volume_l, 0.0
        case _:
            return None


def _unsure(station: Modeled, change: Change, first_day: date) -> Change:
    """Gallons as they are counted in the field: each member has its own."""
    if not isinstance(change.volume_l, float):
        return change
    rng = station_rng(station.facts.station_id, Purpose.GALLONS, first_day.toordinal() + change.day)
    spread = np.exp(GALLONS_SPREAD * rng.standard_normal(MEMBERS) - GALLONS_SPREAD**2 / 2.0)
    return replace(change, volume_l=change.volume_l * spread)


def _taken_at_their_word(
    station: Modeled,
    work: Iterable[tuple[int, Change]],
    readings: Iterable[tuple[Reading, int]],
    column: int,
) -> list[Change]:
    """The hand work with every reading as the level it says, and one unknown start."""
    ranked = [
        (rank, replace(change, volume_l=float(np.median(change.volume_l))))
        if isinstance(change.volume_l, np.ndarray)
        else (rank, change)
        for rank, change in work
    ]
    for reading, day in readings:
        volume_l = reading_volume_l(station.tank, reading)
        ranked.append((READING_RANK, Change(day, column, ChangeKind.SET, volume_l)))
    return [change for _, change in sorted(ranked, key=lambda item: (item[1].day, item[0]))]


def reading_volume_l(tank: Tank, reading: Reading) -> float:
    """The volume at a level somebody read; by eye means a share of the inside depth."""
    return float(volume_below_rim_l(tank, reading.below_rim_of(tank.depth_mm)))
