"""Days and amounts as a person types them."""

import re
from datetime import date

import pytest

from store.errors import BadValue
from store.typed import amount_typed, as_typed, day_among, day_typed, degrees_typed
from store.units import METRIC_UNITS, US_UNITS, Quantity

TODAY = date(2026, 10, 14)
"""A Wednesday."""


@pytest.mark.parametrize(
    ("text", "past", "ahead"),
    [
        ("today", "2026-10-14", "2026-10-14"),
        ("Yesterday", "2026-10-13", "2026-10-13"),
        ("tomorrow", "2026-10-15", "2026-10-15"),
        ("wed", "2026-10-14", "2026-10-21"),
        ("friday", "2026-10-09", "2026-10-16"),
        ("oct 14", "2026-10-14", "2027-10-14"),
        ("October 15", "2025-10-15", "2026-10-15"),
        ("10/5", "2026-10-05", "2027-10-05"),
        ("5 oct", "2026-10-05", "2027-10-05"),
        ("2024-02-29", "2024-02-29", "2024-02-29"),
        ("feb 29", "2024-02-29", "2028-02-29"),
        ("oct 3 2025", "2025-10-03", "2025-10-03"),
        ("2026-05-09", "2026-05-09", "2026-05-09"),
    ],
)
def test_a_day_is_typed_as_people_say_it(text, past, ahead):
    assert day_typed(text, TODAY).isoformat() == past
    assert day_typed(text, TODAY, ahead=True).isoformat() == ahead


@pytest.mark.parametrize(
    "text",
    [
        "",
        "soon",
        "oct",
        "14",
        "13/13",
        "feb 30",
        "2026-02-30",
        "x" * 90,
        "9" * 30,
        "10:30",
        "w",
        "-",
    ],
)
def test_what_is_no_day_is_a_sentence(text):
    with pytest.raises(BadValue, match="is not a date; write it as oct 14"):
        day_typed(text, TODAY)


@pytest.mark.parametrize(
    ("text", "quantity", "us", "metric"),
    [
        ("12", Quantity.DEPTH, 304.8, 120.0),
        ("12,5", Quantity.DEPTH, 317.5, 125.0),
        ("12 in", Quantity.DEPTH, 304.8, 304.8),
        ('12"', Quantity.DEPTH, 304.8, 304.8),
        ("30cm", Quantity.DEPTH, 300.0, 300.0),
        ("300 MM", Quantity.DEPTH, 300.0, 300.0),
        ("2 ft 6 in", Quantity.DEPTH, 762.0, 762.0),
        ("2'6\"", Quantity.DEPTH, 762.0, 762.0),
        ("0.5", Quantity.RAIN, 12.7, 0.5),
        ("5 mm", Quantity.RAIN, 5.0, 5.0),
        ("40", Quantity.VOLUME, 151.41647136, 40.0),
        ("40 gal", Quantity.VOLUME, 151.41647136, 151.41647136),
        ("150 L", Quantity.VOLUME, 150.0, 150.0),
        ("100 sq ft", Quantity.AREA, 9.290304, 9.290304),
        ("100 ft2", Quantity.AREA, 9.290304, 9.290304),
        ("10 m\u00b2", Quantity.AREA, 10.0, 10.0),
        ("100 lbs.", Quantity.WEIGHT, 45.359237, 45.359237),
        ("20 km/h", Quantity.SPEED, 20.0, 20.0),
        ("1000 ft", Quantity.HEIGHT, 304.8, 304.8),
        ("-5 ft", Quantity.HEIGHT, -1.524, -1.524),
    ],
)
def test_an_amount_is_typed_with_its_unit_or_in_the_shown_one(text, quantity, us, metric):
    assert amount_typed(text, quantity, US_UNITS) == pytest.approx(us, rel=1e-12)
    assert amount_typed(text, quantity, METRIC_UNITS) == pytest.approx(metric, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "quantity", "said"),
    [
        ("4x", Quantity.DEPTH, "'4x' is not a number of in, ft, mm, cm, m"),
        ("12 gal", Quantity.DEPTH, "'12 gal' is not a number of in"),
        ("5 ft", Quantity.VOLUME, "'5 ft' is not a number of gal, l"),
        ("1 gal 2 l", Quantity.VOLUME, "is not a number"),
        ("in", Quantity.DEPTH, "'in' is not a number"),
        ("12 in and", Quantity.DEPTH, "is not a number"),
        ("1.2.3 in", Quantity.DEPTH, "'1.2.3' is not a number"),
        ("2,500 ft2", Quantity.AREA, "'2,500' is not a number"),
        ("", Quantity.DEPTH, "'' is not a number"),
        ("1 in " * 20, Quantity.DEPTH, "is not a number"),
    ],
)
def test_an_amount_that_cannot_be_read_says_why(text, quantity, said):
    with pytest.raises(BadValue, match=re.escape(said)):
        amount_typed(text, quantity, US_UNITS)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (120.018, "120"),
        (36.5, "36.5"),
        (13.25, "13.25"),
        (0.0, "0"),
        (100.0, "100"),
        (0.19685, "0.197"),
        (11.811023, "11.81"),
        (-5.0, "-5"),
        (None, ""),
    ],
)
def test_a_number_is_shown_no_finer_than_makes_a_difference(value, text):
    assert as_typed(value) == text


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("", date(2025, 10, 12)),
        ("oct 20", date(2025, 10, 20)),
        ("oct 5", date(2025, 10, 5)),
        ("nov 10", date(2025, 11, 10)),
        ("jan 2", date(2025, 1, 2)),
        ("friday", date(2025, 10, 10)),
        ("monday", date(2025, 10, 13)),
        ("2025-03-01", date(2025, 3, 1)),
    ],
)
def test_a_day_among_those_shown_is_the_nearest_that_is_meant(text, day):
    """Days ahead count as those gone by do: today is Sunday 12 October 2025."""
    assert day_among(text, date(2025, 10, 12), date(2025, 1, 1), date(2025, 11, 10)) == day


@pytest.mark.parametrize("text", ["2024-12-31", "nov 11", "dec 24"])
def test_a_day_that_is_not_shown_is_a_sentence(text):
    with pytest.raises(BadValue, match="type one from 2025-01-01 to 2025-11-10"):
        day_among(text, date(2025, 10, 12), date(2025, 1, 1), date(2025, 11, 10))


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("42.5", 42.5), ("-42.5", -42.5), ("42.5N", 42.5), ("42,5 s", -42.5), ("75° W", -75.0)],
)
def test_degrees_take_the_letter_of_their_side(text, degrees):
    assert degrees_typed(text) == degrees


@pytest.mark.parametrize("text", ["N", "42 X", "-42 N", ""])
def test_other_degrees_are_refused(text):
    with pytest.raises(BadValue):
        degrees_typed(text)
