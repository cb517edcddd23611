"""Stations from a CSV: new ones are added, changed facts of known ones revised."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

from store.csv_text import Row
from store.errors import BadValue, Problem
from store.logbook.places import Places
from store.records import (
    MOST_APRON_M2,
    MOST_LENGTH_MM,
    MOST_RIM_MM,
    MOST_TANK_L,
    Chore,
    Draft,
    Entry,
    StationFacts,
    TankMeasures,
    TractFacts,
)
from store.service import services
from store.transfer.cells import AREA, DEGREES, LENGTH, VOLUME, Cells
from store.transfer.sheets import STATIONS, Imported, raise_problems, read_sheet
from store.typed import number_from
from store.vocabulary import Access, ApronSurface, ChoreKind, ExpectedUse, Exposure, Shape
from store.water.geometry import tank_from_measures


def read_stations(
    path: Path,
    places: Places,
    live: Iterable[Entry],
    new_id: Callable[[], str],
    today: date,
    default_tract: str | None = None,
    latitude_deg: float | None = None,
) -> Imported:
    """Read stations, tracts they stand on, and their install dates.

    `default_tract` is where rows without a tract belong; `latitude_deg` is given to
    tracts that are new.

    Raises:
        BadFile: the file cannot be read or lacks a column.
        BadLines: any of its lines is rejected.
    """
    table, warnings = read_sheet(path, STATIONS)
    reader = _StationReader(places, live, new_id, today, default_tract, latitude_deg)
    for row in table.rows:
        reader.read(row)
    raise_problems(path, reader.problems)
    if reader.bare:
        warnings += (
            f"{path.name}: no apron area for {', '.join(reader.bare)}; "
            "they are taken to catch only the rain that falls into the opening.",
        )
    return Imported(tuple(reader.drafts), reader.known, warnings)


class _StationReader:
    def __init__(
        self,
        places: Places,
        live: Iterable[Entry],
        new_id: Callable[[], str],
        today: date,
        default_tract: str | None,
        latitude_deg: float | None,
    ) -> None:
        self.problems: list[Problem] = []
        self.drafts: list[Draft] = []
        self.known = 0
        self.bare: list[str] = []
        self._places = places
        self._installs = {
            station_id: service.installed
            for station_id, service in services(live).items()
            if service.installed is not None
        }
        self._new_id = new_id
        self._today = today
        self._default_tract = default_tract
        self._latitude_deg = latitude_deg
        self._tracts = {t.name.casefold(): t.tract_id for t in places.tracts.values()}
        self._lines: dict[tuple[str, str], int] = {}

    def read(self, row: Row) -> None:
        found_before = len(self.problems)
        cells = Cells(row, self.problems)
        name = cells.text("station", required=True)
        tract_name = cells.text("tract") or (self._default_tract or "").strip()
        if not tract_name:
            cells.reject("tract", "is empty; fill it in, or say which tract the file is for")
        tank = _tank(cells)
        apron_m2 = cells.number("apron_area", AREA, most_kept=MOST_APRON_M2)
        access = cells.word("access", Access)
        apron_surface = cells.word("apron_surface", ApronSurface)
        exposure = cells.word("exposure", Exposure)
        expected_use = cells.word("expected_use", ExpectedUse)
        rim_mm = cells.number("rim_above_ground", LENGTH, most_kept=MOST_RIM_MM)
        bears = cells.yes("bear_country")
        latitude = cells.number("latitude", DEGREES, least=-90.0, most=90.0)
        longitude = cells.number("longitude", DEGREES, least=-180.0, most=180.0)
        installed = cells.day("installed", required=False)
        if installed is not None and installed > self._today:
            cells.reject("installed", f"{installed} is still to come; leave it empty until then")
        self._refuse_repeated(cells, row.line, tract_name, name)
        before = self._station(tract_name, name)
        self._refuse_other_install(cells, before, installed)
        if len(self.problems) > found_before or tank is None or not tract_name:
            return
        if apron_m2 is None:
            self.bare.append(name)
        facts = StationFacts(
            station_id=before.station_id if before else self._new_id(),
            tract_id=self._tract_id(tract_name, installed or self._today),
            name=name,
            tank=tank,
            apron_area_m2=apron_m2 or 0.0,
            apron_surface=apron_surface or ApronSurface.SCULPTED_SOIL,
            rim_above_ground_mm=rim_mm or 0.0,
            exposure=exposure or Exposure.PART_SHADE,
            access=access or Access.FOOT,
            expected_use=expected_use or ExpectedUse.AVERAGE,
            bear_country=bears,
            latitude_deg=latitude,
            longitude_deg=longitude,
            directions=cells.text("directions") or (before.directions if before else ""),
        )
        self._add(facts, before, installed)

    def _add(
        self, facts: StationFacts, before: StationFacts | None, installed: date | None
    ) -> None:
        install = []
        if installed is not None and facts.station_id not in self._installs:
            install = [Draft(installed, Chore(facts.station_id, ChoreKind.INSTALL))]
        if before is None:
            self.drafts.append(Draft(installed or self._today, facts))
        elif facts != before:
            revised = self._places.station_entries[facts.station_id]
            self.drafts.append(Draft(self._today, facts, revises=revised))
        elif not install:
            self.known += 1
        self.drafts += install

    def _refuse_other_install(
        self, cells: Cells, before: StationFacts | None, installed: date | None
    ) -> None:
        known = self._installs.get(before.station_id) if before else None
        if known is not None and installed is not None and installed != known:
            cells.reject(
                "installed", f"the log says {known}, not {installed}; correct the file or the log"
            )

    def _refuse_repeated(self, cells: Cells, line: int, tract_name: str, name: str) -> None:
        key = (tract_name.casefold(), name.casefold())
        first = self._lines.setdefault(key, line)
        if name and first != line:
            cells.reject("station", f"{name} on {tract_name} stands on line {first} already")

    def _station(self, tract_name: str, name: str) -> StationFacts | None:
        tract_id = self._tracts.get(tract_name.casefold())
        for station in self._places.stations.values():
            if station.tract_id == tract_id and station.name.casefold() == name.casefold():
                return station
        return None

    def _tract_id(self, name: str, about: date) -> str:
        tract_id = self._tracts.get(name.casefold())
        if tract_id is None:
            tract_id = self._tracts[name.casefold()] = self._new_id()
            facts = TractFacts(tract_id, name, latitude_deg=self._latitude_deg)
            self.drafts.append(Draft(about, facts))
        return tract_id


def _tank(cells: Cells) -> TankMeasures | None:
    """The tank of a row, checked as a whole, or None with the problems noted."""
    if not cells.text("shape", required=True):
        return None
    rejected_before = cells.rejected
    shape = cells.word("shape", Shape)
    measures = {
        f"{stem}_mm": cells.number(stem, LENGTH, above_least=True, most_kept=MOST_LENGTH_MM)
        for stem in (
            "length",
            "width",
            "diameter",
            "bottom_length",
            "bottom_width",
            "bottom_diameter",
        )
    }
    depth_mm = cells.number("depth", LENGTH, above_least=True, most_kept=MOST_LENGTH_MM)
    depth_volume = _depth_volume(cells)
    if depth_mm is None and shape is Shape.HALF_DRUM and measures["diameter_mm"]:
        depth_mm = measures["diameter_mm"] / 2.0
    if depth_mm is None and shape is Shape.MEASURED and depth_volume:
        depth_mm = depth_volume[-1][0]
    if shape is None or cells.rejected > rejected_before:
        return None
    if depth_mm is None:
        cells.reject("depth", "is missing; give depth_in or depth_cm, bottom to rim")
        return None
    tank = TankMeasures(shape, depth_mm, depth_volume=depth_volume, **measures)
    try:
        tank_from_measures(tank)
    except BadValue as error:
        cells.reject("shape", str(error).rstrip("."))
        return None
    return tank


def _depth_volume(cells: Cells) -> tuple[tuple[float, float], ...]:
    """A measured table written as `0:0 10:31.5 30:110`, inches and gallons, or mm and litres."""
    name, example = "depth_volume_in_gal", "inches:gallons, as 10:31.5"
    depth_from, volume_from = LENGTH["_in"], VOLUME["gallons"]
    if cells.text("depth_volume_mm_l"):
        name, example = "depth_volume_mm_l", "millimetres:litres, as 254:119.2"
        depth_from, volume_from = LENGTH["_mm"], VOLUME["litres"]
    pairs: list[tuple[float, float]] = []
    for text in cells.text(name).split():
        depth, _, volume = text.partition(":")
        try:
            pair = depth_from(number_from(depth)), volume_from(number_from(volume))
        except BadValue:
            cells.reject(name, f"{text!r} is not {example}")
            return ()
        if pair[0] > MOST_LENGTH_MM or pair[1] > MOST_TANK_L:
            cells.reject(name, f"{text} is too much; check its unit and its point")
            return ()
        pairs.append(pair)
    if len(pairs) == 1:
        cells.reject(name, "needs at least two depths with their volumes, the first 0:0")
    return tuple(pairs)
