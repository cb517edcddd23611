"""The steps that make a new logbook useful: what each is, and how far it is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from store.model.snapshot import Snapshot
from store.units import UnitSystem


class Step(StrEnum):
    UNITS = "Units"
    TRACT = "Tract"
    TANK = "First tank"
    WEATHER = "Weather"


@dataclass(frozen=True)
class StepLine:
    """A step, what the logbook has of it, and whether that is enough."""

    step: Step
    has: str
    done: bool


MEANING = {
    Step.UNITS: "Enter changes them, here or later; what is stored stays the same.",
    Step.TRACT: (
        "The piece of land the tanks stand on. Its latitude tells how fast water evaporates "
        "and when the seasons come; without one, that of the weather file is used."
    ),
    Step.TANK: (
        "The form comes with the measures of a usual tank: give a name and the apron, go "
        "through the usual tanks with F3, and correct what a tape says otherwise."
    ),
    Step.WEATHER: (
        "Daily rain and temperatures of the nearest weather station: a GHCN-Daily file, or any "
        "CSV with dates. Without weather there are no levels between two looks."
    ),
}


def step_lines(snapshot: Snapshot, records: Sequence[str]) -> tuple[StepLine, ...]:
    """Every step in its order; `records` are the names of all weather that was imported."""
    places, us = snapshot.places, snapshot.units.system is UnitSystem.US
    tracts = ", ".join(tract.name for tract in places.tracts.values())
    tanks = ", ".join(places.label(station) for station in places.stations.values())
    shown = "inches and gallons" if us else "centimetres and litres"
    return (
        StepLine(Step.UNITS, shown, True),
        StepLine(Step.TRACT, tracts or "none yet", bool(tracts)),
        StepLine(Step.TANK, tanks or "none yet", bool(tanks)),
        StepLine(Step.WEATHER, ", ".join(records) or "none yet", bool(records)),
    )
