"""What each cause does to a tank and to the habit of using it, with its evidence.

Every parameter is lognormal: a median, and a spread that is the standard deviation
of its logarithm; draws are kept within the limits of their name. No published
recovery time of a small tank was found for any cause. The shares that mix and the
residue are calibrated to common practice: on real weather a removed drowned animal
keeps a tank of rain alone out of use for six months or more, and a bailed and
refilled one for weeks.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from store.errors import BadValue
from store.records import CauseSetting
from store.vocabulary import Cause

PRACTICE = "common practice, no source"
CAVEAT = "dilution only; safety unknown"
"""Said beside every date that comes of these parameters."""


@dataclass(frozen=True)
class Limits:
    """The values a parameter may take, both ends included, and what it means."""

    low: float
    high: float
    meaning: str


LIMITS: Mapping[str, Limits] = MappingProxyType(
    {
        "strength": Limits(0.0, 10.0, "concentration when found, as a multiple of the usual"),
        "clear_share": Limits(0.001, 1.0, "share of the usual at which animals come back"),
        "mixed_share": Limits(0.05, 1.0, "share of the overflow that mixes with the tank"),
        "residue_share": Limits(0.0, 1.0, "share that also clings to walls and bottom"),
        "residue_days": Limits(1.0, 1000.0, "mean days until what clings is released"),
        "source_days": Limits(0.0, 1000.0, "days at 20 C that the source lasts if left"),
        "decay_per_day": Limits(0.0, 10.0, "first-order decay a day at 20 C"),
        "habit_left": Limits(0.0, 1.0, "share of the habit left when found"),
        "habit_days": Limits(1.0, 100.0, "days to win back a habit lost"),
        "wait_days": Limits(0.0, 2000.0, "wait for rain without weather, rule of thumb"),
        "refilled_days": Limits(0.0, 2000.0, "wait after a refill, rule of thumb"),
    }
)


@dataclass(frozen=True)
class Prior:
    """A lognormal prior of one parameter; a spread of 0 is a number."""

    median: float
    spread: float
    evidence: str


Priors = Mapping[str, Prior]
"""The parameters of one cause, by the names in `LIMITS`."""
CausePriors = Mapping[Cause, Priors]

_NONE_DISSOLVED = Prior(0.0, 0.0, "assumed: the water stays as it was")
_NO_RESIDUE = Prior(0.0, 0.0, "assumed: nothing clings to walls and bottom")
_NO_DECAY = Prior(0.0, 0.0, "assumed none: no rate is published for a tank")
_DISSOLVED_AT_ONCE = Prior(0.0, 0.0, "assumed: dissolved at once, and nothing goes on releasing it")

_USUAL: dict[str, Prior] = {
    "strength": Prior(1.0, 0.3, "assumed: as strong as the usual case, within a third"),
    "clear_share": Prior(
        0.05,
        0.5,
        "assumed: no share at which animals come back is published. Three tank volumes pumped "
        "through leave 5 percent and are accepted as an exchange (published: IMO Ballast Water "
        "Management Convention, Regulation D-1)",
    ),
    "mixed_share": Prior(
        0.5,
        0.3,
        "assumed, calibrated to common practice: water from the apron runs over the surface to "
        "the rim. Imperfect mixing slows dilution 1 to 10 times in ventilated rooms (published: "
        "mixing factors of ACGIH, Industrial Ventilation; value from memory)",
    ),
    "residue_share": Prior(0.03, 0.7, "assumed, calibrated to common practice"),
    "residue_days": Prior(40.0, 0.5, "assumed"),
    "source_days": _DISSOLVED_AT_ONCE,
    "decay_per_day": _NO_DECAY,
    "habit_left": Prior(0.0, 0.0, "assumed: by the day of the find the habit is lost"),
    "habit_days": Prior(10.0, 0.27, f"{PRACTICE}: one to two weeks after water is back"),
    "wait_days": Prior(183.0, 0.0, "assumed to be like a drowned animal"),
    "refilled_days": Prior(21.0, 0.0, "assumed to be like a drowned animal"),
}

_HABIT_ONLY: dict[str, Prior] = _USUAL | {
    "strength": _NONE_DISSOLVED,
    "residue_share": _NO_RESIDUE,
    "wait_days": Prior(14.0, 0.0, f"{PRACTICE}: one to two weeks after water is back"),
    "refilled_days": Prior(14.0, 0.0, f"{PRACTICE}: one to two weeks after water is back"),
}

_DECOMPOSITION = (
    "soft tissue is gone after about 1,285 degree-days above 0 C on land, 64 days at 20 C "
    "(published: Vass et al. 1992, J. Forensic Sci. 37:1236; value from memory); decay goes with "
    "accumulated warmth (published: J. Forensic Sci. 2011, 56:229-232)"
)

CAUSE_PRIORS: CausePriors = MappingProxyType(
    {
        Cause.DROWNED_ANIMAL: _USUAL
        | {
            "source_days": Prior(64.0, 0.3, f"{_DECOMPOSITION}; slower under water"),
            "wait_days": Prior(183.0, 0.0, f"{PRACTICE}: six months or more by rain alone"),
            "refilled_days": Prior(21.0, 0.0, f"{PRACTICE}: weeks when bailed and refilled"),
        },
        Cause.DEAD_FISH: _USUAL
        | {
            "strength": Prior(0.5, 0.5, "assumed: a few small fish weigh less than a raccoon"),
            "source_days": Prior(32.0, 0.4, f"assumed half of a mammal's; {_DECOMPOSITION}"),
        },
        Cause.ADDITIVE: _USUAL
        | {
            "strength": Prior(1.0, 0.7, "assumed: nobody knows how much was put in"),
            "residue_share": Prior(0.05, 0.7, "assumed: powder settles and clings"),
            "decay_per_day": Prior(
                0.005,
                1.5,
                "assumed slow and very uncertain: carbamate insecticides last in acid water and "
                "break down in alkaline water (published: Aly and El-Dib 1972, Adv. Chem. Ser. "
                "111, chapter 11); salt and flavouring do not break down",
            ),
        },
        Cause.DYE: _USUAL
        | {
            "clear_share": Prior(0.1, 0.5, "assumed: a tint puts animals off less than a smell"),
            "residue_share": Prior(0.01, 0.7, "assumed"),
            "decay_per_day": Prior(0.01, 1.0, "assumed: light bleaches dyes, shade keeps them"),
        },
        Cause.SPILL: _USUAL
        | {
            "strength": Prior(2.0, 0.7, "assumed: fuel smells at far less than was spilt"),
            "residue_share": Prior(0.1, 0.7, "assumed: an oily film clings to walls"),
            "residue_days": Prior(90.0, 0.5, "assumed"),
            "decay_per_day": Prior(
                0.01,
                1.0,
                "assumed: heavy parts stay. Benzene alone halves in 3 days in summer and 13 in "
                "winter in outdoor sea-water tanks (published: chemical fact sheet, CAS 71-43-2)",
            ),
            "wait_days": Prior(365.0, 0.0, "assumed; not to be waited out: call the agency"),
            "refilled_days": Prior(90.0, 0.0, "assumed; not to be waited out: call the agency"),
        },
        Cause.SILT: _USUAL
        | {
            "clear_share": Prior(0.2, 0.5, "assumed: deer drink cloudy water"),
            "residue_share": _NO_RESIDUE,
            "source_days": Prior(30.0, 0.5, "assumed: leaves go on staining until raked out"),
            "decay_per_day": Prior(
                0.14,
                0.7,
                "clay of 1 micrometre takes 10 days to fall 30 in, silt hours (published: Stokes's "
                "law, density 2,650 kg/m3); half in 5 days is assumed",
            ),
            "habit_left": Prior(0.5, 0.3, "assumed"),
            "wait_days": Prior(60.0, 0.0, "assumed"),
            "refilled_days": Prior(14.0, 0.0, "assumed"),
        },
        Cause.BEAR_USE: _HABIT_ONLY
        | {
            "source_days": Prior(
                21.0, 0.5, "assumed: bears keep coming for some weeks while water stands open"
            ),
            "wait_days": Prior(28.0, 0.0, "assumed"),
        },
        Cause.DRY_SPELL: _HABIT_ONLY,
        Cause.DISTURBANCE: _HABIT_ONLY
        | {
            "source_days": Prior(3.0, 0.7, "assumed: whoever disturbed is gone within days"),
            "habit_left": Prior(0.5, 0.3, "assumed"),
        },
        Cause.OTHER: _USUAL | {"strength": Prior(1.0, 0.7, "assumed: nobody knows what it is")},
    }
)
"""The documented parameters of every cause."""


def keeps_animals_off(cause: Cause, priors: CausePriors) -> bool:
    """Whether animals leave such water alone; cloudy water they drink (assumed)."""
    return cause is not Cause.SILT and priors[cause]["strength"].median > 0.0


def parameters_with(settings: Iterable[CauseSetting]) -> CausePriors:
    """The documented parameters with the medians that a logbook's keeper set.

    The last of several settings of one parameter counts. A parameter keeps its
    spread: the keeper's number is a better middle, not a certainty.

    Raises:
        BadValue: no such parameter, or a value outside its limits.
    """
    changed = {cause: dict(priors) for cause, priors in CAUSE_PRIORS.items()}
    for setting in settings:
        _refuse_impossible(setting)
        prior = changed[setting.cause][setting.parameter]
        changed[setting.cause][setting.parameter] = replace(
            prior, median=setting.value, evidence="set in this logbook"
        )
    return changed


def _refuse_impossible(setting: CauseSetting) -> None:
    limits = LIMITS.get(setting.parameter)
    if limits is None:
        raise BadValue(
            f"A {setting.cause} has no parameter '{setting.parameter}'; "
            f"choose one of {', '.join(LIMITS)}."
        )
    if not limits.low <= setting.value <= limits.high:
        raise BadValue(
            f"{setting.parameter} of a {setting.cause} is {setting.value:g}; "
            f"give a value from {limits.low:g} to {limits.high:g} ({limits.meaning})."
        )
