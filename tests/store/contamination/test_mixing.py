"""Mass balance against published and hand-worked values."""

import math

import pytest

from store.contamination.mixing import mixed_share, rounds_to_share, volumes_to_share
from store.errors import BadValue


@pytest.mark.parametrize(
    ("removed", "volumes"),
    [(0.50, 0.693), (0.90, 2.303), (0.95, 2.996), (0.99, 4.605), (0.999, 6.908)],
)
def test_volumes_for_a_removal(removed, volumes):
    # Completely mixed reactor, C/C0 = e^-n (Levenspiel, Chemical Reaction Engineering;
    # Viessman & Hammer 1993), solved for n.
    assert volumes_to_share(1 - removed) == pytest.approx(volumes, abs=0.001)


def test_three_volumes_are_the_accepted_exchange():
    # IMO Ballast Water Management Convention, Regulation D-1: three volumes pumped
    # through are accepted as 95 percent volumetric exchange.
    assert volumes_to_share(0.05) == pytest.approx(3.0, abs=0.01)


@pytest.mark.parametrize("volumes", [0.5, 1.0, 3.0])
def test_many_small_inflows_approach_gradual_overflow(volumes):
    # Viessman & Hammer 1993: completely mixed washout e^-n.
    steps = 100_000
    share = mixed_share(416.0, 416.0 * volumes / steps) ** steps
    assert share == pytest.approx(math.exp(-volumes), abs=1e-4)


def test_order_of_mixing_half_a_volume_into_a_full_tank():
    # Hand-worked mass balance: mixed and then spilled 1/1.5, overflowing gradually e^-0.5.
    assert mixed_share(416.0, 208.0) == pytest.approx(0.6667, abs=1e-4)
    assert math.exp(-0.5) < mixed_share(416.0, 208.0)


def test_refilling_below_the_rim_keeps_the_mass():
    # Hand-worked mass balance: 60 percent of a tank made full has 0.6 of the concentration.
    share = mixed_share(0.6 * 500.0, 0.4 * 500.0)
    assert share == pytest.approx(0.6)
    assert share * 500.0 == pytest.approx(0.6 * 500.0)


@pytest.mark.parametrize(
    ("heel", "share", "rounds"),
    [(0.1, 0.05, 2), (0.1, 0.1, 1), (0.1, 0.01, 2), (0.5, 0.05, 5), (0.02, 0.05, 1), (0.1, 1, 0)],
)
def test_rounds_of_bailing(heel, share, rounds):
    # r^n, hand-worked: a heel of 10 percent twice leaves 1 percent.
    assert rounds_to_share(heel, share) == rounds


@pytest.mark.parametrize("share", [0.0, -0.1, 1.1])
def test_impossible_shares_are_refused(share):
    with pytest.raises(BadValue):
        volumes_to_share(share)


@pytest.mark.parametrize("heel", [0.0, 1.0, -0.5])
def test_impossible_heels_are_refused(heel):
    with pytest.raises(BadValue):
        rounds_to_share(heel, 0.05)
