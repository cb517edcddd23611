"""From the typed texts of the station form to the drafts that are saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from store.errors import BadValue, NotFound
from store.logbook.checks import EARLIEST
from store.records import (
    MOST_APRON_M2,
    MOST_LENGTH_MM,
    MOST_RIM_MM,
    Chore,
    Draft,
    StationFacts,
    TankMeasures,
    TractFacts,
    Withdrawal,
)
from store.season.bears import bear_season
from store.typed import amount_typed
from store.units import Quantity
from store.views.install_water import install_water_l
from store.vocabulary import (
    Access,
    ApronSurface,
    ChoreKind,
    DrinkingSeason,
    ExpectedUse,
    Exposure,
    Shape,
)
from store.water.geometry import Tank, tank_from_measures
from tui.base.field_reader import FieldReader
from tui.station_form.fields import (
    ALL_MEASURES,
    AS_IT_IS,
    BEAR_SEASON,
    MEASURES,
    YES,
    Subject,
    first_texts,
    kept_numbers,
)

NEEDED_MEASURES = ("depth", "length", "width", "diameter", "depth_volume")


@dataclass(frozen=True)
class StationRead:
    """`problems` has a sentence a field; `missing` are those only left empty so far.

    `drafts` is empty while there are problems or nothing was changed. `tank` is
    known as soon as its measures are.
    """

    problems: Mapping[str, str]
    missing: frozenset[str]
    tank: Tank | None
    tract: TractFacts | None
    """The existing tract of the name typed, if there is one."""
    drafts: tuple[Draft, ...]


def read_station(texts: Mapping[str, str], subject: Subject) -> StationRead:
    """Read the whole form; `texts` are by field key."""
    reader = FieldReader(texts, kept_numbers(subject))
    tract = _known_tract(reader, subject)
    measures, tank = _tank(reader, subject)
    facts = _facts(reader, subject, tract, measures)
    tract_drafts = _tract_drafts(reader, subject, tract)
    service = _service_drafts(reader, subject, tank)
    drafts: list[Draft] = []
    if not reader.problems and facts is not None:
        start = min((draft.day for draft in service), default=subject.today)
        if subject.before is None:
            drafts = [
                *(draft if draft.revises else replace(draft, day=start) for draft in tract_drafts),
                Draft(start, facts),
                *service,
            ]
        else:
            revised = subject.places.station_entries[facts.station_id]
            changed = [] if facts == subject.before else [Draft(subject.today, facts, revised)]
            drafts = [*tract_drafts, *changed, *service]
    return StationRead(reader.problems, frozenset(reader.missing), tank, tract, tuple(drafts))


def _known_tract(reader: FieldReader, subject: Subject) -> TractFacts | None:
    name = reader.needed("tract", "Name the tract the station stands on.")
    try:
        return subject.places.find_tract(name) if name else None
    except NotFound:
        return None


def _tract_drafts(
    reader: FieldReader, subject: Subject, tract: TractFacts | None
) -> tuple[Draft, ...]:
    """A new tract, or a known one with what was typed about it."""
    units = subject.units
    latitude = reader.degrees("tract_latitude", least=-90.0, most=90.0)
    longitude = reader.degrees("tract_longitude", least=-180.0, most=180.0)
    elevation = reader.amount("tract_elevation", Quantity.HEIGHT, units)
    if elevation is not None and not -500.0 <= elevation <= 9_000.0:
        reader.wrong("tract_elevation", "There is no land of that height; check it.")
    first, last = _bear_season(reader, tract)
    drinking = _drinking(reader, tract)
    if tract is None:
        facts = TractFacts(
            subject.new_tract_id,
            reader.text("tract"),
            latitude,
            longitude,
            elevation,
            bear_season_first=first,
            bear_season_last=last,
            drinking=drinking,
        )
        return (Draft(subject.today, facts),)
    facts = replace(
        tract,
        latitude_deg=tract.latitude_deg if latitude is None else latitude,
        longitude_deg=tract.longitude_deg if longitude is None else longitude,
        elevation_m=tract.elevation_m if elevation is None else elevation,
        bear_season_first=first,
        bear_season_last=last,
        drinking=drinking,
    )
    if facts == tract:
        return ()
    revised = subject.places.tract_entries[tract.tract_id]
    return (Draft(subject.today, facts, revised),)


def _drinking(reader: FieldReader, tract: TractFacts | None) -> DrinkingSeason | None:
    said = reader.text("tract_drinking")
    if said in (AS_IT_IS, ""):
        return None if tract is None else tract.drinking
    return DrinkingSeason(said)


def _bear_season(reader: FieldReader, tract: TractFacts | None) -> tuple[str | None, str | None]:
    """Two days of the year, as typed or else as the tract has them; none or both."""
    known = (None, None) if tract is None else (tract.bear_season_first, tract.bear_season_last)
    if reader.text("bears") != YES:
        return known
    first, last = (
        reader.text(key) or before for key, before in zip(BEAR_SEASON, known, strict=True)
    )
    if (first is None) != (last is None):
        reader.wrong(BEAR_SEASON[first is not None], "Type both days of the season, or none.")
        return known
    try:
        season = bear_season(TractFacts("", "", bear_season_first=first, bear_season_last=last))
    except BadValue:
        wrong = BEAR_SEASON[not reader.text(BEAR_SEASON[0])]
        reader.wrong(wrong, "Type month and day, as 04-15; the first before the last of a year.")
        return known
    return (None, None) if season is None else (str(season.first), str(season.last))


def _tank(reader: FieldReader, subject: Subject) -> tuple[TankMeasures | None, Tank | None]:
    units, shape = subject.units, Shape(reader.text("shape"))
    asked = MEASURES[shape]
    problems_before = len(reader.problems)
    lengths: dict[str, float | None] = dict.fromkeys(
        stem for stem in ALL_MEASURES if stem != "depth_volume"
    )
    for stem in asked:
        if stem in NEEDED_MEASURES:
            reader.needed(stem, "It is missing; measure it and type it.")
        if stem != "depth_volume":
            most = round(units.depth(MOST_LENGTH_MM))
            lengths[stem] = reader.amount(stem, Quantity.DEPTH, units, above=0.0, most=most)
    table = _table(reader, subject) if shape is Shape.MEASURED else ()
    if len(reader.problems) > problems_before:
        return None, None
    if shape is Shape.MEASURED and table:
        lengths["depth"] = table[-1][0]
    if shape is Shape.HALF_DRUM:
        lengths["depth"] = _half_drum_depth(lengths["diameter"], subject)
    depth_mm = lengths.pop("depth")
    assert depth_mm is not None
    measures = TankMeasures(
        shape,
        depth_mm,
        depth_volume=table,
        **{f"{stem}_mm": value for stem, value in lengths.items()},
    )
    try:
        return measures, tank_from_measures(measures)
    except BadValue as error:
        reader.wrong(_blamed(shape), str(error))
        return None, None


def _half_drum_depth(diameter_mm: float | None, subject: Subject) -> float | None:
    """Half the diameter, or the depth that was measured while the diameter stands."""
    before = None if subject.before is None else subject.before.tank
    if before and before.shape is Shape.HALF_DRUM and before.diameter_mm == diameter_mm:
        return before.depth_mm
    return None if diameter_mm is None else diameter_mm / 2.0


def _blamed(shape: Shape) -> str:
    return {Shape.MEASURED: "depth_volume", Shape.OBLONG: "length"}.get(shape, "shape")


def _table(reader: FieldReader, subject: Subject) -> tuple[tuple[float, float], ...]:
    """A measured table, each pair as depth:volume in the shown units."""
    units, text = subject.units, reader.text("depth_volume")
    if subject.before is not None and text == first_texts(subject)["depth_volume"]:
        return subject.before.tank.depth_volume
    pairs: list[tuple[float, float]] = []
    for pair in text.split():
        depth, _, volume = pair.partition(":")
        try:
            pair_read = (
                amount_typed(depth, Quantity.DEPTH, units),
                amount_typed(volume, Quantity.VOLUME, units),
            )
        except BadValue:
            reader.wrong(
                "depth_volume",
                f"{pair!r} is not {units.depth_name}:{units.volume_name}; type it as 10:31.5.",
            )
            return ()
        pairs.append(pair_read)
    if len(pairs) == 1:
        reader.wrong("depth_volume", "It needs at least two pairs, from 0:0 up to the rim.")
    return tuple(pairs)


def _facts(
    reader: FieldReader,
    subject: Subject,
    tract: TractFacts | None,
    measures: TankMeasures | None,
) -> StationFacts | None:
    units = subject.units
    name = reader.needed("name", "Give the station a name.")
    if tract is not None and _is_taken(name, tract, subject):
        reader.wrong("name", f"{tract.name} has a station of that name already; choose another.")
    most_rim, most_apron = units.depth(MOST_RIM_MM), units.area(MOST_APRON_M2)
    rim_mm = reader.amount("rim", Quantity.DEPTH, units, least=0.0, most=round(most_rim))
    reader.needed("apron", "It is missing; 0 where only the rain on the tank gets in.")
    apron_m2 = reader.amount("apron", Quantity.AREA, units, least=0.0, most=round(most_apron))
    latitude = reader.degrees("latitude", least=-90.0, most=90.0)
    longitude = reader.degrees("longitude", least=-180.0, most=180.0)
    if measures is None or apron_m2 is None:
        return None
    return StationFacts(
        station_id=subject.station_id,
        tract_id=subject.new_tract_id if tract is None else tract.tract_id,
        name=name,
        tank=measures,
        apron_area_m2=apron_m2,
        apron_surface=ApronSurface(reader.text("apron_surface")),
        rim_above_ground_mm=rim_mm or 0.0,
        exposure=Exposure(reader.text("exposure")),
        access=Access(reader.text("access")),
        expected_use=ExpectedUse(reader.text("expected_use")),
        bear_country=reader.text("bears") == YES,
        latitude_deg=latitude,
        longitude_deg=longitude,
        directions=reader.text("directions"),
    )


def _is_taken(name: str, tract: TractFacts, subject: Subject) -> bool:
    return any(
        station.tract_id == tract.tract_id
        and station.name.casefold() == name.casefold()
        and station.station_id != subject.station_id
        for station in subject.places.stations.values()
    )


def _water_l(reader: FieldReader, subject: Subject, tank: Tank | None) -> float | None:
    """The water the tank was dug in with; None where nobody knows."""
    text = reader.text("water")
    try:
        water_l = install_water_l(text, subject.units, None if tank is None else tank.capacity_l)
    except BadValue as error:
        reader.wrong("water", f"{error}.")
        return None
    if text and not reader.text("installed"):
        reader.wrong("water", "Type the day it was installed too, or leave this empty.")
    return water_l


def _service_drafts(reader: FieldReader, subject: Subject, tank: Tank | None) -> list[Draft]:
    """Install and retirement as chores; a changed date revises, an emptied one withdraws."""
    drafts: list[Draft] = []
    installed = reader.day("installed", subject.today, EARLIEST)
    water_l = _water_l(reader, subject, tank)
    if installed is not None:
        drafts.append(Draft(installed, Chore(subject.station_id, ChoreKind.INSTALL, water_l)))
    if subject.before is None:
        return drafts
    retired, known = reader.day("retired", subject.today, EARLIEST), subject.retire
    start = installed or (subject.install.day if subject.install else None)
    if retired is not None and start is not None and retired < start:
        reader.wrong("retired", f"It was installed on {start}; correct one of the dates.")
    if known is None and retired is not None:
        drafts.append(Draft(retired, Chore(subject.station_id, ChoreKind.RETIRE)))
    elif known is not None and not reader.text("retired"):
        drafts.append(Draft(known.day, Withdrawal("back in service"), known.entry_id))
    elif known is not None and retired is not None and retired != known.day:
        drafts.append(Draft(retired, known.fact, known.entry_id))
    return drafts
