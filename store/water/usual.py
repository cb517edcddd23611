"""The size tanks of this trade usually have, and a sentence when one is far from it."""

from __future__ import annotations

from store.records import TankMeasures
from store.units import Units, litres_from_gallons, mm_from_inches
from store.vocabulary import Shape
from store.water.geometry import Tank

USUAL_CAPACITY_L = (litres_from_gallons(100.0), litres_from_gallons(160.0))
"""100 to 160 US gallons (common practice, no source)."""
USUAL_DEPTH_MM = mm_from_inches(30.0)
"""30 inches from bottom to rim (common practice, no source)."""
USUAL_TANKS: tuple[tuple[str, TankMeasures], ...] = (
    (
        "110 gal, tapered",
        TankMeasures(
            Shape.RECTANGULAR,
            USUAL_DEPTH_MM,
            length_mm=mm_from_inches(40.0),
            width_mm=mm_from_inches(26.0),
            bottom_length_mm=mm_from_inches(33.0),
            bottom_width_mm=mm_from_inches(20.0),
        ),
    ),
    (
        "160 gal, straight",
        TankMeasures(
            Shape.RECTANGULAR,
            USUAL_DEPTH_MM,
            length_mm=mm_from_inches(44.0),
            width_mm=mm_from_inches(28.0),
        ),
    ),
    (
        "140 gal, round",
        TankMeasures(Shape.ROUND, USUAL_DEPTH_MM, diameter_mm=mm_from_inches(37.0)),
    ),
    (
        "half a 55-gal drum",
        TankMeasures(
            Shape.HALF_DRUM,
            mm_from_inches(11.25),
            length_mm=mm_from_inches(34.0),
            diameter_mm=mm_from_inches(22.5),
        ),
    ),
)
"""Tanks of the trade to begin with (assumed); measure your own."""
FAR = 2.0
"""Half the usual or twice the usual is far from it (assumed)."""


def unusual_size(tank: Tank, units: Units) -> tuple[str, ...]:
    """Sentences, in shown units, about a capacity or depth far from the usual."""
    least_l, most_l = USUAL_CAPACITY_L
    sentences = []
    if not least_l / FAR <= tank.capacity_l <= most_l * FAR:
        sentences.append(
            f"{units.volume(tank.capacity_l):.0f} {units.volume_name} is far from the usual "
            f"{units.volume(least_l):.0f} to {units.volume(most_l):.0f} {units.volume_name}; "
            "check measures and units."
        )
    if not USUAL_DEPTH_MM / FAR <= tank.depth_mm <= USUAL_DEPTH_MM * FAR:
        sentences.append(
            f"{units.depth(tank.depth_mm):.1f} {units.depth_name} is far from the usual depth of "
            f"{units.depth(USUAL_DEPTH_MM):.0f} {units.depth_name}; check it."
        )
    return tuple(sentences)


def ramp_size(depth_mm: float, units: Units) -> str:
    """How far out and how long a ramp at 45 degrees is in a tank of that depth.

    No steeper than 45 degrees: Taylor & Tuttle 2007, Water for Wildlife (Bat
    Conservation International); the run equals the depth and the ramp is depth * 2**0.5.
    """
    run, length = units.depth(depth_mm), units.depth(depth_mm * 2.0**0.5)
    return (
        f"Escape ramp for this depth: at least {run:.0f} {units.depth_name} of run, "
        f"{length:.0f} {units.depth_name} long."
    )
