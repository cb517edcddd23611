"""Correcting an entry by its texts."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationSign,
    Draft,
    Entry,
    Note,
    Photo,
    RampCheck,
    Reading,
    Sighting,
    StationFacts,
    TankMeasures,
)
from store.units import METRIC_UNITS, US_UNITS
from store.views.corrections import corrected, correction_texts, kept_as_it_is
from store.vocabulary import Action, Cause, ChoreKind, LevelMark, Shape, Strength, UseSeen

DAY, TODAY = date(2025, 10, 4), date(2025, 10, 12)


def entry_of(fact):
    return Entry("e", "b", DAY, datetime(2025, 10, 4, tzinfo=UTC), fact)


def texts_of(entry, units=US_UNITS):
    return {one.key: one.text for one in correction_texts(entry, units)}


def mended(fact, units=US_UNITS, **typed):
    entry = entry_of(fact)
    return corrected(entry, texts_of(entry, units) | typed, units, TODAY)


@pytest.mark.parametrize(
    ("fact", "typed", "changes"),
    [
        (Reading("s", 457.2), {"level": "16 in"}, {"below_rim_mm": 406.4}),
        (Reading("s", 457.2), {"level": "40 cm"}, {"below_rim_mm": 400.0}),
        (Reading("s", 457.2), {"level": "Half"}, {"below_rim_mm": None, "mark": LevelMark.HALF}),
        (Reading("s", mark=LevelMark.DRY), {"level": "0"}, {"below_rim_mm": 0.0, "mark": None}),
        (Sighting("s", UseSeen.LIGHT), {"use": "heavy", "camera": "3.5"},
         {"use": UseSeen.HEAVY, "camera_per_day": 3.5}),
        (RampCheck("s", True), {"ramp": "missing"}, {"in_place": False}),
        (Chore("s", ChoreKind.FILL), {"volume": "100 L", "note": "by hand"},
         {"volume_l": 100.0, "note": "by hand"}),
        (Chore("s", ChoreKind.RAKE, note="x"), {"note": ""}, {"note": ""}),
        (Contamination("v", "s", Cause.DYE, Action.BAILED, 10.0), {"volume": "", "note": "y"},
         {"volume_l": None, "note": "y"}),
        (ContaminationSign("v", "s", smell=Strength.FAINT, colour=Strength.NONE),
         {"smell": "not noted"}, {"smell": None}),
        (BearVisit("s", 1), {"visits": "2"}, {"visits": 2}),
        (Note("s", "a"), {"text": "b"}, {"text": "b"}),
    ],
)  # fmt: skip
def test_what_is_typed_becomes_a_revision(fact, typed, changes):
    found = mended(fact, **typed)
    assert found.problems == {}
    assert found.draft == Draft(DAY, replace(fact, **changes), revises="e")


@pytest.mark.parametrize(
    ("fact", "typed", "said"),
    [
        (Reading("s", 457.2), {"level": "-2"}, "cannot be above it"),
        (Reading("s", 457.2), {"level": "twelve"}, "not a number"),
        (Reading("s", 457.2), {"day": "tomorrow"}, "still to come"),
        (Reading("s", 457.2), {"day": "1890-01-01"}, "before 1900"),
        (Sighting("s", UseSeen.LIGHT), {"use": "not noted"}, "Nothing would be left"),
        (BearVisit("s", 1), {"visits": "0.5"}, "whole number"),
        (Note("s", "a"), {"text": " "}, "cannot be empty"),
        (Chore("s", ChoreKind.FILL, 10.0), {"volume": "0"}, "more than 0"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(fact, typed, said):
    found = mended(fact, **typed)
    assert found.draft is None
    assert list(found.problems) == list(typed)
    assert said in next(iter(found.problems.values()))


@pytest.mark.parametrize("units", [US_UNITS, METRIC_UNITS])
def test_what_is_left_as_it_was_is_kept_to_the_last_digit(units):
    fact = Reading("s", 123.456789)
    assert mended(fact, units).draft is None
    assert mended(fact, units, day="oct 3").draft == Draft(date(2025, 10, 3), fact, "e")


def test_what_cannot_be_corrected_here_is_said():
    tank = TankMeasures(Shape.ROUND, depth_mm=762.0, diameter_mm=900.0)
    facts = entry_of(StationFacts("s", "t", "Oak", tank, apron_area_m2=1.0))
    assert correction_texts(facts, US_UNITS) == ()
    assert "screen of its facts" in kept_as_it_is(facts)
    assert list(texts_of(entry_of(Photo("s", "a.jpg", "0" * 64)))) == ["day"]
    assert "withdraw" in kept_as_it_is(entry_of(Contamination("v", "s", Cause.DYE)))
    assert kept_as_it_is(entry_of(RampCheck("s", True))) == ""
