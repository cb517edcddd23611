"""A site as it was looked at last, and what writes a new look at it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.errors import BadValue
from store.model.snapshot import Snapshot
from store.records import Chore, Draft, Entry, SiteCheck, StationFacts
from store.season.cautions import Caution, chore_cautions
from store.season.site import SITE_POINTS, SitePoint, weak_points
from store.vocabulary import ChoreKind
from store.water.geometry import Tank, tank_from_measures


@dataclass(frozen=True)
class SiteState:
    """`check` is empty where nobody looked yet; `entry_id` names the entry it stands in."""

    check: SiteCheck
    entry_id: str | None
    weak: tuple[SitePoint, ...]
    cautions: tuple[Caution, ...]


def site_state(snapshot: Snapshot, station_id: str) -> SiteState:
    """The site of a station, with its weak points and the cautions of an install."""
    facts = snapshot.places.stations[station_id]
    entry = _last(snapshot, station_id)
    check = None if entry is None else entry.fact
    found = check if isinstance(check, SiteCheck) else None
    return SiteState(
        found or SiteCheck(station_id),
        None if entry is None else entry.entry_id,
        weak_points(found, facts.tank.depth_mm, capacity_of(facts)),
        chore_cautions(ChoreKind.INSTALL, bear_country=facts.bear_country),
    )


def site_drafts(
    snapshot: Snapshot,
    state: SiteState,
    answers: Mapping[str, bool | None],
    *,
    installed: bool,
    water_l: float | None = None,
) -> tuple[Draft, ...]:
    """What writes the answers by point, and the install of today; empty where nothing changed.

    `water_l` is the water in the new tank, None where nobody knows.
    """
    check = SiteCheck(state.check.station_id, **answers, note=state.check.note)
    drafts = []
    if check != state.check:
        drafts.append(Draft(snapshot.today, check, revises=state.entry_id))
    if installed:
        drafts.append(Draft(snapshot.today, Chore(check.station_id, ChoreKind.INSTALL, water_l)))
    return tuple(drafts)


def answers_of(check: SiteCheck) -> dict[str, bool | None]:
    """The answers by the name of the point."""
    return {point.name: getattr(check, point.name) for point in SITE_POINTS}


def tank_of(facts: StationFacts) -> Tank | None:
    """The tank of a station; None where the measures do not make one."""
    try:
        return tank_from_measures(facts.tank)
    except BadValue:
        return None


def capacity_of(facts: StationFacts) -> float | None:
    """Litres to the rim; None where the measures do not make a tank."""
    tank = tank_of(facts)
    return None if tank is None else tank.capacity_l


def _last(snapshot: Snapshot, station_id: str) -> Entry | None:
    checks = [e for e in snapshot.log.get(station_id, ()) if isinstance(e.fact, SiteCheck)]
    return checks[-1] if checks else None
