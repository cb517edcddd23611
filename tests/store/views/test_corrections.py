"""Correcting an entry by its texts."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import get_args

import pytest

from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Entry,
    Fact,
    GaugeReading,
    Note,
    Photo,
    PromptAnswer,
    RampCheck,
    Reading,
    Sighting,
    SiteCheck,
    StationFacts,
    TankMeasures,
)
from store.units import METRIC_UNITS, US_UNITS
from store.views.corrections import corrected, correction_texts, kept_as_it_is
from store.vocabulary import (
    Action,
    AnimalClass,
    AnimalSize,
    Cause,
    ChoreKind,
    Decision,
    LevelMark,
    PromptKind,
    Shape,
    Strength,
    UseSeen,
)

DAY, TODAY = date(2025, 10, 4), date(2025, 10, 12)
PUT_OFF = PromptAnswer("s", PromptKind.RAKE, date(2025, 9, 1), Decision.PUT_OFF, TODAY)


CARCASS_KEYS = ("animal", "animal_size", "days_dead")


def entry_of(fact):
    return Entry("e", "b", DAY, datetime(2025, 10, 4, tzinfo=UTC), fact)


def texts_of(entry, units=US_UNITS):
    return {one.key: one.text for one in correction_texts(entry, units)}


def mended(fact, units=US_UNITS, **typed):
    entry = entry_of(fact)
    return corrected(entry, texts_of(entry, units) | typed, units, TODAY, capacity_l=378.0)


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
        (Chore("s", ChoreKind.RAKE), {"chore": "fill", "volume": "40"},
         {"chore": ChoreKind.FILL, "volume_l": pytest.approx(151.4, abs=0.1)}),
        (Chore("s", ChoreKind.FILL, 100.0), {"chore": "cover"},
         {"chore": ChoreKind.COVER, "volume_l": None}),
        (Chore("s", ChoreKind.INSTALL), {"volume": "0"}, {"volume_l": 0.0}),
        (Chore("s", ChoreKind.INSTALL, 0.0), {"volume": ""}, {"volume_l": None}),
        (Contamination("v", "s", Cause.OTHER), {"cause": "drowned animal", "animal": "bird",
         "animal_size": "small", "days_dead": "3"},
         {"cause": Cause.DROWNED_ANIMAL, "animal": AnimalClass.BIRD,
          "animal_size": AnimalSize.SMALL, "days_dead": 3.0}),
        (Contamination("v", "s", Cause.DROWNED_ANIMAL, animal=AnimalClass.MAMMAL, days_dead=2.0),
         {"cause": "dye"}, {"cause": Cause.DYE, "animal": None, "days_dead": None}),
        (ContaminationAction("v", "s", Action.BAILED, 100.0), {"action": "covered"},
         {"action": Action.COVERED, "volume_l": None}),
        (PUT_OFF, {"until": "oct 20"}, {"until": date(2025, 10, 20)}),
        (PUT_OFF, {"decision": "declined", "note": "acorns"},
         {"decision": Decision.DECLINED, "until": None, "note": "acorns"}),
        (SiteCheck("s", rim=True), {"rim": "no", "bank": "yes"}, {"rim": False, "bank": True}),
        (Contamination("v", "s", Cause.DYE, Action.BAILED, 10.0), {"volume": "", "note": "y"},
         {"volume_l": None, "note": "y"}),
        (ContaminationSign("v", "s", smell=Strength.FAINT, colour=Strength.NONE),
         {"smell": "not noted"}, {"smell": None}),
        (BearVisit("s", 1), {"visits": "2"}, {"visits": 2}),
        (Note("s", "a"), {"text": "b"}, {"text": "b"}),
        (GaugeReading("t", 25.4), {"rain": "0.5"}, {"rain_mm": pytest.approx(12.7)}),
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
        (GaugeReading("t", 25.4), {"rain": "900"}, "is not possible"),
        (Chore("s", ChoreKind.FILL, 10.0), {"volume": "0"}, "more than 0"),
        (Chore("s", ChoreKind.INSTALL), {"volume": "400"}, "from 0 to 99.9, not 400"),
        (Chore("s", ChoreKind.INSTALL), {"volume": "-1"}, "less than 0"),
        (Contamination("v", "s", Cause.DEAD_FISH), {"days_dead": "-1"}, "less than 0"),
        (PUT_OFF, {"until": ""}, "not a date"),
        (PUT_OFF, {"until": "2025-10-04"}, "within the year to come"),
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


@pytest.mark.parametrize(
    ("fact", "typed", "gone"),
    [
        (Contamination("v", "s", Cause.DYE), {}, {"animal", "animal_size", "days_dead", "volume"}),
        (Contamination("v", "s", Cause.DYE), {"cause": "dead fish", "action": "bailed"}, set()),
        (Contamination("v", "s", Cause.DYE, Action.LEFT, 9.0), {}, set(CARCASS_KEYS)),
        (Chore("s", ChoreKind.DRAIN), {}, {"volume"}),
        (Chore("s", ChoreKind.DRAIN), {"chore": "fill"}, set()),
        (PUT_OFF, {"decision": "declined"}, {"until"}),
    ],
)
def test_what_does_not_go_with_the_rest_is_not_asked(fact, typed, gone):
    assert {one.key for one in correction_texts(entry_of(fact), US_UNITS)} - mended(
        fact, **typed
    ).asked == gone


def test_what_is_wrong_in_a_field_that_is_not_asked_any_more_is_no_bar():
    fill = Chore("s", ChoreKind.FILL, 10.0)
    assert mended(fill, volume="lots", chore="rake").draft == Draft(
        DAY, Chore("s", ChoreKind.RAKE), "e"
    )


def test_work_put_off_needs_its_day():
    declined = replace(PUT_OFF, decision=Decision.DECLINED, until=None)
    assert mended(declined, decision="put off").problems == {
        "until": "Type the day it is put off to."
    }
    later = mended(declined, decision="put off", until="nov 3").draft
    assert later is not None
    assert later.fact == replace(PUT_OFF, until=date(2025, 11, 3))


def test_every_kind_of_the_log_of_a_station_has_its_fields():
    """Facts of a station have a form of their own; a picture is known by what is in it."""
    fact_kinds = {kind for kind in get_args(Fact) if "station_id" in kind.__dataclass_fields__}
    made = {
        Reading("s", 1.0),
        Sighting("s", UseSeen.LIGHT),
        RampCheck("s", True),
        Chore("s", ChoreKind.RETIRE),
        Contamination("v", "s", Cause.DYE),
        ContaminationAction("v", "s", Action.BAILED),
        ContaminationSign("v", "s", smell=Strength.FAINT),
        PUT_OFF,
        SiteCheck("s"),
        BearVisit("s"),
        Note("s", "a"),
    }
    assert {type(fact) for fact in made} == fact_kinds - {StationFacts, Photo}
    assert all(len(texts_of(entry_of(fact))) > 1 for fact in made)


def test_what_cannot_be_corrected_here_is_said():
    tank = TankMeasures(Shape.ROUND, depth_mm=762.0, diameter_mm=900.0)
    facts = entry_of(StationFacts("s", "t", "Oak", tank, apron_area_m2=1.0))
    assert correction_texts(facts, US_UNITS) == ()
    assert "screen of its facts" in kept_as_it_is(facts)
    assert list(texts_of(entry_of(Photo("s", "a.jpg", "0" * 64)))) == ["day"]
    assert "withdraw it" in kept_as_it_is(entry_of(Chore("s", ChoreKind.INSTALL)))
    assert "withdraw" in kept_as_it_is(entry_of(Photo("s", "a.jpg", "0" * 64)))
    assert kept_as_it_is(entry_of(RampCheck("s", True))) == ""
