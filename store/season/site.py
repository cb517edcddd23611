"""What to look at before a tank is dug in, and what each weak point costs.

All of it is common practice, no source. What the tank's own measures tell is not asked.
"""

from __future__ import annotations

from dataclasses import dataclass

from store.records import SiteCheck


@dataclass(frozen=True)
class SitePoint:
    """`name` is a field of `SiteCheck`; the question is answered yes where all is well."""

    name: str
    question: str
    cost: str


SITE_POINTS = (
    SitePoint(
        "rim",
        "Rim flush, or at most 6 in proud with soil sculpted up to the lip",
        "Runoff goes past it, and the tank has the rain on its opening alone.",
    ),
    SitePoint(
        "bank",
        "No steep bank uphill",
        "Silt and leaves wash in, and animals that cannot see uphill stay away.",
    ),
    SitePoint(
        "approach",
        "A clear way in from nearly all sides",
        "Animals that see one way out only drink elsewhere.",
    ),
    SitePoint(
        "hollow",
        "Not at the bottom of a deep hole",
        "It floods, silts up, and holds scent and cold air.",
    ),
    SitePoint(
        "plot",
        "On the way to a food plot, not in it",
        "Each visit to the water disturbs the plot, and the plot's traffic muddies the water.",
    ),
    SitePoint(
        "dull",
        "A dull, dark tank",
        "A bright one is shied at for months, and grows algae.",
    ),
    SitePoint(
        "ramp",
        "An escape ramp that reaches the bottom",
        "What falls in drowns, and the water is fouled for months.",
    ),
    SitePoint(
        "bears",
        "No fresh sign of bears",
        "Bears sit in it, tear it out and keep deer away; set it later, or elsewhere.",
    ),
    SitePoint(
        "pressure",
        "Little hunting pressure close by",
        "Animals come at night alone, or give the place up.",
    ),
    SitePoint(
        "asked",
        "Utilities, owner and wildlife agency asked before digging",
        "A cut line can kill, and local rules may forbid the tank.",
    ),
)
LEAST_VOLUME_L = 378.5
"""100 US gal."""
LEAST_DEPTH_MM = 711.0
"""28 in; about 30 in deep is wanted."""
TOO_SMALL = SitePoint(
    "small",
    "At least 100 gal",
    "It is empty after a few weeks of heavy use, whatever the rain.",
)
TOO_SHALLOW = SitePoint(
    "shallow",
    "About 30 in deep",
    "A wide, shallow tank loses more to the sun than animals drink.",
)


def weak_points(
    check: SiteCheck | None, depth_mm: float, capacity_l: float | None
) -> tuple[SitePoint, ...]:
    """What was answered no, then what the tank's own measures say.

    Points nobody looked at do not count; `capacity_l` None is not known.
    """
    weak = [] if check is None else [p for p in SITE_POINTS if getattr(check, p.name) is False]
    if capacity_l is not None and capacity_l < LEAST_VOLUME_L:
        weak.append(TOO_SMALL)
    if depth_mm < LEAST_DEPTH_MM:
        weak.append(TOO_SHALLOW)
    return tuple(weak)
