"""What a keeper takes to a day of work, kept in the logbook so that it is asked once."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, fields, replace
from types import MappingProxyType
from typing import Any

from store.errors import BadValue
from store.haul.distance import Place
from store.haul.problem import Vehicle, WaterSource
from store.logbook.opening import Logbook
from store.logbook.settings import keep, kept
from store.records import KeptSetting
from store.units import litres_from_gallons
from store.vocabulary import Access

SETTING, TITLE = "work kit", "What you haul with"
MOST = 1e6
"""No number of a kit is that large in any of its units."""


@dataclass(frozen=True)
class WorkKit:
    """Vehicle, water and pace. `asked` is False while every number is the assumed one.

    Kilograms, litres, litres a minute, minutes, kilometres an hour, degrees. Coordinates
    come in pairs, None where they are not known. The default numbers are assumed: what an
    ATV with a small tank and pump can do (common practice, no source: 25 to 65 gal).
    """

    by: Access = Access.ATV
    payload_kg: float = 230.0
    tank_l: float = litres_from_gallons(45.0)
    tank_kg: float = 20.0
    pump_l_per_min: float = litres_from_gallons(10.0)
    source_name: str = "water source"
    fill_up_minutes: float = 10.0
    """To fill the whole tank at the source."""
    source_latitude_deg: float | None = None
    source_longitude_deg: float | None = None
    start_latitude_deg: float | None = None
    start_longitude_deg: float | None = None
    drive_km_per_hour: float = 20.0
    walk_km_per_hour: float = 4.0
    detour: float = 1.3
    """The length of a way over the straight distance."""
    asked: bool = False

    def __post_init__(self) -> None:
        """Refuse what cannot be.

        Raises:
            BadValue: as `Vehicle` and `WaterSource`; a speed, a coordinate or the way there
                is not possible.
        """
        for name, value in vars(self).items():
            if isinstance(value, float) and not abs(value) < MOST:
                raise BadValue(f"{name.replace('_', ' ')} cannot be {value:g}; correct it.")
        if self.by is Access.FOOT:
            raise BadValue("Water is not carried on foot; choose a vehicle or an ATV.")
        if self.fill_up_minutes <= 0.0:
            raise BadValue("Filling up must take more than 0 minutes; time it once.")
        if min(self.drive_km_per_hour, self.walk_km_per_hour) <= 0.0:
            raise BadValue("Speeds must be more than 0; type what you drive and walk there.")
        if self.detour < 1.0:
            raise BadValue("The detour cannot be under 1: no way is shorter than the straight one.")
        self.vehicle  # noqa: B018 - built to be checked
        self.source  # noqa: B018
        self.start  # noqa: B018

    @property
    def vehicle(self) -> Vehicle:
        return Vehicle(self.payload_kg, self.tank_l, self.pump_l_per_min, self.tank_kg)

    @property
    def source(self) -> WaterSource:
        """The source; where its own place is not known, it is taken to be at the start."""
        place = place_of(self.source_latitude_deg, self.source_longitude_deg, "water source")
        rate = self.tank_l / self.fill_up_minutes
        return WaterSource(self.source_name, rate, place or self.start)

    @property
    def start(self) -> Place | None:
        return place_of(self.start_latitude_deg, self.start_longitude_deg, "start")


def place_of(latitude_deg: float | None, longitude_deg: float | None, whose: str) -> Place | None:
    """A place from its coordinates; None where neither is known.

    Raises:
        BadValue: only one of them is known, or it is not on the globe.
    """
    if latitude_deg is None and longitude_deg is None:
        return None
    if latitude_deg is None or longitude_deg is None:
        raise BadValue(f"The {whose} has only one coordinate; give both, or neither.")
    if not (abs(latitude_deg) <= 90.0 and abs(longitude_deg) <= 180.0):
        raise BadValue(
            f"The {whose} at {latitude_deg:g}, {longitude_deg:g} is not on the globe; latitude is "
            "from -90 to 90, longitude from -180 to 180."
        )
    return Place(latitude_deg, longitude_deg)


def work_kit(logbook: Logbook) -> WorkKit:
    """The kit a logbook keeps; the assumed one where it keeps none.

    Raises:
        BadValue: what is kept was changed by another program and cannot be.
    """
    text = kept(logbook, SETTING)
    if text is None:
        return WorkKit()
    try:
        values = json.loads(text)
        known = {one.name for one in fields(WorkKit)}
        return _read({name: value for name, value in values.items() if name in known})
    except (AttributeError, TypeError, ValueError) as error:
        raise BadValue(
            f"What the logbook keeps of your vehicle and water cannot be read ({error}); enter "
            "it again."
        ) from error


def keep_work_kit(logbook: Logbook, kit: WorkKit) -> None:
    """Keep a kit as the person's own; undo brings back the one before.

    Raises:
        Refused: as `write`.
    """
    keep(logbook, kept_as(kit), TITLE)


def kept_as(kit: WorkKit) -> KeptSetting:
    """A kit, as the person's own, the way a logbook keeps it."""
    return KeptSetting(SETTING, json.dumps(asdict(replace(kit, asked=True))))


def _read(values: Mapping[str, object]) -> WorkKit:
    kinds = {one.name: str(one.type) for one in fields(WorkKit)}
    read: dict[str, Any] = {}
    for name, value in values.items():
        kind, optional, _ = kinds[name].partition(" | None")
        read[name] = None if optional and value is None else _KINDS[kind](value)
    return WorkKit(**read)


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(f"{value!r} is not a number")
    return float(value)


_KINDS: Mapping[str, Callable[[Any], Any]] = MappingProxyType(
    {"Access": Access, "float": _number, "str": str, "bool": bool}
)
