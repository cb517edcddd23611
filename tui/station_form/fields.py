"""The fields of the station form: what each is called, and what it shows at first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.logbook.places import Places
from store.model.snapshot import Snapshot
from store.records import Chore, Entry, StationFacts, TankMeasures
from store.typed import as_typed, degrees_as_typed
from store.units import Units, UnitSystem
from store.views.install_water import WATER_HINT
from store.vocabulary import (
    Access,
    ApronSurface,
    ChoreKind,
    DrinkingSeason,
    ExpectedUse,
    Exposure,
    Shape,
)
from store.water.usual import USUAL_TANKS

MEASURES: dict[Shape, tuple[str, ...]] = {
    Shape.RECTANGULAR: ("depth", "length", "width", "bottom_length", "bottom_width"),
    Shape.ROUND: ("depth", "diameter", "bottom_diameter"),
    Shape.OBLONG: ("depth", "length", "width", "bottom_length", "bottom_width"),
    Shape.HALF_DRUM: ("diameter", "length"),
    Shape.MEASURED: ("depth_volume",),
}
"""What is asked of each shape, in this order; the rest of the measures is hidden."""

ALL_MEASURES = (
    "depth",
    "length",
    "width",
    "diameter",
    "bottom_length",
    "bottom_width",
    "bottom_diameter",
    "depth_volume",
)
NO, YES = "no", "yes"
AS_IT_IS = "as it is"
SEASONS = (AS_IT_IS, *(season.value for season in DrinkingSeason))
"""When animals drink on the tract: as the logbook has it, or changed."""
BEAR_SEASON = ("tract_bears_first", "tract_bears_last")
"""Asked in bear country alone; they are the tract's."""


@dataclass(frozen=True)
class Field:
    """`choices` makes it a choice of words; otherwise it is typed."""

    key: str
    label: str
    hint: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Subject:
    """What is edited: an existing station (`before`) or a new one, and what is known.

    `station_id` and `new_tract_id` are the ids to be used. `install` and `retire` are
    the live chores that already say so.
    """

    units: Units
    today: date
    places: Places
    station_id: str
    new_tract_id: str
    before: StationFacts | None = None
    install: Entry | None = None
    retire: Entry | None = None


def subject_of(snapshot: Snapshot, station_id: str | None, new_ids: tuple[str, str]) -> Subject:
    """The subject for a station id, or for a new station with new ids."""
    before = None if station_id is None else snapshot.places.stations.get(station_id)
    chores: dict[ChoreKind, Entry] = {}
    for entry in snapshot.log.get(station_id or "", ()):
        if isinstance(entry.fact, Chore):
            chores[entry.fact.chore] = entry
    return Subject(
        units=snapshot.units,
        today=snapshot.today,
        places=snapshot.places,
        station_id=new_ids[0] if before is None else before.station_id,
        new_tract_id=new_ids[1],
        before=before,
        install=chores.get(ChoreKind.INSTALL),
        retire=chores.get(ChoreKind.RETIRE),
    )


def form_fields(subject: Subject) -> tuple[Field, ...]:
    """Every field of the form, in the order they are passed through."""
    units = subject.units
    depth, area, high = units.depth_name, units.area_name, units.height_name
    table = "0:0 10:31.5 30:110" if units.system is UnitSystem.US else "0:0 25:120 76:420"
    fields = [
        Field("tract", "Tract"),
        Field("tract_latitude", "Tract latitude, deg", "as 42.5 or 42.5 N; for evaporation"),
        Field("tract_longitude", "Tract longitude, deg", "as -75 or 75 W; may stay empty"),
        Field("tract_elevation", f"Tract elevation, {high}", "may stay empty"),
        Field("name", "Station name"),
        Field("shape", "Shape inside", "left and right, or its letter", _words(Shape)),
        Field("depth", f"Depth, {depth}", "inside, bottom to rim"),
        Field("length", f"Length, {depth}", "inside, at the rim, overall"),
        Field("width", f"Width, {depth}", "inside, at the rim"),
        Field("diameter", f"Diameter, {depth}", "inside, at the rim"),
        Field("bottom_length", f"Bottom length, {depth}", "only if it tapers"),
        Field("bottom_width", f"Bottom width, {depth}", "only if it tapers"),
        Field("bottom_diameter", f"Bottom diameter, {depth}", "only if it tapers"),
        Field("depth_volume", f"{depth}:{units.volume_name} table", f"from the bottom, as {table}"),
        Field("rim", f"Rim above ground, {depth}", "0 where runoff can get in"),
        Field("apron", f"Apron area, {area}", "ground that drains to the tank"),
        Field("apron_surface", "Apron surface", "", _words(ApronSurface)),
        Field("exposure", "Exposure", "sun and wind on the water", _words(Exposure)),
        Field("access", "Access", "how water can be brought", _words(Access)),
        Field("expected_use", "Expected use", "by animals", _words(ExpectedUse)),
        Field("bears", "Bear country", "", (NO, YES)),
        Field("tract_bears_first", "Bears move from", "on the whole tract, as 04-15"),
        Field("tract_bears_last", "Bears move to", "as 06-15; both may stay empty"),
        Field("latitude", "Latitude, deg", "of the station; may stay empty"),
        Field("longitude", "Longitude, deg", "of the station; may stay empty"),
        Field("directions", "Directions", "the way there, for the sheet to take along"),
    ]
    if subject.install is None:
        hint = "as 2026-05-09; empty: not yet"
        fields.append(Field("installed", "Installed, date", hint))
        fields.append(Field("water", f"Water in it, {units.volume_name}", WATER_HINT))
    if subject.before is not None:
        hint = "as 2026-05-09; empty: in use"
        fields.append(Field("retired", "Retired, date", hint))
        fields.append(Field("tract_drinking", "Animals drink", "all over the tract", SEASONS))
    return tuple(fields)


def first_texts(subject: Subject) -> dict[str, str]:
    """What every field shows when the form opens.

    The first station of a logbook has a usual tank, and stands on the only tract there is.
    """
    before, units = subject.before, subject.units
    texts = {field.key: "" for field in form_fields(subject)}
    texts |= {
        "shape": Shape.RECTANGULAR,
        "rim": "0",
        "apron_surface": ApronSurface.SCULPTED_SOIL,
        "exposure": Exposure.PART_SHADE,
        "access": Access.FOOT,
        "expected_use": ExpectedUse.AVERAGE,
        "bears": NO,
    }
    tracts = [tract.name for tract in subject.places.tracts.values()]
    if before is None and not subject.places.stations:
        texts |= tank_texts(USUAL_TANKS[0][1], units)
        texts["tract"] = tracts[0] if len(tracts) == 1 else ""
    if before is not None:
        texts |= {
            "tract": subject.places.tract_of(before).name,
            "name": before.name,
            "shape": before.tank.shape,
            "depth_volume": _table_text(before.tank, units),
            "apron_surface": before.apron_surface,
            "exposure": before.exposure,
            "access": before.access,
            "expected_use": before.expected_use,
            "bears": YES if before.bear_country else NO,
            "tract_drinking": AS_IT_IS,
            "directions": before.directions,
        }
        texts |= {key: text for key, (text, _) in kept_numbers(subject).items()}
    if subject.retire is not None:
        texts["retired"] = subject.retire.day.isoformat()
    return {key: str(text) for key, text in texts.items()}


def tank_texts(tank: TankMeasures, units: Units) -> dict[str, str]:
    """What the fields of a tank show for those measures; the ones it has not are empty."""
    stems = [stem for stem in ALL_MEASURES if stem != "depth_volume"]
    measures = {stem: getattr(tank, f"{stem}_mm") for stem in stems}
    if tank.shape is Shape.HALF_DRUM:
        measures["depth"] = None
    texts = {
        stem: as_typed(None if mm is None else units.depth(mm)) for stem, mm in measures.items()
    }
    return {"shape": tank.shape.value, "depth_volume": "", **texts}


def kept_numbers(subject: Subject) -> dict[str, tuple[str, float]]:
    """By field: the number of the existing station as shown, and as stored."""
    before, units = subject.before, subject.units
    if before is None:
        return {}
    stored = {
        stem: getattr(before.tank, f"{stem}_mm") for stem in ALL_MEASURES if stem != "depth_volume"
    }
    stored["rim"] = before.rim_above_ground_mm
    shown = {key: None if value is None else units.depth(value) for key, value in stored.items()}
    stored |= {
        "apron": before.apron_area_m2,
        "latitude": before.latitude_deg,
        "longitude": before.longitude_deg,
    }
    shown |= {
        "apron": units.area(before.apron_area_m2),
        "latitude": before.latitude_deg,
        "longitude": before.longitude_deg,
    }
    return {
        key: (
            degrees_as_typed(shown[key])
            if key in ("latitude", "longitude")
            else as_typed(shown[key]),
            value,
        )
        for key, value in stored.items()
        if value is not None
    }


def _table_text(tank: TankMeasures, units: Units) -> str:
    return " ".join(
        f"{as_typed(units.depth(depth_mm))}:{as_typed(units.volume(volume_l))}"
        for depth_mm, volume_l in tank.depth_volume
    )


def _words(words: type[Shape | ApronSurface | Exposure | Access | ExpectedUse]) -> tuple[str, ...]:
    return tuple(word.value for word in words)
