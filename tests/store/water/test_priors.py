"""Draws from the priors."""

from dataclasses import fields

import numpy as np
import pytest

from store.errors import BadValue
from store.records import TankMeasures
from store.vocabulary import Exposure, Shape
from store.water.parameters import SHELTER, Parameters
from store.water.priors import (
    PRIORS,
    draw_parameters,
    normal_scores,
    station_priors,
    unknown_start_l,
)

TANK = TankMeasures(Shape.ROUND, 700.0, diameter_mm=900.0)


def test_every_parameter_has_a_prior_with_its_evidence() -> None:
    assert list(PRIORS) == [field.name for field in fields(Parameters)]
    for prior in PRIORS.values():
        assert "published" in prior.evidence or "assumed" in prior.evidence
        assert prior.spread > 0.0


def test_draws_have_the_median_and_the_spread(station) -> None:  # type: ignore[no-untyped-def]
    priors = station_priors([station(TANK, exposure=Exposure.DEEP_SHADE)])
    drawn = draw_parameters(["a"], priors, 501)
    assert np.median(drawn.shelter) == pytest.approx(SHELTER[Exposure.DEEP_SHADE])
    assert np.median(drawn.leak_mm_d) == pytest.approx(0.1)
    for name, prior in PRIORS.items():
        assert np.log(getattr(drawn, name)).std() == pytest.approx(prior.spread, rel=0.01)


def test_parameters_are_drawn_independently(station) -> None:  # type: ignore[no-untyped-def]
    drawn = draw_parameters(["a"], station_priors([station(TANK)]), 2_000)
    logs = np.log(np.array(list(vars(drawn).values()))[:, 0])
    apart = np.corrcoef(logs) - np.eye(len(logs))
    assert np.abs(apart).max() < 0.08


def test_a_station_draws_the_same_in_any_company(station) -> None:  # type: ignore[no-untyped-def]
    one, two = station(TANK), station(TANK, exposure=Exposure.OPEN)
    alone = draw_parameters(["b"], station_priors([two]), 50)
    both = draw_parameters(["a", "b"], station_priors([one, two]), 50)
    for name in PRIORS:
        assert (getattr(both, name)[1] == getattr(alone, name)[0]).all()
    assert not (both.rain[0] == both.rain[1]).all()


def test_one_member_is_refused(station) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadValue, match="at least two"):
        draw_parameters(["a"], station_priors([station(TANK)]), 1)


def test_an_unknown_start_is_any_level() -> None:
    start = unknown_start_l("a", 400.0, 100)
    assert start.min() == 2.0
    assert start.max() == 398.0
    assert start.mean() == pytest.approx(200.0)
    assert (start == unknown_start_l("a", 400.0, 100)).all()
    assert (np.diff(start) < 0).any()


def test_normal_scores_against_the_table() -> None:
    """Normal quantiles of 10 and 90 percent, 1.2816 (any table)."""
    assert normal_scores(5)[[0, 2, 4]] == pytest.approx([-1.2816, 0.0, 1.2816], abs=1e-4)
