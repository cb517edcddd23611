"""A station with another tank, apron or shade: the forms to try, and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from store.errors import BadValue
from store.model.board import Board
from store.model.season_review import review_years, station_season
from store.model.what_if import WhatIf, what_if
from store.records import StationFacts, TankMeasures
from store.season.suggestion import Advice, Suggestion, suggestion
from store.units import Units, m2_from_ft2
from store.vocabulary import ApronSurface, Exposure, Shape, UseSeen
from store.water.geometry import tank_from_measures
from store.water.usual import USUAL_DEPTH_MM, USUAL_TANKS

LARGE_TANK = dict(USUAL_TANKS)["160 gal, straight"]
GOOD_APRON_M2 = m2_from_ft2(250.0)
SHADIER = {Exposure.OPEN: Exposure.PART_SHADE, Exposure.PART_SHADE: Exposure.DEEP_SHADE}


@dataclass(frozen=True)
class Change:
    """What would be different; None stays as it is. Lengths in mm."""

    length_mm: float | None = None
    width_mm: float | None = None
    diameter_mm: float | None = None
    depth_mm: float | None = None
    apron_m2: float | None = None
    exposure: Exposure | None = None


def changed_facts(facts: StationFacts, change: Change) -> StationFacts:
    """The station with a change made; a new length or width makes its tank rectangular.

    Raises:
        BadValue: it would be no possible tank.
    """
    tank = facts.tank
    asked = change.length_mm is not None or change.width_mm is not None
    if change.diameter_mm is not None and asked:
        raise BadValue("A tank has a diameter, or a length and a width; give one of them.")
    if change.diameter_mm is not None:
        tank = TankMeasures(Shape.ROUND, tank.depth_mm, diameter_mm=change.diameter_mm)
    elif asked:
        tank = TankMeasures(
            Shape.RECTANGULAR,
            tank.depth_mm,
            length_mm=change.length_mm or tank.length_mm,
            width_mm=change.width_mm or tank.width_mm,
        )
    if change.depth_mm is not None:
        if tank.shape in (Shape.MEASURED, Shape.HALF_DRUM):
            raise BadValue(f"The depth of a {tank.shape} tank goes with its shape; give both.")
        tank = replace(tank, depth_mm=change.depth_mm)
    tank_from_measures(tank)
    return replace(
        facts,
        tank=tank,
        apron_area_m2=facts.apron_area_m2 if change.apron_m2 is None else change.apron_m2,
        exposure=change.exposure or facts.exposure,
    )


@dataclass(frozen=True)
class Tried:
    """Forms that were tried, and what the usual ones suggest."""

    found: WhatIf
    suggestion: Suggestion | None
    """None where a form of a person's own was asked for."""


def usual_forms(
    facts: StationFacts, units: Units
) -> tuple[tuple[str, Advice | None, StationFacts], ...]:
    """What can be done to a station: a larger or deeper tank, a better apron, shade.

    Their names are in the units of the reader.
    """
    deep = f"{units.depth(USUAL_DEPTH_MM):.0f} {units.depth_name} deep"
    forms: list[tuple[str, Advice | None, StationFacts]] = []
    large_l = tank_from_measures(LARGE_TANK).capacity_l
    if tank_from_measures(facts.tank).capacity_l < large_l:
        larger = replace(facts, tank=LARGE_TANK)
        holds = f"{units.volume(large_l):.0f} {units.volume_name}"
        forms.append((f"{holds} tank, {deep}", Advice.ENLARGE, larger))
    if facts.tank.depth_mm < USUAL_DEPTH_MM and facts.tank.shape is not Shape.MEASURED:
        deeper = replace(facts.tank, depth_mm=USUAL_DEPTH_MM)
        if facts.tank.shape is not Shape.HALF_DRUM:
            forms.append((deep, Advice.DEEPEN, replace(facts, tank=deeper)))
    sculpted = replace(
        facts,
        apron_area_m2=max(facts.apron_area_m2, GOOD_APRON_M2),
        apron_surface=ApronSurface.SCULPTED_SOIL,
        rim_above_ground_mm=0.0,
    )
    if sculpted != facts:
        apron = f"{units.area(sculpted.apron_area_m2):.0f} {units.area_name}"
        forms.append((f"{apron} of sculpted soil, rim flush", Advice.RESCULPT, sculpted))
    if facts.exposure in SHADIER:
        shade = SHADIER[facts.exposure]
        forms.append((f"in {shade}", None, replace(facts, exposure=shade)))
    return tuple(forms)


def tried(
    board: Board, station_id: str, asked: Sequence[tuple[str, StationFacts]] | None = None
) -> Tried:
    """The usual forms of a station over all weather years, and what they suggest.

    Where other forms are asked for, those alone.

    Raises:
        BadValue: the station has no level.
    """
    snapshot = board.snapshot
    facts = snapshot.places.stations[station_id]
    if asked is not None:
        return Tried(what_if(snapshot, board.levels, station_id, asked), None)
    forms = usual_forms(facts, snapshot.units)
    found = what_if(snapshot, board.levels, station_id, [(name, made) for name, _, made in forms])
    now, *others = found.variants
    chances = {
        advice: variant.hold_chance
        for (_, advice, _), variant in zip(forms, others, strict=True)
        if advice is not None
    }
    said = suggestion(
        facts.access,
        now.hold_chance,
        float(now.fills.mean()),
        chances,
        fouled_share=fouled_share(board, station_id),
        used=use_seen(board, station_id),
    )
    return Tried(found, said)


def use_seen(board: Board, station_id: str) -> bool | None:
    """Whether any use was seen; None where nobody looked for it."""
    uses = board.snapshot.histories[station_id].uses
    if not uses:
        return None
    return any(
        (seen.use is not None and seen.use is not UseSeen.NONE) or (seen.camera_per_day or 0.0) > 0
        for seen in uses
    )


def fouled_share(board: Board, station_id: str) -> float:
    """The part of all heavy-use days on file that a station stood fouled."""
    snapshot = board.snapshot
    seasons = [
        station_season(snapshot, board.levels, station_id, year)
        for year in review_years(snapshot, station_id)
    ]
    days = sum(season.heavy_days for season in seasons)
    return sum(season.fouled_heavy_days for season in seasons) / days if days else 0.0
