"""The words a logbook is written in: shapes, chores, causes and the like.

Every value is what stands in the file and on the screen.
"""

from __future__ import annotations

from enum import StrEnum


class Shape(StrEnum):
    """Inside shape of a tank; every shape but the half drum may taper downwards."""

    RECTANGULAR = "rectangular"
    ROUND = "round"
    OBLONG = "oblong"
    """Straight sides with half-round ends; `length_mm` is the overall length."""
    HALF_DRUM = "half-drum"
    """A drum cut lengthwise and laid on its side; depth is half the diameter."""
    MEASURED = "measured"
    """Known only by a measured table of depth and volume."""


class ApronSurface(StrEnum):
    """What the soil apron around the rim is made of."""

    SCULPTED_SOIL = "sculpted soil"
    LOOSE_SOIL = "loose soil"
    GRASS = "grass"
    WOODS_LITTER = "woods litter"
    GRAVEL = "gravel"
    LINER = "liner"


class Exposure(StrEnum):
    OPEN = "open"
    PART_SHADE = "part shade"
    DEEP_SHADE = "deep shade"


class Access(StrEnum):
    VEHICLE = "vehicle"
    ATV = "atv"
    FOOT = "foot"


class ExpectedUse(StrEnum):
    LIGHT = "light"
    AVERAGE = "average"
    HEAVY = "heavy"


class DrinkingSeason(StrEnum):
    """When animals drink beside the rut, by what browse gives them in summer."""

    GREEN_SUMMER = "green summer"
    """Browse is green: next to nothing in July and August."""
    DRY_SUMMER = "dry summer"
    """Hot dry country: most in summer."""


class LevelMark(StrEnum):
    """A level judged by eye, as a share of the inside depth."""

    FULL = "full"
    THREE_QUARTERS = "three quarters"
    HALF = "half"
    QUARTER = "quarter"
    DRY = "dry"

    @property
    def share_of_depth(self) -> float:
        return _SHARE_OF_DEPTH[self]


_SHARE_OF_DEPTH = {
    LevelMark.FULL: 1.0,
    LevelMark.THREE_QUARTERS: 0.75,
    LevelMark.HALF: 0.5,
    LevelMark.QUARTER: 0.25,
    LevelMark.DRY: 0.0,
}


class WhenRead(StrEnum):
    """When a level was read on a day on which water was brought or taken out."""

    ON_COMING = "on coming"
    AFTER_WORK = "after the work"


class UseSeen(StrEnum):
    """Sign of deer at the tank: tracks, droppings, worn edges."""

    NONE = "none"
    LIGHT = "light"
    HEAVY = "heavy"


class ChoreKind(StrEnum):
    INSTALL = "install"
    RAKE = "rake"
    FILL = "fill"
    DRAIN = "drain"
    COVER = "cover"
    UNCOVER = "uncover"
    RETIRE = "retire"


class Cause(StrEnum):
    """What fouled a tank or broke the habit of using it."""

    DROWNED_ANIMAL = "drowned animal"
    ADDITIVE = "additive"
    BEAR_USE = "bear use"
    DEAD_FISH = "dead fish"
    DYE = "dye"
    OTHER = "other"
    SPILL = "spill"
    """Fuel or another chemical."""
    SILT = "silt or leaves"
    DRY_SPELL = "dry spell"
    DISTURBANCE = "disturbance"
    """People, machines or dogs kept the animals away."""


class AnimalClass(StrEnum):
    MAMMAL = "mammal"
    BIRD = "bird"
    REPTILE_OR_AMPHIBIAN = "reptile or amphibian"
    FISH = "fish"


class AnimalSize(StrEnum):
    """Against things at hand: up to a squirrel, up to a raccoon, larger."""

    SMALL = "small"
    MEDIUM = "medium"
    LARGE = "large"


class Strength(StrEnum):
    """How strongly water smells or is coloured."""

    NONE = "none"
    FAINT = "faint"
    STRONG = "strong"


class Response(StrEnum):
    """What animals do about the water."""

    AVOIDED = "avoided"
    USED = "used"


class Action(StrEnum):
    """What was done about a contamination event."""

    LEFT = "left"
    REMOVED = "carcass removed"
    BAILED = "bailed"
    DRAINED = "drained"
    REFILLED = "refilled"
    COVERED = "covered"
    SEEN_CLEAR = "seen clear"
    """A person saw that the water is clear and used again: the event is over."""


class WindowKind(StrEnum):
    """The windows of a tank keeper's year."""

    RAKE = "rake"
    INSTALL = "install"
    READY = "ready"
    FILL = "fill"
    QUIET = "quiet weeks"
    """No visits, from shortly before to shortly after heavy use."""
    HEAVY_USE = "heavy use"
    WINTER = "winter"


class LimitKind(StrEnum):
    """Numbers of the season that a keeper may set."""

    FILL_BELOW = "fill below"
    """Percent of the tank under which a level on the top-up date asks for a fill."""
    DRY_CHANCE = "dry chance"
    """Percent over which the chance of a dry tank in heavy use asks for a fill."""
    VISIT_DAYS = "visit days"
    """Days of use that one visit costs."""
    RAMP_DAYS = "ramp days"
    """Days after which an escape ramp is to be looked at again."""


class PromptKind(StrEnum):
    """What a station can be asked for, most urgent first."""

    RAMP = "ramp"
    CONTAMINATION = "contamination"
    FILL = "fill"
    RUN_DRY = "run dry"
    CHECK = "check"
    RAKE = "rake"
    INSTALL = "install"
    UNCOVER = "uncover"
    COVER = "cover"
    BEARS = "bears"


class Decision(StrEnum):
    """What a person says to a prompt that is not done."""

    PUT_OFF = "put off"
    DECLINED = "declined"
