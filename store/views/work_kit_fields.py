"""The fields of a work kit as a person sees them: named, in a unit, read back from text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from store.errors import BadValue
from store.model.work_kit import WorkKit
from store.typed import amount_typed, as_typed, degrees_as_typed, number_from
from store.units import Quantity, Units
from store.vocabulary import Access

DEGREES = "degrees"


@dataclass(frozen=True)
class KitField:
    """One number of a kit, in the unit of its `quantity`; without one it is as it stands."""

    name: str
    label: str
    unit: str
    quantity: Quantity | None = None
    optional: bool = False


@dataclass(frozen=True)
class KitRead:
    """What was typed: the kit, or a sentence for each field that is wrong.

    The sentence about numbers that do not fit together stands at the empty name.
    """

    kit: WorkKit | None
    problems: Mapping[str, str]


def kit_fields(units: Units) -> tuple[KitField, ...]:
    """Every number of a kit, in the order in which it is asked for."""
    volume, weight, speed = units.volume_name, units.weight_name, units.speed_name
    return (
        KitField("payload_kg", "Payload", weight, Quantity.WEIGHT),
        KitField("tank_l", "Hauling tank", volume, Quantity.VOLUME),
        KitField("tank_kg", "Empty tank, pump", weight, Quantity.WEIGHT),
        KitField("pump_l_per_min", "Pump", f"{volume} a minute", Quantity.VOLUME),
        KitField("fill_up_minutes", "To fill it up", "minutes"),
        KitField("drive_km_per_hour", "Driving", speed, Quantity.SPEED),
        KitField("walk_km_per_hour", "Walking", speed, Quantity.SPEED),
        KitField("detour", "Way", "times the straight line"),
        KitField("start_latitude_deg", "Start, latitude", DEGREES, optional=True),
        KitField("start_longitude_deg", "Start, longitude", DEGREES, optional=True),
        KitField("source_latitude_deg", "Source, latitude", DEGREES, optional=True),
        KitField("source_longitude_deg", "Source, longitude", DEGREES, optional=True),
    )


def kit_text(kit: WorkKit, field: KitField, units: Units) -> str:
    """A number of a kit as a person would type it; empty where it is not known."""
    value = getattr(kit, field.name)
    if field.unit == DEGREES:
        return degrees_as_typed(value)
    if value is None or field.quantity is None:
        return as_typed(value)
    return as_typed(units.shown(field.quantity, value))


def kit_from(kit: WorkKit, texts: Mapping[str, str], units: Units) -> WorkKit:
    """A kit with what was typed, as `read_kit` reads it.

    Raises:
        BadValue: something is wrong; the first of its sentences.
    """
    read = read_kit(kit, texts, units)
    if read.kit is None:
        raise BadValue(next(iter(read.problems.values())))
    return read.kit


def read_kit(kit: WorkKit, texts: Mapping[str, str], units: Units) -> KitRead:
    """A kit with the fields that were typed; a text left as it was keeps its exact value.

    `by` and `source_name` are taken as they stand, numbers by the names of the fields.
    """
    changed: dict[str, Any] = {}
    problems: dict[str, str] = {}
    if "source_name" in texts:
        changed["source_name"] = texts["source_name"].strip() or WorkKit.source_name
    if "by" in texts:
        try:
            changed["by"] = Access(texts["by"].strip().casefold())
        except ValueError:
            problems["by"] = f"{texts['by']!r} is no way to haul; write vehicle or atv."
    for field in kit_fields(units):
        text = texts.get(field.name)
        if text is None or text.strip() == kit_text(kit, field, units):
            continue
        if not text.strip() and not field.optional:
            problems[field.name] = f"{field.label} is empty; type a number of {field.unit}."
            continue
        try:
            changed[field.name] = _typed(text.strip(), field, units)
        except BadValue as error:
            problems[field.name] = f"{field.label}: {error}."
    try:
        read = replace(kit, **changed)
    except BadValue as error:
        problems |= _impossible(kit, changed) or {"": str(error)}
    return KitRead(None if problems else read, problems)


def _typed(text: str, field: KitField, units: Units) -> float | None:
    """Raises: BadValue, without its full stop."""
    if not text:
        return None
    if field.quantity is None:
        return number_from(text)
    return amount_typed(text, field.quantity, units)


def _impossible(kit: WorkKit, changed: Mapping[str, Any]) -> dict[str, str]:
    """By field: why a kit with that alone changed cannot be; coordinates come in pairs."""
    problems: dict[str, str] = {}
    for name in changed:
        pair = {name, name.replace("latitude", "longitude"), name.replace("longitude", "latitude")}
        if any(other in problems for other in pair):
            continue
        try:
            replace(kit, **{key: value for key, value in changed.items() if key in pair})
        except BadValue as error:
            problems[name] = str(error)
    return problems
