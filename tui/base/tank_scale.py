"""How wide a tank's cross-section is drawn, so that it keeps its proportions."""

from __future__ import annotations

from math import sqrt

from store.water.geometry import Tank

CELL_ASPECT = 2.0
"""A terminal cell is about twice as high as it is wide."""
WALLS, FRAME_ROWS = 2, 2
GROUND = 1.5
"""The picture is so much wider than the tank with its walls, for the ground beside it."""


def picture_width(tank: Tank, height: int, most: int) -> int:
    """Cells for a picture of so many rows, to scale up to `most`.

    A tank is as wide as a square with its opening.
    """
    across_mm = sqrt(tank.opening_m2) * 1000.0
    inside = across_mm / tank.depth_mm * (height - FRAME_ROWS) * CELL_ASPECT
    return min(most, round((inside + WALLS) * GROUND))
