"""The bar of a water level, read without colour."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.widgets.gauge import gauge

shares = st.floats(0, 1)


@pytest.mark.parametrize(
    ("share", "drawn"),
    [
        (0.0, "····"),
        (0.5, "██··"),
        (0.53125, "██▏·"),
        (0.625, "██▌·"),
        (1.0, "████"),
        (-0.2, "····"),
        (1.7, "████"),
        (0.001, "▏···"),
        (0.999, "███▉"),
    ],
)
def test_fills_in_eighths_of_a_cell(share: float, drawn: str) -> None:
    assert gauge(share, 4).plain == drawn


@pytest.mark.parametrize("share", [None, nan])
def test_unknown_is_not_drawn_as_empty(share: float | None) -> None:
    assert gauge(share, 5).plain == "╌╌?╌╌"
    assert gauge(share, 1).plain == "?"


def test_band_is_told_by_shades() -> None:
    assert gauge(0.5, 10, low=0.3, high=0.8).plain == "███▓▓░░░··"


def test_no_width_draws_nothing() -> None:
    assert gauge(0.5, 0).plain == ""


@given(share=shares, low=shares, high=shares, width=st.integers(1, 30))
def test_always_as_wide_as_asked(share: float, low: float, high: float, width: int) -> None:
    low, share, high = sorted((low, share, high))
    assert gauge(share, width, low=low, high=high).cell_len == width


@given(first=shares, second=shares)
def test_more_water_never_draws_less(first: float, second: float) -> None:
    less, more = sorted((first, second))
    assert gauge(less, 8).plain.count("█") <= gauge(more, 8).plain.count("█")


def test_changing_a_gauge_leaves_the_cached_one_alone() -> None:
    gauge(0.5, 4).append("spoilt")
    assert gauge(0.5, 4).plain == "██··"
