"""Tank shapes: depth to volume, volume to depth, water surface.

Every shape is reduced once to nodes from the bottom up, exact at the nodes and
linear between them, so both directions use the same line and undo each other to
rounding (better than 1e-9 mm). Against the closed forms the nodes, 1/2048 of the
depth apart, give the volume within 2e-6 of the capacity.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.records import TankMeasures
from store.vocabulary import Shape
from store.weather.days import FloatArray

NODES = 2048
AREA_BINS = 2048
"""Equal steps of volume for which a tank keeps its water surface."""
MM2_PER_M2 = 1.0e6
MM3_PER_L = 1.0e6
HALF_DRUM_TOLERANCE = 0.02
"""How far the depth of a half drum may stand from half its diameter (assumed)."""


@dataclass(frozen=True, eq=False)
class Tank:
    """A tank as the model sees it.

    `node_*` have shape (nodes,) and rise from bottom to rim. `area_bins_m2` has
    shape (AREA_BINS + 1,): the water surface in the middle of equal steps of
    volume, and at the rim.
    """

    depth_mm: float
    capacity_l: float
    opening_m2: float
    node_depth_mm: FloatArray
    node_volume_l: FloatArray
    node_area_m2: FloatArray
    area_bins_m2: FloatArray


def tank_from_measures(measures: TankMeasures) -> Tank:
    """The tank that somebody measured.

    Raises:
        BadValue: a missing, zero, negative or unknown measure, a half drum whose depth is not
            half its diameter, and a depth table that does not start at 0, does not rise or
            ends at another depth than the tank's.
    """
    depth_mm = _positive(measures, "depth_mm")
    if measures.shape is Shape.MEASURED:
        depth, volume, area = _measured(measures, depth_mm)
    elif measures.shape is Shape.HALF_DRUM:
        depth, volume, area = _half_drum(measures, depth_mm)
    else:
        depth, volume, area = _frustum(measures, depth_mm)
    bin_volume = (np.arange(AREA_BINS + 1) + 0.5) / AREA_BINS * volume[-1]
    return Tank(
        depth_mm=float(depth[-1]),
        capacity_l=float(volume[-1]),
        opening_m2=float(area[-1]),
        node_depth_mm=depth,
        node_volume_l=volume,
        node_area_m2=area,
        area_bins_m2=np.interp(bin_volume, volume, area),
    )


def volume_at_depth_l(tank: Tank, depth_mm: ArrayLike) -> FloatArray:
    """Volume in L at a water depth in mm, any shape; outside the tank: empty or full."""
    return np.asarray(np.interp(_array(depth_mm), tank.node_depth_mm, tank.node_volume_l))


def depth_at_volume_mm(tank: Tank, volume_l: ArrayLike) -> FloatArray:
    """Water depth in mm at a volume in L, any shape; outside the tank: empty or full."""
    return np.asarray(np.interp(_array(volume_l), tank.node_volume_l, tank.node_depth_mm))


def below_rim_mm(tank: Tank, volume_l: ArrayLike) -> FloatArray:
    """How far in mm the water stands below the rim at a volume in L, any shape."""
    return tank.depth_mm - depth_at_volume_mm(tank, volume_l)


def volume_below_rim_l(tank: Tank, below_rim_mm: ArrayLike) -> FloatArray:
    """Volume in L when the water stands so many mm below the rim, any shape."""
    return volume_at_depth_l(tank, tank.depth_mm - _array(below_rim_mm))


def _array(values: ArrayLike) -> FloatArray:
    return np.asarray(values, dtype=np.float64)


def _positive(measures: TankMeasures, field: str) -> float:
    value: float | None = getattr(measures, field)
    name = field.removesuffix("_mm").replace("_", " ")
    if value is None:
        raise BadValue(f"A {measures.shape} tank needs its {name}; measure it and enter it.")
    if not (np.isfinite(value) and value > 0.0):
        raise BadValue(f"The {name} of a tank must be above zero, not {value:g}; enter it again.")
    return float(value)


def _bottom(measures: TankMeasures, field: str, top_mm: float) -> float:
    return top_mm if getattr(measures, field) is None else _positive(measures, field)


def _frustum(measures: TankMeasures, depth_mm: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Straight or evenly tapered walls: every side length is linear in depth.

    Rectangle L W; circle (pi/4) D D; rectangle with half-round ends
    L W - (1 - pi/4) W W, with L the overall length.
    """
    share = np.linspace(0.0, 1.0, NODES + 1)
    if measures.shape is Shape.ROUND:
        top = _positive(measures, "diameter_mm")
        across = (_bottom(measures, "bottom_diameter_mm", top), top)
        parts = [(np.pi / 4.0, across, across)]
    else:
        length_top = _positive(measures, "length_mm")
        width_top = _positive(measures, "width_mm")
        length = (_bottom(measures, "bottom_length_mm", length_top), length_top)
        width = (_bottom(measures, "bottom_width_mm", width_top), width_top)
        parts = [(1.0, length, width)]
        if measures.shape is Shape.OBLONG:
            if length[0] < width[0] or length[1] < width[1]:
                raise BadValue(
                    "An oblong tank is longer overall than it is wide, at the top and at the "
                    "bottom; check length and width."
                )
            parts.append((np.pi / 4.0 - 1.0, width, width))
    area = sum((f * _sides(a, b, share) for f, a, b in parts), np.zeros(NODES + 1))
    volume = sum((f * _sides_summed(a, b, share) for f, a, b in parts), np.zeros(NODES + 1))
    return share * depth_mm, volume * depth_mm / MM3_PER_L, area / MM2_PER_M2


def _sides(a: tuple[float, float], b: tuple[float, float], share: FloatArray) -> FloatArray:
    """a(t) b(t) where each side runs evenly from its bottom to its top length."""
    return (a[0] + (a[1] - a[0]) * share) * (b[0] + (b[1] - b[0]) * share)


def _sides_summed(a: tuple[float, float], b: tuple[float, float], share: FloatArray) -> FloatArray:
    """Integral of a(t) b(t) from 0 to t."""
    rise_a, rise_b = a[1] - a[0], b[1] - b[0]
    mixed = (a[0] * rise_b + b[0] * rise_a) / 2.0
    return share * (a[0] * b[0] + share * (mixed + share * rise_a * rise_b / 3.0))


def _half_drum(
    measures: TankMeasures, depth_mm: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Half a cylinder lying down, flat ends: the segment of a circle times the length.

    Segment R2 acos((R - h)/R) - (R - h) sqrt(2 R h - h2), surface 2 sqrt(2 R h - h2).
    """
    radius = _positive(measures, "diameter_mm") / 2.0
    length = _positive(measures, "length_mm")
    if abs(depth_mm - radius) > HALF_DRUM_TOLERANCE * radius:
        raise BadValue(
            f"A half drum is as deep as half its diameter, {radius:.0f} mm, not "
            f"{depth_mm:.0f} mm; check both, or enter a measured table of depth and volume."
        )
    depth = np.linspace(0.0, radius, NODES + 1)
    half_chord = np.sqrt(depth * (2.0 * radius - depth))
    segment = radius**2 * np.arccos((radius - depth) / radius) - (radius - depth) * half_chord
    return depth, segment * length / MM3_PER_L, 2.0 * half_chord * length / MM2_PER_M2


def _measured(measures: TankMeasures, depth_mm: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """A measured table, linear between its rows; the surface is the slope of a step."""
    if len(measures.depth_volume) < 2:
        raise BadValue("A measured tank needs a table of at least two depths with their volumes.")
    table = np.asarray(measures.depth_volume, dtype=np.float64)
    steps = np.diff(table, axis=0)
    if not np.isfinite(table).all() or table[0].any() or not (steps > 0.0).all():
        raise BadValue(
            "A table of depth and volume starts at 0, 0 and both rise from row to row; "
            "correct the row that does not."
        )
    if abs(table[-1, 0] - depth_mm) > 1.0:
        raise BadValue(
            f"The table of depth and volume ends at {table[-1, 0]:.0f} mm, but the tank is "
            f"{depth_mm:.0f} mm deep; add the row of the rim or correct the depth."
        )
    depth = np.union1d(np.linspace(0.0, table[-1, 0], NODES + 1), table[:, 0])
    slope = steps[:, 1] / steps[:, 0]
    step = np.searchsorted(table[:, 0], depth, side="right") - 1
    area = slope[np.minimum(step, len(slope) - 1)]
    return depth, np.interp(depth, table[:, 0], table[:, 1]), area
