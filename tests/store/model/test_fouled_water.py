"""What a fouled tank does to the water: animals keep off, and gallons are not exact."""

from datetime import date

import numpy as np
import pytest

from store.contamination.parameters import keeps_animals_off
from store.model.levels import levels_of
from store.model.snapshot import supposing
from store.model.water_input import KeptOff, kept_off
from store.records import Chore, Contamination, ContaminationAction, Draft
from store.vocabulary import Action, Cause, ChoreKind
from store.water.quantiles import BAND, member_quantiles, members_of_band
from tests.store.conftest import TODAY


def test_animals_keep_off_from_the_find_until_the_water_is_changed(snapshot):
    fern = snapshot.places.find_station("Fern").station_id
    found = Contamination("e", fern, Cause.DYE)
    days = [(date(2015, 8, 3), Action.BAILED), (date(2015, 8, 9), Action.REFILLED)]
    work = [Draft(day, ContaminationAction("e", fern, action)) for day, action in days]

    def off(*drafts):
        after = supposing(snapshot, fern, [Draft(date(2015, 8, 1), found), *drafts])
        return kept_off(after.histories[fern], after.cause_priors)

    assert off() == (KeptOff(date(2015, 8, 1), None),)
    assert off(work[1]) == (KeptOff(date(2015, 8, 1), None),), "a fill alone thins it"
    assert off(*work) == (KeptOff(date(2015, 8, 1), date(2015, 8, 9)),)
    clear = Draft(date(2015, 8, 6), ContaminationAction("e", fern, Action.SEEN_CLEAR))
    assert off(*work, clear) == (KeptOff(date(2015, 8, 1), date(2015, 8, 6)),)


def test_cloudy_and_clean_water_are_drunk(snapshot):
    off = {cause for cause in Cause if keeps_animals_off(cause, snapshot.cause_priors)}
    assert off == {
        *(Cause.DROWNED_ANIMAL, Cause.DEAD_FISH, Cause.ADDITIVE, Cause.DYE),
        *(Cause.SPILL, Cause.OTHER),
    }


def test_a_fouled_tank_loses_less(snapshot, known):
    drum = snapshot.places.find_station("Drum").station_id
    fouled = supposing(
        snapshot, drum, [Draft(date(2015, 9, 20), Contamination("e", drum, Cause.DYE))]
    )
    clean, kept = (levels_of(one, known).by_station[drum] for one in (snapshot, fouled))
    at = (date(2015, 9, 20) - clean.first_day).days
    assert (kept.median_l[:at] == clean.median_l[:at]).all()
    assert kept.median_l[-1] > clean.median_l[-1]


def test_gallons_brought_are_uncertain_by_member(snapshot, known):
    drum = snapshot.places.find_station("Drum").station_id
    drafts = [
        Draft(TODAY, Chore(drum, ChoreKind.DRAIN)),
        Draft(TODAY, Chore(drum, ChoreKind.FILL, volume_l=60.0)),
    ]
    run = levels_of(supposing(snapshot, drum, drafts), known).followed[drum]
    assert run.volume_l.mean() == pytest.approx(60.0, rel=0.02)
    assert run.volume_l.std() == pytest.approx(0.12 * 60.0, rel=0.1)


def test_members_have_the_band_they_are_made_of():
    members = members_of_band((100.0, 150.0, 180.0), 190.0, 500, np.random.default_rng(1))
    assert member_quantiles(members, BAND) == pytest.approx([100.0, 150.0, 180.0], abs=1.0)
    assert members.min() >= 75.0
    assert members.max() <= 190.0
    assert members_of_band((0.0, 0.0, 0.0), 9.0, 5, np.random.default_rng(1)).tolist() == [0.0] * 5
