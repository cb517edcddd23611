"""Tank shapes against closed forms and published segment tables."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.records import TankMeasures
from store.units import MM_PER_INCH, gallons_from_litres
from store.vocabulary import Shape
from store.water.geometry import (
    Tank,
    below_rim_mm,
    depth_at_volume_mm,
    tank_from_measures,
    volume_at_depth_l,
    volume_below_rim_l,
)
from store.weather.days import FloatArray

IN = MM_PER_INCH


def surface_m2(tank: Tank, volume_l: ArrayLike) -> FloatArray:
    """Water surface at a volume, straight between the tank's own depths."""
    return np.interp(np.asarray(volume_l), tank.node_volume_l, tank.node_area_m2)


SHAPES = {
    "rectangular": TankMeasures(Shape.RECTANGULAR, 760.0, length_mm=1200.0, width_mm=900.0),
    "tapered rectangle": TankMeasures(
        Shape.RECTANGULAR,
        760.0,
        length_mm=1200.0,
        width_mm=900.0,
        bottom_length_mm=800.0,
        bottom_width_mm=700.0,
    ),
    "wider below": TankMeasures(Shape.ROUND, 760.0, diameter_mm=700.0, bottom_diameter_mm=900.0),
    "round": TankMeasures(Shape.ROUND, 760.0, diameter_mm=850.0),
    "tapered round": TankMeasures(Shape.ROUND, 760.0, diameter_mm=850.0, bottom_diameter_mm=700.0),
    "oblong": TankMeasures(Shape.OBLONG, 610.0, length_mm=1500.0, width_mm=600.0),
    "tapered oblong": TankMeasures(
        Shape.OBLONG,
        610.0,
        length_mm=1500.0,
        width_mm=600.0,
        bottom_length_mm=1300.0,
        bottom_width_mm=500.0,
    ),
    "half drum": TankMeasures(Shape.HALF_DRUM, 286.0, length_mm=838.0, diameter_mm=572.0),
    "measured": TankMeasures(
        Shape.MEASURED,
        500.0,
        depth_volume=((0.0, 0.0), (130.0, 30.0), (333.0, 170.0), (500, 300.0)),
    ),
}


def all_tanks() -> list[Tank]:
    return [tank_from_measures(measures) for measures in SHAPES.values()]


@pytest.mark.parametrize("name", SHAPES)
def test_depth_and_volume_undo_each_other(name: str) -> None:
    """To 1e-6 mm, empty and full exact, volume strictly rising."""
    tank = tank_from_measures(SHAPES[name])
    depth = np.linspace(0.0, tank.depth_mm, 3000).reshape(3, -1)
    volume = volume_at_depth_l(tank, depth)
    assert volume.shape == depth.shape
    assert (np.diff(volume.ravel()) > 0.0).all()
    assert volume.ravel()[[0, -1]].tolist() == [0.0, tank.capacity_l]
    assert np.abs(depth_at_volume_mm(tank, volume) - depth).max() < 1e-6
    assert np.abs(volume_below_rim_l(tank, below_rim_mm(tank, volume)) - volume).max() < 1e-9


@given(
    top=st.floats(300.0, 3000.0),
    bottom=st.floats(100.0, 3000.0),
    depth=st.floats(150.0, 1500.0),
    share=st.floats(0.0, 1.0),
)
def test_round_taper_against_the_frustum(
    top: float, bottom: float, depth: float, share: float
) -> None:
    """V = pi h / 12 (D1^2 + D1 D2 + D2^2); the surface is the circle at that depth."""
    tank = tank_from_measures(
        TankMeasures(Shape.ROUND, depth, diameter_mm=top, bottom_diameter_mm=bottom)
    )
    across = bottom + (top - bottom) * share
    volume = np.pi * depth * share / 12.0 * (across**2 + across * bottom + bottom**2) / 1e6
    found = volume_at_depth_l(tank, share * depth)
    assert found == pytest.approx(volume, abs=1e-5 * tank.capacity_l)
    area = np.pi / 4.0 * across**2 / 1e6
    assert surface_m2(tank, volume) == pytest.approx(area, rel=2e-3, abs=1e-6)


@pytest.mark.parametrize("name", SHAPES)
def test_area_is_the_slope_of_the_volume(name: str) -> None:
    """dV/dh = A, away from the steps of a measured table."""
    tank = tank_from_measures(SHAPES[name])
    depth = np.linspace(0.11, 0.97, 12) * tank.depth_mm
    slope = (volume_at_depth_l(tank, depth + 1.0) - volume_at_depth_l(tank, depth - 1.0)) / 2.0
    area = surface_m2(tank, volume_at_depth_l(tank, depth))
    assert area == pytest.approx(slope, rel=2e-3)


@pytest.mark.parametrize("name", SHAPES)
def test_area_bins_follow_the_shape(name: str) -> None:
    """Equal volume steps: within 0.5 % in the upper nine tenths, see the bin width."""
    tank = tank_from_measures(SHAPES[name])
    volume = np.linspace(0.1, 1.0, 777) * tank.capacity_l
    binned = tank.area_bins_m2[(volume / tank.capacity_l * 2048).astype(int)]
    error = np.abs(binned / surface_m2(tank, volume) - 1.0)
    assert np.quantile(error, 0.98) < 0.005


def test_half_filled_horizontal_cylinder() -> None:
    """Circular segment area / D^2, handbook table (value from memory): h/D 0.1-0.5."""
    tank = tank_from_measures(
        TankMeasures(Shape.HALF_DRUM, 500.0, length_mm=1000.0, diameter_mm=1000.0)
    )
    depth = np.array([100.0, 200.0, 250.0, 300.0, 400.0, 500.0])
    expected = [0.0409, 0.1118, 0.1535, 0.1982, 0.2934, 0.3927]
    assert volume_at_depth_l(tank, depth) / 1000.0 == pytest.approx(expected, abs=1e-4)


def test_horizontal_cylinder_in_gallons() -> None:
    """D 108 in, L 156 in, h 36 in, flat ends: 1,805.19 gal.

    Closed form R^2 acos((R-h)/R) - (R-h) sqrt(2Rh - h^2).
    """
    tank = tank_from_measures(
        TankMeasures(Shape.HALF_DRUM, 54 * IN, length_mm=156 * IN, diameter_mm=108 * IN)
    )
    gallons = gallons_from_litres(float(volume_at_depth_l(tank, 36 * IN)))
    assert gallons == pytest.approx(1805.19, abs=0.01)


@pytest.mark.parametrize(
    ("measures", "gallons"),
    [
        (TankMeasures(Shape.OBLONG, 24 * IN, length_mm=72 * IN, width_mm=24 * IN), 166.690),
        (
            TankMeasures(Shape.ROUND, 30 * IN, diameter_mm=37 * IN, bottom_diameter_mm=31 * IN),
            118.218,
        ),
        (TankMeasures(Shape.HALF_DRUM, 11.5 * IN, length_mm=33 * IN, diameter_mm=23 * IN), 29.677),
        (TankMeasures(Shape.ROUND, 30 * IN, diameter_mm=31.31 * IN), 100.0),
        (TankMeasures(Shape.ROUND, 30 * IN, diameter_mm=39.61 * IN), 160.0),
    ],
    ids=["stadium", "frustum", "half barrel", "100 gal", "160 gal"],
)
def test_capacity_by_plain_geometry(measures: TankMeasures, gallons: float) -> None:
    """Derived from (L-W)W + pi W^2/4; pi h/12 (D1^2+D1D2+D2^2); pi R^2 L/2; pi D^2/4 h."""
    found = gallons_from_litres(tank_from_measures(measures).capacity_l)
    assert found == pytest.approx(gallons, abs=0.05)


def test_measured_table_is_kept_at_its_rows() -> None:
    tank = tank_from_measures(SHAPES["measured"])
    assert volume_at_depth_l(tank, np.array([130.0, 333.0])) == pytest.approx([30.0, 170.0])
    assert tank.opening_m2 == pytest.approx(130.0 / 167.0)


ROUND = {"shape": Shape.ROUND, "depth_mm": 700.0, "diameter_mm": 800.0}
BAD = {
    "no depth": (ROUND | {"depth_mm": 0.0}, "depth"),
    "negative": (ROUND | {"diameter_mm": -1.0}, "diameter"),
    "unknown": (ROUND | {"depth_mm": float("nan")}, "depth"),
    "missing": ({"shape": Shape.ROUND, "depth_mm": 700.0}, "needs its diameter"),
    "bottom zero": (ROUND | {"bottom_diameter_mm": 0.0}, "bottom diameter"),
    "drum": (
        {"shape": Shape.HALF_DRUM, "depth_mm": 400.0, "diameter_mm": 572.0, "length_mm": 800.0},
        "half its diameter",
    ),
    "round oblong": (
        {"shape": Shape.OBLONG, "depth_mm": 400.0, "length_mm": 500.0, "width_mm": 800.0},
        "longer",
    ),
    "no table": ({"shape": Shape.MEASURED, "depth_mm": 100.0}, "at least two"),
    "no zero": (
        {
            "shape": Shape.MEASURED,
            "depth_mm": 100.0,
            "depth_volume": ((10.0, 0.0), (100.0, 9.0)),
        },
        "starts at 0",
    ),
    "falling": (
        {
            "shape": Shape.MEASURED,
            "depth_mm": 100.0,
            "depth_volume": ((0.0, 0.0), (50.0, 9.0), (100.0, 9.0)),
        },
        "rise",
    ),
    "short": (
        {
            "shape": Shape.MEASURED,
            "depth_mm": 100.0,
            "depth_volume": ((0.0, 0.0), (50.0, 9.0)),
        },
        "ends at 50 mm",
    ),
}


@pytest.mark.parametrize("case", BAD)
def test_impossible_measures_are_named(case: str) -> None:
    measures, words = BAD[case]
    with pytest.raises(BadValue, match=words):
        tank_from_measures(TankMeasures(**measures))  # type: ignore[arg-type]
