"""The heavy-use weeks ahead of a station: whether its water holds, and for how many days.

Every chance to hold that a person sees comes from here, so that no two screens differ.
"""

from __future__ import annotations

from datetime import date

import numpy as np

from store.model.ensembles import MEMBERS_FOR_CHANCES, Ensemble, Fill, ensemble_runs
from store.model.known_levels import Levels
from store.season.windows import Window
from store.weather.days import BoolArray, FloatArray


def until_its_end(
    levels: Levels, today: date, weeks: Window, station_id: str, fill: Fill | None = None
) -> Ensemble | None:
    """One station from tomorrow to the last of the weeks, with water brought or without.

    The same courses of the weather either way. None where the model cannot follow it.
    """
    runs = ensemble_runs(
        levels,
        today,
        days=(weeks.last - today).days,
        members=MEMBERS_FOR_CHANCES,
        fills=None if fill is None else {station_id: fill},
        only=(station_id,),
    )
    return next((run.future for _, run in runs), None)


def hold_chance(future: Ensemble, weeks: Window) -> float:
    """The share of the courses, 0 to 1, in which it is not dry on any day of the weeks."""
    return float((~_dry_in(future, weeks)).all(axis=0).mean())


def wet_days(future: Ensemble, weeks: Window) -> FloatArray:
    """Days of the weeks with water within reach, by member."""
    return np.asarray((~_dry_in(future, weeks)).sum(axis=0), dtype=np.float64)


def _dry_in(future: Ensemble, weeks: Window) -> BoolArray:
    return future.dry[future.index(weeks.first) : future.index(weeks.last) + 1]
