"""Three invented tracts with fourteen invented tanks.

Sizes are in inches and aprons in square feet, as a keeper measures them; the
records carry the model's units.
"""

from __future__ import annotations

from datetime import UTC, datetime

from store.demo.climate import ELEVATION_M, LATITUDE_DEG
from store.logbook.ids import uuid7
from store.records import StationFacts, TankMeasures, TractFacts
from store.units import litres_from_gallons, m2_from_ft2, mm_from_inches
from store.vocabulary import Access, ApronSurface, ExpectedUse, Exposure, Shape

_NAMED_AT = datetime(2024, 3, 24, 21, 0, tzinfo=UTC)

ALDER, NOTCH, QUARRY = "Alder Flat", "Upper Notch", "Quarry Piece"
_BEARS_MOVE = ("05-10", "06-20")
_ELEVATION_M = {ALDER: ELEVATION_M, NOTCH: 480.0, QUARRY: 390.0}

_STATION_NAMES = (
    "Gate",
    "Hayfield corner",
    "Culvert [north]",
    "Old orchard",
    "Lane trough",
    "Saddle",
    "Ledge",
    "Beech bench",
    "Spring draw",
    "Ridge end",
    "Clover strip",
    "Quarry rim",
    "Stone wall",
    "Far corner",
)

EVENTS = {
    "bears at the saddle, 2024": "Saddle",
    "raccoon in the clover": "Clover strip",
    "salt block in the hayfield": "Hayfield corner",
    "dye at the culvert": "Culvert [north]",
    "minnows in the orchard": "Old orchard",
    "scum on the ledge": "Ledge",
    "squirrel at the quarry": "Quarry rim",
    "bears at the saddle, 2025": "Saddle",
    "opossum on the bench": "Beech bench",
    "bears in the draw": "Spring draw",
    "coyote in the trough": "Lane trough",
    "road wash at the culvert": "Culvert [north]",
    "dry at the ridge end": "Ridge end",
    "fuel at the gate": "Gate",
    "toads in the clover": "Clover strip",
    "robin on the bench": "Beech bench",
    "mowing in the hayfield": "Hayfield corner",
}
"""The contamination events of the story and where they happened."""

_DIRECTIONS = {
    "Gate": "Forty steps inside the red gate, left of the track.",
    "Hayfield corner": "Along the north hedge to the far corner; keep off the hay until it is cut.",
    "Old orchard": "Ford below the culvert, then up between the apple rows.",
    "Saddle": "From the chained road up the old skid trail, right at the double oak; 40 minutes.",
    "Beech bench": "Past the saddle and down to the first bench with smooth trees.",
    "Spring draw": "Down the draw from the bench until the ferns begin; slippery when wet.",
    "Clover strip": "Second strip behind the quarry, under the leaning ash.",
    "Quarry rim": "On foot around the rim, well back from the edge, to the three birches.",
}


def _id(kind: int, number: int) -> str:
    """An id that is the same on every build: `kind` and `number` are its random part."""
    return uuid7(_NAMED_AT, kind << 62 | number)


_TRACT_ID = {name: _id(1, number) for number, name in enumerate(_ELEVATION_M)}
_STATION_ID = {name: _id(2, number) for number, name in enumerate(_STATION_NAMES)}
_EVENT_ID = {name: _id(3, number) for number, name in enumerate(EVENTS)}
RECORD_ID = _id(4, 0)


def tract_id(name: str) -> str:
    return _TRACT_ID[name]


def station_id(name: str) -> str:
    return _STATION_ID[name]


def event_id(event: str) -> str:
    return _EVENT_ID[event]


TRACTS = tuple(
    TractFacts(
        tract_id=_TRACT_ID[name],
        name=name,
        latitude_deg=LATITUDE_DEG,
        elevation_m=elevation_m,
        weather_record_id=RECORD_ID,
        bear_season_first=_BEARS_MOVE[0] if name == NOTCH else None,
        bear_season_last=_BEARS_MOVE[1] if name == NOTCH else None,
    )
    for name, elevation_m in _ELEVATION_M.items()
)


def _inches(value: float) -> float:
    return round(mm_from_inches(value), 2)


def _rectangular(length_in: float, width_in: float, depth_in: float = 30.0) -> TankMeasures:
    return TankMeasures(
        Shape.RECTANGULAR,
        _inches(depth_in),
        length_mm=_inches(length_in),
        width_mm=_inches(width_in),
    )


_ROUND = TankMeasures(Shape.ROUND, _inches(30), diameter_mm=_inches(36))
_TROUGH = TankMeasures(Shape.ROUND, _inches(24), diameter_mm=_inches(44))
_OBLONG = TankMeasures(Shape.OBLONG, _inches(30), length_mm=_inches(50), width_mm=_inches(22))
_TAPERED = TankMeasures(
    Shape.RECTANGULAR,
    _inches(30),
    length_mm=_inches(46),
    width_mm=_inches(26),
    bottom_length_mm=_inches(40),
    bottom_width_mm=_inches(20),
)
_HALF_DRUM = TankMeasures(
    Shape.HALF_DRUM, _inches(11.25), length_mm=_inches(34), diameter_mm=_inches(22.5)
)
_MEASURED = TankMeasures(
    Shape.MEASURED,
    _inches(28),
    depth_volume=tuple(
        (_inches(depth_in), round(litres_from_gallons(gallons), 1))
        for depth_in, gallons in ((0, 0), (4, 9), (10, 34), (18, 76), (24, 110), (28, 131))
    ),
)


def _station(
    name: str,
    tract: str,
    tank: TankMeasures,
    apron_ft2: float,
    exposure: Exposure,
    access: Access,
    use: ExpectedUse,
    surface: ApronSurface = ApronSurface.SCULPTED_SOIL,
    rim_in: float = 0.0,
    *,
    bears: bool = False,
) -> StationFacts:
    return StationFacts(
        station_id=station_id(name),
        tract_id=_TRACT_ID[tract],
        name=name,
        tank=tank,
        apron_area_m2=round(m2_from_ft2(apron_ft2), 2),
        apron_surface=surface,
        rim_above_ground_mm=_inches(rim_in),
        exposure=exposure,
        access=access,
        expected_use=use,
        bear_country=bears,
        directions=_DIRECTIONS.get(name, ""),
    )


_OPEN, _PART, _DEEP = Exposure.OPEN, Exposure.PART_SHADE, Exposure.DEEP_SHADE
_TRUCK, _ATV, _FOOT = Access.VEHICLE, Access.ATV, Access.FOOT
_LIGHT, _AVERAGE, _HEAVY = ExpectedUse.LIGHT, ExpectedUse.AVERAGE, ExpectedUse.HEAVY
_LOOSE, _GRASS, _LITTER = ApronSurface.LOOSE_SOIL, ApronSurface.GRASS, ApronSurface.WOODS_LITTER
_SCULPTED, _GRAVEL, _LINER = ApronSurface.SCULPTED_SOIL, ApronSurface.GRAVEL, ApronSurface.LINER

_FACTS = (
    _station("Gate", ALDER, _rectangular(48, 26), 150, _OPEN, _TRUCK, _HEAVY),
    _station("Hayfield corner", ALDER, _rectangular(42, 20), 120, _OPEN, _TRUCK, _AVERAGE, _GRASS),
    _station("Culvert [north]", ALDER, _rectangular(48, 24), 170, _PART, _TRUCK, _LIGHT, _GRAVEL),
    _station("Old orchard", ALDER, _ROUND, 110, _PART, _ATV, _AVERAGE),
    _station("Lane trough", ALDER, _TROUGH, 0, _OPEN, _TRUCK, _LIGHT, rim_in=12),
    _station("Saddle", NOTCH, _rectangular(42, 20), 120, _DEEP, _FOOT, _LIGHT, bears=True),
    _station("Ledge", NOTCH, _OBLONG, 80, _PART, _FOOT, _AVERAGE, _LINER),
    _station("Beech bench", NOTCH, _TAPERED, 120, _PART, _FOOT, _LIGHT, bears=True),
    _station(
        "Spring draw", NOTCH, _rectangular(40, 24), 130, _DEEP, _FOOT, _LIGHT, _LOOSE, bears=True
    ),
    _station("Ridge end", NOTCH, _HALF_DRUM, 36, _OPEN, _FOOT, _AVERAGE),
    _station("Clover strip", QUARRY, _rectangular(44, 28), 160, _PART, _TRUCK, _HEAVY),
    _station("Quarry rim", QUARRY, _MEASURED, 90, _OPEN, _FOOT, _LIGHT, _SCULPTED),
    _station("Stone wall", QUARRY, _rectangular(36, 22), 60, _DEEP, _FOOT, _LIGHT, _LITTER),
    _station("Far corner", QUARRY, _rectangular(42, 20), 120, _PART, _ATV, _AVERAGE, _LOOSE),
)

STATIONS = {facts.name: facts for facts in _FACTS}
EVENT_STATION = {event: station_id(name) for event, name in EVENTS.items()}
