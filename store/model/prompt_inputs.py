"""What the days ahead hold for each station, as the season's rules ask it."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from store.errors import BadValue
from store.model.ensembles import Ensemble
from store.model.fill_worth import FillWorth
from store.model.known_levels import Levels
from store.model.snapshot import Snapshot
from store.model.water_log import reading_volume_l
from store.season.prompt import PromptInputs
from store.water.geometry import tank_from_measures


def station_outlook(
    snapshot: Snapshot,
    levels: Levels,
    future: Ensemble,
    worth: FillWorth | None,
    holds: float,
    station_id: str,
) -> PromptInputs:
    """The outlook of one station, but for its recoveries: medians over the weather years.

    `holds` is the chance that it holds water through the heavy-use weeks.
    """
    own = levels.of(station_id)
    read_today = read_on(snapshot, station_id, snapshot.today)
    share_now = float(own.share[-1])
    share_then = float(np.median(future.share[future.index(snapshot.top_up_day(station_id))]))
    return PromptInputs(
        level_share=share_now,
        top_up_share=share_then,
        fill_volume_l=(1.0 - share_then) * future.station.tank.capacity_l,
        read_share=read_today if own.read[-1] else None,
        dry_from=snapshot.today if own.dry[-1] else _dry_from(future),
        dry_chance=1.0 - holds,
        look=None if worth is None or own.read[-1] else worth.look,
        fill_gain_days=None if worth is None else worth.gain_days,
        fill_costs_days=0.0 if worth is None else worth.costs_days,
    )


def read_on(snapshot: Snapshot, station_id: str, day: date) -> float | None:
    """The share of the capacity that was read on a day, 0 to 1; None where nobody read."""
    seen = snapshot.histories[station_id].last_reading
    facts = snapshot.places.stations[station_id]
    if seen is None or seen.on != day:
        return None
    try:
        tank = tank_from_measures(facts.tank)
    except BadValue:
        return None
    return reading_volume_l(tank, seen.reading) / tank.capacity_l


def _dry_from(future: Ensemble) -> date | None:
    """The first day on which most courses of the weather leave the tank dry."""
    mostly_dry = future.dry.mean(axis=1) > 0.5
    if not mostly_dry.any():
        return None
    return future.first_day + timedelta(days=int(np.argmax(mostly_dry)))
