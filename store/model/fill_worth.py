"""What a fill, and a look before it, is worth at a station in the season under way."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.model.ensembles import EnsembleRun, Fill, ensemble_runs
from store.model.heavy_use import wet_days
from store.model.known_levels import Levels
from store.model.snapshot import Snapshot
from store.season.look import LookValue
from store.season.look_value import days_saved_by_a_look, visit_costs
from store.season.windows import Season
from store.vocabulary import Access
from store.water.drinking import LAWS, season_day, use_weights
from store.water.geometry import below_rim_mm
from store.water.observing import MEASURED_ERROR_MM
from store.water.seeds import Purpose, station_rng


@dataclass(frozen=True)
class FillWorth:
    """Wet days of heavy use that a fill brings and its visit costs, and a look today."""

    gain_days: float
    costs_days: float
    look: LookValue


def fill_worth(
    snapshot: Snapshot, levels: Levels, run: EnsembleRun, station_id: str
) -> FillWorth | None:
    """From when a look counts up to the end of heavy use, where a vehicle gets; else None."""
    station, season = run.future.station, snapshot.season_of(station_id)
    weeks, today = season.heavy_use_ahead(snapshot.today), snapshot.today
    counts_from = season.look_counts_from(season.year_of(weeks.last))
    if station.facts.access is Access.FOOT or today < counts_from:
        return None
    fill_on = season.top_up_day(today)
    ((_, filled),) = ensemble_runs(
        levels,
        today,
        days=(weeks.last - today).days,
        members=run.future.volume_l.shape[1],
        fills={station_id: Fill(fill_on)},
        only=(station_id,),
    )
    members = min(filled.future.volume_l.shape[1], run.future.volume_l.shape[1])
    left = wet_days(run.future, weeks)[:members]
    brought = wet_days(filled.future, weeks)[:members]
    costs = days_lost(run, season, fill_on)
    level_mm = below_rim_mm(station.tank, run.balance.start_volume_l[0][:members])
    noise = station_rng(station_id, Purpose.LOOK).standard_normal(members)
    saves = days_saved_by_a_look(level_mm, MEASURED_ERROR_MM, left, brought, costs, noise)
    look = LookValue(saves, days_lost(run, season, today))
    return FillWorth(float((brought - left).mean()), costs, look)


def days_lost(run: EnsembleRun, season: Season, on: date) -> float:
    """Days of heavy use that a visit on a day costs at a station."""
    site = run.future.station.site
    days = [on + timedelta(days=one) for one in range(round(season.visit_days))]
    of_year = np.array([day.timetuple().tm_yday for day in days], dtype=np.float64)
    law = LAWS[site.record.drinking]
    return visit_costs(use_weights(law, season_day(of_year, site.latitude_deg)))
