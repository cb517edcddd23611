"""Cautions beside the work that can hurt someone."""

import re

import pytest

from store.season import cautions
from store.season.cautions import (
    BEARS,
    CARCASS,
    DIGGING,
    FEW,
    HAULING,
    LOCAL_LAW,
    MOVING_WATER,
    NEEDS_NO_TREATMENT,
    OPEN_WATER,
    ROTTING_WATER,
    SPILLS,
    Caution,
    chore_cautions,
    contamination_cautions,
    danger_first,
    hauling_of,
    in_words_of_the_job,
)
from store.units import METRIC_UNITS, US_UNITS, litres_from_gallons
from store.vocabulary import Action, Cause, ChoreKind


@pytest.mark.parametrize("kind", list(ChoreKind))
def test_every_chore_has_its_caution(kind):
    assert chore_cautions(kind)
    assert BEARS in chore_cautions(kind, bear_country=True)


@pytest.mark.parametrize("action", [None, *Action])
@pytest.mark.parametrize("cause", list(Cause))
def test_every_event_has_its_cautions_each_once(cause, action):
    for bear_country in (False, True):
        cautions = contamination_cautions(cause, action, bear_country=bear_country)
        assert cautions
        assert len(cautions) == len(set(cautions))


def test_the_work_meets_its_own_danger():
    assert DIGGING in chore_cautions(ChoreKind.INSTALL)
    assert {HAULING, MOVING_WATER} <= set(chore_cautions(ChoreKind.FILL))
    assert OPEN_WATER in chore_cautions(ChoreKind.UNCOVER)
    assert CARCASS in contamination_cautions(Cause.DROWNED_ANIMAL)
    assert BEARS in contamination_cautions(Cause.BEAR_USE)
    assert SPILLS in contamination_cautions(Cause.SPILL)


def test_the_weight_of_water_is_said():
    assert "8.34 lb a gallon: 100 gal is 834 lb" in HAULING.text


def test_hauling_is_said_in_the_units_shown():
    (general,) = in_words_of_the_job((HAULING, HAULING), METRIC_UNITS)
    assert general.text.startswith("Water weighs 1 kg a litre: 400 L is 400 kg before tank")
    assert in_words_of_the_job((LOCAL_LAW, HAULING), US_UNITS) == (LOCAL_LAW, HAULING)
    (own,) = in_words_of_the_job((HAULING,), US_UNITS, litres_from_gallons(132.0))
    assert own == hauling_of("132 gal, 1,101 lb")
    for caution in (general, in_words_of_the_job((HAULING,), METRIC_UNITS, 500.0)[0]):
        assert not {"lb", "gal", "gallon"} & {*re.findall(r"[a-z]+", caution.text)}


def test_few_cautions_are_among_those_of_the_chore():
    for chore, few in FEW.items():
        assert set(few) <= set(chore_cautions(chore))


def test_bodily_danger_comes_first_and_once():
    mixed = (LOCAL_LAW, HAULING, OPEN_WATER, ROTTING_WATER, HAULING)
    assert danger_first(mixed) == (ROTTING_WATER, OPEN_WATER, HAULING, LOCAL_LAW)


def test_hauling_speaks_of_the_jobs_own_water():
    said = hauling_of("132 gal, 1,101 lb")
    assert said.text.startswith("132 gal, 1,101 lb before tank and trailer.")
    assert said.source == HAULING.source
    assert "lb" not in hauling_of("500 L, 500 kg").text


EVERY_CAUTION = (
    *(found for found in vars(cautions).values() if isinstance(found, Caution)),
    *NEEDS_NO_TREATMENT,
)


@pytest.mark.parametrize("caution", EVERY_CAUTION, ids=lambda caution: caution.subject)
def test_cautions_are_short_sourced_and_promise_nothing(caution):
    assert len(caution.text) <= 240
    assert caution.source
    assert "safe" not in caution.text.lower()


def test_what_needs_no_treatment_is_said_plainly():
    assert {caution.subject for caution in NEEDS_NO_TREATMENT} == {"Ice", "Algae", "Mosquitoes"}
    for caution in NEEDS_NO_TREATMENT:
        assert "pour in no" in caution.text.lower() or "add nothing" in caution.text
