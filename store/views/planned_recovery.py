"""The ways out of one event under another plan of bailing, and how a plan is typed."""

from __future__ import annotations

from datetime import date

from store.contamination.choices import Plan
from store.errors import BadValue
from store.model.board import Board
from store.model.known_levels import Levels
from store.model.recoveries import recoveries_of
from store.model.recovery import EventRecovery
from store.records import StationFacts
from store.units import gallons_from_litres
from store.views.check_in import level_on
from store.water.geometry import tank_from_measures

USUAL_PERCENT = 90.0
MOST_LOAD_L = 40_000.0
"""What a road tanker carries; beyond it a number is a slip (assumed)."""


def bail_share(percent: float) -> float:
    """The share of the water that so many percent are, 0.01 to 1.

    Raises:
        BadValue: above 100 or below 1 percent.
    """
    if not 1.0 <= percent <= 100.0:
        raise BadValue(
            f"A bail of {percent:g} percent cannot be: no tank gives more than all its water, and "
            "under 1 percent is no bailing. Give 1 to 99 percent."
        )
    return percent / 100.0


def bailing_plan(today: date, percent: float | None = None, load_l: float | None = None) -> Plan:
    """Bailing today as a person plans it: percent of the water each round, litres a load.

    Raises:
        BadValue: no percentage that can be bailed, or a load of nothing.
    """
    share = bail_share(USUAL_PERCENT if percent is None else percent)
    if share >= 1.0:
        raise BadValue(
            "Bailing leaves some water behind, so 100 percent cannot be planned; give 1 to 99, or "
            "look at draining instead."
        )
    if load_l is not None and not 0.0 < load_l <= MOST_LOAD_L:
        raise BadValue(
            f"A load of {load_l:g} L cannot be carried; give more than 0 and at most "
            f"{MOST_LOAD_L:,.0f} L ({gallons_from_litres(MOST_LOAD_L):,.0f} gal)."
        )
    return Plan(today, share, load_l=load_l)


def replanned(board: Board, event_id: str, plan: Plan) -> EventRecovery | None:
    """One open event under a plan; None where the board has no such open event."""
    found = board.recoveries.by_event.get(event_id)
    if found is None:
        return None
    only = {found.station.station_id}
    again = recoveries_of(board.snapshot, board.levels, plan, only=only)
    return again.by_event.get(event_id)


def bailed_l(levels: Levels, station: StationFacts, day: date, percent: float) -> float:
    """Litres that so many percent of a day's water are; of a full tank where none is modeled.

    Raises:
        BadValue: as `bail_share`.
    """
    level = level_on(levels, station.station_id, day)
    held_l = tank_from_measures(station.tank).capacity_l if level is None else level.volume_l
    return bail_share(percent) * held_l
