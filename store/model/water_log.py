"""What a station's log did to its water and read of it, as the model takes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

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
RankedChange = tuple[int, Change]
"""A change with its place in the order of its day."""


@dataclass(frozen=True)
class WaterLog:
    """What a station's log did to its water, its days counted from the station's first.

    `work` is what people did, in the order it was done, with gallons as noted; `readings`
    are what they saw of the water, `counts` of animals. `levels` are the readings as logged.
    """

    work: tuple[RankedChange, ...]
    readings: tuple[Observation, ...]
    counts: tuple[UseCount, ...]
    levels: tuple[tuple[int, Reading], ...]

    @cached_property
    def said(self) -> tuple[tuple[int, str], ...]:
        """All that the model hears of, each in a line, by day."""
        lines = [
            *((one.day, f"{rank} {one.kind} {_said(one.volume_l)} {one.kept_share}")
              for rank, one in self.work),
            *((one.day, f"{one.depth_mm} {one.mark} {one.error_mm} {one.dry_edge} "
                        f"{one.after_work}")
              for one in self.readings),
            *((one.day, f"{one.per_day} {one.spread}") for one in self.counts),
        ]  # fmt: skip
        return tuple(sorted(lines, key=lambda line: line[0]))


def _said(volume_l: object) -> object:
    """Members of a start that nobody knows go by the station alone."""
    return "anything" if isinstance(volume_l, np.ndarray) else volume_l


def water_log(station: Modeled, log: Sequence[Entry]) -> WaterLog:
    """The water's part of a station's log."""
    first_day = station.first
    inside = [entry for entry in log if first_day <= entry.day <= station.last]
    levels = [
        ((entry.day - first_day).days, reading) for entry in inside for reading in _read_in(entry)
    ]
    seen = [
        (entry.fact, (entry.day - first_day).days)
        for entry in inside
        if isinstance(entry.fact, Sighting)
    ]
    return WaterLog(
        work=tuple(_hand_work(station, inside)),
        readings=tuple(
            observation_of(reading, station.tank_site, day, 0) for day, reading in levels
        ),
        counts=use_counts_of(seen, 0, 0),
        levels=tuple(levels),
    )


def hand_work(station: Modeled, log: WaterLog, start: int, stop: int) -> list[Change]:
    """What people did to the water on days from `start` to before `stop`, unsure as it is."""
    return [_unsure(station, change) for _, change in log.work if start <= change.day < stop]


def at_their_word(station: Modeled, log: WaterLog) -> list[Change]:
    """What people did, gallons as noted, with every reading as the level it says."""
    ranked = [
        (rank, replace(change, volume_l=float(np.median(change.volume_l))))
        if isinstance(change.volume_l, np.ndarray)
        else (rank, change)
        for rank, change in log.work
    ]
    for day, reading in log.levels:
        volume_l = reading_volume_l(station.tank, reading)
        rank = LEAVING_RANK if reading.after_work else READING_RANK
        ranked.append((rank, Change(day, 0, ChangeKind.SET, volume_l)))
    return [change for _, change in sorted(ranked, key=lambda item: (item[1].day, item[0]))]


def _read_in(entry: Entry) -> tuple[Reading, ...]:
    """What an entry says of the level: a dry spell that was seen is a tank seen dry."""
    match entry.fact:
        case Reading() as reading:
            return (reading,)
        case Contamination(cause=Cause.DRY_SPELL, station_id=station_id):
            return (Reading(station_id, mark=LevelMark.DRY),)
        case _:
            return ()


SET_RANK, READING_RANK, OUT_RANK, IN_RANK, LEAVING_RANK = range(5)
"""The order of a day: a tank is dug in, its level read on coming, water taken out,
water brought, the level read on leaving."""


def _hand_work(station: Modeled, log: Sequence[Entry]) -> list[RankedChange]:
    """What people did to the water of a station, with its rank within the day."""
    capacity_l = station.tank.capacity_l
    unknown = unknown_start_l(station.facts.station_id, capacity_l, MEMBERS)
    work: list[RankedChange] = [(SET_RANK, Change(0, 0, ChangeKind.SET, unknown))]
    for entry in log:
        effect = _effect(entry)
        if effect is not None:
            rank, kind, volume_l, kept_share = effect
            day = (entry.day - station.first).days
            work.append((rank, Change(day, 0, kind, volume_l, kept_share)))
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


def _unsure(station: Modeled, change: Change) -> Change:
    """Gallons as they are counted in the field: each member has its own."""
    if not isinstance(change.volume_l, float):
        return change
    evening = station.first.toordinal() + change.day
    rng = station_rng(station.facts.station_id, Purpose.GALLONS, evening)
    spread = np.exp(GALLONS_SPREAD * rng.standard_normal(MEMBERS) - GALLONS_SPREAD**2 / 2.0)
    return replace(change, volume_l=change.volume_l * spread)


def reading_volume_l(tank: Tank, reading: Reading) -> float:
    """The volume at a level somebody read; by eye means a share of the inside depth."""
    return float(volume_below_rim_l(tank, reading.below_rim_of(tank.depth_mm)))
