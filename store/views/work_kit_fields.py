"""The fields of a work kit as a person sees them: named, in a unit, read back from text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from store.errors import BadValue
from store.model.work_kit import WorkKit
from store.typed import number_from
from store.units import Units
from store.vocabulary import Access


@dataclass(frozen=True)
class KitField:
    """One number of a kit: `shown` and `stored` convert between the kit and the screen."""

    name: str
    label: str
    unit: str
    shown: Callable[[float], float]
    stored: Callable[[float], float]
    optional: bool = False


def kit_fields(units: Units) -> tuple[KitField, ...]:
    """Every number of a kit, in the order in which it is asked for."""

    def same(value: float) -> float:
        return value

    volume, weight, speed = units.volume_name, units.weight_name, units.speed_name
    to_volume, from_volume = units.volume, units.volume_from
    degrees = "degrees"
    return (
        KitField("payload_kg", "Payload", weight, units.weight, units.weight_from),
        KitField("tank_l", "Hauling tank", volume, to_volume, from_volume),
        KitField("tank_kg", "Empty tank, pump", weight, units.weight, units.weight_from),
        KitField("pump_l_per_min", "Pump", f"{volume} a minute", to_volume, from_volume),
        KitField("fill_up_minutes", "To fill it up", "minutes", same, same),
        KitField("drive_km_per_hour", "Driving", speed, units.speed, units.speed_from),
        KitField("walk_km_per_hour", "Walking", speed, units.speed, units.speed_from),
        KitField("detour", "Way", "times the straight line", same, same),
        KitField("start_latitude_deg", "Start, latitude", degrees, same, same, True),
        KitField("start_longitude_deg", "Start, longitude", degrees, same, same, True),
        KitField("source_latitude_deg", "Source, latitude", degrees, same, same, True),
        KitField("source_longitude_deg", "Source, longitude", degrees, same, same, True),
    )


def kit_text(kit: WorkKit, field: KitField) -> str:
    """A number of a kit as a person would type it; empty where it is not known."""
    value = getattr(kit, field.name)
    if value is None:
        return ""
    digits = 6 if field.unit == "degrees" else 2
    return f"{field.shown(value):.{digits}f}".rstrip("0").rstrip(".")


def kit_from(kit: WorkKit, texts: Mapping[str, str], units: Units) -> WorkKit:
    """A kit with the fields that were typed; a text left as it was keeps its exact value.

    `by` and `source_name` are taken as they stand, numbers by the names of the fields.

    Raises:
        BadValue: a number cannot be read, is missing, or the kit cannot be.
    """
    changed: dict[str, Any] = {}
    if "by" in texts:
        changed["by"] = _access(texts["by"])
    if "source_name" in texts:
        changed["source_name"] = texts["source_name"].strip() or WorkKit.source_name
    for field in kit_fields(units):
        text = texts.get(field.name)
        if text is None or text.strip() == kit_text(kit, field):
            continue
        if not text.strip():
            if not field.optional:
                raise BadValue(f"{field.label} is empty; type a number of {field.unit}.")
            changed[field.name] = None
            continue
        try:
            changed[field.name] = field.stored(number_from(text))
        except BadValue as error:
            raise BadValue(f"{field.label}: {error}.") from None
    return replace(kit, **changed)


def _access(text: str) -> Access:
    try:
        return Access(text.strip().casefold())
    except ValueError:
        raise BadValue(f"{text!r} is no way to haul; write vehicle or atv.") from None
