"""What an outlook is asked for: which stations, to which day, and when water would be brought."""

from __future__ import annotations

from datetime import date, timedelta

from store.errors import BadValue
from store.model.board import Board
from store.model.ensembles import Fill
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.views.outlook import LONGEST_DAYS


def outlook_stations(board: Board) -> tuple[StationFacts, ...]:
    """Every station that is not retired, by tract and name."""
    histories = board.snapshot.histories
    stations = board.snapshot.places.stations.items()
    return tuple(facts for station_id, facts in stations if histories[station_id].retired is None)


def nearest_end(day: date, today: date) -> date:
    """`day`, or the nearest day to which an outlook can reach."""
    return min(max(day, today + timedelta(days=1)), today + timedelta(days=LONGEST_DAYS))


def typed_end(text: str, today: date) -> date:
    """The last day of an outlook as a person typed it.

    Raises:
        BadValue: it is no date, or an outlook cannot reach to it.
    """
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise BadValue(f"{text!r} is not a date; type it as {nearest_end(today, today)}.") from None
    if day != nearest_end(day, today):
        raise BadValue(
            f"{day} is not ahead of {today}, or more than a year; choose a day from tomorrow to "
            f"{nearest_end(date.max, today)}."
        )
    return day


def planned_fill(snapshot: Snapshot, until: date, volume_l: float | None) -> Fill:
    """Water brought on the day for topping up, or today where that lies beyond `until`.

    `volume_l` None means to the rim.

    Raises:
        BadValue: the volume is not more than nothing.
    """
    if volume_l is not None and volume_l <= 0.0:
        raise BadValue("A fill must be more than 0; type how much would be brought.")
    day = snapshot.top_up_day
    return Fill(day if day <= until else snapshot.today, volume_l)
