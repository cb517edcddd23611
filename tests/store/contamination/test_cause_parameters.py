"""The parameters of every cause, what they rest on, and a keeper's own numbers."""

import numpy as np
import pytest

from store.contamination.draws import draw
from store.contamination.mixing import volumes_to_share
from store.contamination.parameters import CAUSE_PRIORS, LIMITS, parameters_with
from store.errors import BadValue
from store.records import CauseSetting
from store.vocabulary import Cause

EVERY = [(cause, name) for cause in Cause for name in LIMITS]


@pytest.mark.parametrize(("cause", "name"), EVERY)
def test_every_parameter_says_what_it_rests_on_and_lies_within_its_limits(cause, name):
    prior, limits = CAUSE_PRIORS[cause][name], LIMITS[name]
    assert any(word in prior.evidence for word in ("published: ", "common practice", "assumed"))
    assert limits.low <= prior.median <= limits.high
    assert 0.0 <= prior.spread <= 1.5


def test_each_cause_has_exactly_the_named_parameters():
    assert set(CAUSE_PRIORS) == set(Cause)
    assert all(set(priors) == set(LIMITS) for priors in CAUSE_PRIORS.values())


def test_some_causes_break_the_habit_alone():
    habit_only = {c for c, priors in CAUSE_PRIORS.items() if priors["strength"].median == 0.0}
    assert habit_only == {Cause.BEAR_USE, Cause.DRY_SPELL, Cause.DISTURBANCE}


def test_the_threshold_is_three_volumes():
    # IMO Ballast Water Management Convention, Regulation D-1: three volumes pumped
    # through are accepted as 95 percent volumetric exchange.
    share = CAUSE_PRIORS[Cause.DROWNED_ANIMAL]["clear_share"].median
    assert volumes_to_share(share) == pytest.approx(3.0, abs=0.01)


def test_a_submerged_carcass_lasts_1285_degree_days():
    # 1,285 degree-days: Vass et al. 1992, J. Forensic Sci. 37:1236 (value from memory).
    assert CAUSE_PRIORS[Cause.DROWNED_ANIMAL]["source_days"].median == round(1285 / 20)


def test_clay_settles_as_stokes_law_says():
    # Stokes's law: v = g (rho_s - rho_w) d^2 / (18 mu); 1 micrometre over 30 in.
    fall_m_s = 9.81 * (2650 - 1000) * 1e-6**2 / (18 * 1.0e-3)
    assert 0.762 / fall_m_s / 86_400 == pytest.approx(9.8, abs=0.1)
    half_life = np.log(2) / CAUSE_PRIORS[Cause.SILT]["decay_per_day"].median
    assert half_life == pytest.approx(5.0, abs=0.1)


def test_a_keepers_number_becomes_the_middle_and_keeps_its_spread():
    first = CauseSetting(Cause.DYE, "clear_share", 0.5)
    mine = parameters_with([first, CauseSetting(Cause.DYE, "clear_share", 0.2)])
    changed, documented = mine[Cause.DYE]["clear_share"], CAUSE_PRIORS[Cause.DYE]["clear_share"]
    assert (changed.median, changed.spread) == (0.2, documented.spread)
    assert changed.evidence == "set in this logbook"
    assert mine[Cause.SPILL] == CAUSE_PRIORS[Cause.SPILL]
    assert documented.median == 0.1


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("clear_shares", 0.1, "has no parameter 'clear_shares'; choose one of strength"),
        ("clear_share", 0.0, "give a value from 0.001 to 1"),
        ("mixed_share", 1.4, "give a value from 0.05 to 1"),
        ("habit_days", float("nan"), "give a value from 1 to 100"),
        ("source_days", -1.0, "give a value from 0 to 1000"),
    ],
)
def test_impossible_settings_are_refused(name, value, said):
    with pytest.raises(BadValue, match=said):
        parameters_with([CauseSetting(Cause.DYE, name, value)])


def test_members_of_an_event_are_the_same_on_every_run_and_spread_as_documented():
    priors = CAUSE_PRIORS[Cause.DROWNED_ANIMAL]
    one, again, other = (draw(event, priors, 200) for event in ("e", "e", "f"))
    assert (one.clear_share == again.clear_share).all()
    assert (one.clear_share != other.clear_share).any()
    assert np.median(one.mixed_share) == pytest.approx(0.5, rel=0.01)
    assert np.std(np.log(one.clear_share)) == pytest.approx(0.5, rel=0.02)
    assert one.mixed_share.max() <= 1.0
    # the trade's one to two weeks are the 80 percent range of the habit
    assert np.quantile(one.habit_days, [0.1, 0.9]) == pytest.approx([7.0, 14.0], abs=0.2)
    assert abs(np.corrcoef(one.clear_share, one.mixed_share)[0, 1]) < 0.25
