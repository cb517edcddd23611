"""The usual cautions, beside the work that can hurt someone.

They state common rules in short; local codes, wildlife agencies and licensed
practice go before them. Each names the publication it rests on.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from store.units import US_UNITS, Units, UnitSystem
from store.vocabulary import Action, Cause, ChoreKind


@dataclass(frozen=True)
class Caution:
    """`brief` is the danger alone, for a place with room for a line."""

    subject: str
    text: str
    source: str
    brief: str = ""


DIGGING = Caution(
    "Digging",
    "Before you dig, call 811 or your state's one-call centre some business days ahead and wait "
    "until every utility has answered or marked; dig by hand near the marks.",
    "811 national one-call service (United States); notice and hand-dig distance differ by state",
)
_RATINGS = (
    "Stay under the ratings of vehicle, axles, hitch and trailer; a part-full tank sloshes and "
    "pushes."
)
_TO_JUDGE_BY = {UnitSystem.US: ("a gallon", 100.0), UnitSystem.METRIC: ("a litre", 400.0)}
"""The unit of volume in a word, and an amount of it that is often hauled."""


def _weight_in(units: Units) -> str:
    """What water weighs, where no amount is known, in the units shown."""
    each, usual = _TO_JUDGE_BY[units.system]
    one = units.water_weight(units.volume_from(1.0))
    return (
        f"Water weighs {round(one, 2):g} {units.weight_name} {each}: {usual:.0f} "
        f"{units.volume_name} is {usual * one:.0f} {units.weight_name} before tank and trailer. "
        f"{_RATINGS}"
    )


HAULING = Caution(
    "Hauling water",
    _weight_in(US_UNITS),
    "Rating plates and owner's manuals of vehicle and trailer; weight from the density of water",
)
TOWING = Caution(
    "Towing",
    "Tank, pump and water count against the payload. Load a trailer so that its tongue presses "
    "down within the rating of the hitch, usually with 10 to 15 percent of the loaded weight; "
    "tie the tank down and drive slowly on slopes.",
    "Rating plates and owner's manuals of vehicle and trailer; 10 to 15 percent: value from memory",
)
CARCASS = Caution(
    "Carcass",
    "Wear gloves, touch nothing barehanded, wash hands and tools. Never handle or eat an animal "
    "found sick or dead; call the wildlife agency and follow its rules on moving and disposal.",
    "CDC guidance on chronic wasting disease; state wildlife agencies' carcass rules",
)
ROTTING_WATER = Caution(
    "Fouled tank",
    "Do not climb into a tank that has held rotting matter: gas gathers in it. Carcasses in a "
    "tank have gone on to kill other animals, so keep animals off until it is dealt with.",
    "CDC guidance on disinfecting wells; Swift et al. 2000, J. Wildl. Dis. 36:184-189",
)
BEARS = Caution(
    "Bears",
    "Never approach a bear. Carcasses and scent draw bears: make noise, leave if one is near, "
    "and let the wildlife agency deal with one that keeps coming.",
    "Bear-safety checklists for outdoor workers (Canada); state wildlife agencies",
)
OPEN_WATER = Caution(
    "Open water",
    "A small child can drown in a few inches of water and cannot climb out of a tank. Cover or "
    "fence it where children may come, and never leave it open without its escape ramp.",
    "US Consumer Product Safety Commission, drowning-prevention documents 5006",
    brief="A small child can drown in it.",
)
ICE = Caution(
    "Ice",
    "Never stand on the ice of a tank or trust it to bear weight; the rim and the wet apron are "
    "slippery. Break ice from firm ground.",
    "common practice, no source",
)
CHEMICALS = Caution(
    "Chemicals",
    "Add nothing to the water without the wildlife agency's advice. Never mix chemicals. With "
    "bleach wear goggles and gloves in open air, keep it out of streams, keep animals off.",
    "CDC guidance on disinfecting wells; discharge rule: common practice, no source",
)
LONE_WORK = Caution(
    "Working alone",
    "Tell someone the place and the hour of your return, and carry a phone or radio that works "
    "there.",
    "Safety checklists for outdoor workers (Canada)",
)
MOVING_WATER = Caution(
    "Moving water",
    "Carry no pond or creek water between sites. Clean, drain and dry tanks, pumps and hoses, "
    "five days at least, before the next site.",
    "US Fish and Wildlife Service, Clean Drain Dry",
)
LOCAL_LAW = Caution(
    "Local law",
    "Rules on bait and feed differ by state, county and disease zone and change yearly. Ask the "
    "wildlife agency whether a watered tank counts before you set or fill one.",
    "State wildlife agencies; Association of Fish and Wildlife Agencies, CWD best practices",
)
SPILLS = Caution(
    "Fuel and chemicals",
    "Do not bail a spill onto the ground or into a ditch. Keep animals and flames off and "
    "call the agency that takes spill reports; cleaning up is for licensed practice.",
    "common practice, no source; reporting rules differ by state",
)

BEARS_COMING = Caution(
    "Bears that come",
    "Drain the tank or keep it covered until none has come for two weeks. Never approach or chase "
    "a bear; call the wildlife agency about one that keeps coming; local law says what is allowed.",
    "common practice, no source; state wildlife agencies",
)

_BY_CHORE: dict[ChoreKind, tuple[Caution, ...]] = {
    ChoreKind.INSTALL: (DIGGING, HAULING, OPEN_WATER, LOCAL_LAW, LONE_WORK),
    ChoreKind.RAKE: (OPEN_WATER, LONE_WORK),
    ChoreKind.FILL: (HAULING, MOVING_WATER, LOCAL_LAW, OPEN_WATER),
    ChoreKind.DRAIN: (ROTTING_WATER, CHEMICALS, LONE_WORK),
    ChoreKind.COVER: (OPEN_WATER, ICE),
    ChoreKind.UNCOVER: (OPEN_WATER, ICE),
    ChoreKind.RETIRE: (DIGGING, HAULING, OPEN_WATER),
}
_BY_CAUSE: dict[Cause, tuple[Caution, ...]] = {
    Cause.DROWNED_ANIMAL: (CARCASS, ROTTING_WATER, CHEMICALS),
    Cause.DEAD_FISH: (CARCASS, ROTTING_WATER, MOVING_WATER),
    Cause.ADDITIVE: (CHEMICALS, LOCAL_LAW),
    Cause.BEAR_USE: (BEARS, BEARS_COMING, LONE_WORK),
    Cause.DYE: (CHEMICALS,),
    Cause.OTHER: (CARCASS, CHEMICALS),
    Cause.SPILL: (SPILLS, CHEMICALS),
    Cause.SILT: (ROTTING_WATER, LONE_WORK),
    Cause.DRY_SPELL: (OPEN_WATER,),
    Cause.DISTURBANCE: (LONE_WORK,),
}
_BY_ACTION: dict[Action, tuple[Caution, ...]] = {
    Action.LEFT: (ROTTING_WATER,),
    Action.REMOVED: (CARCASS,),
    Action.BAILED: (ROTTING_WATER, CHEMICALS),
    Action.DRAINED: (ROTTING_WATER, CHEMICALS),
    Action.REFILLED: (HAULING, MOVING_WATER),
    Action.COVERED: (OPEN_WATER,),
    Action.SEEN_CLEAR: (),
}


def chore_cautions(chore: ChoreKind, *, bear_country: bool = False) -> tuple[Caution, ...]:
    """The cautions to show beside a chore."""
    return _with_bears(_BY_CHORE[chore], bear_country)


def contamination_cautions(
    cause: Cause, action: Action | None = None, *, bear_country: bool = False
) -> tuple[Caution, ...]:
    """The cautions to show beside an event and what is done about it, each once.

    In bear country the caution about bears is added.
    """
    cautions = _BY_CAUSE[cause] + (_BY_ACTION[action] if action else ())
    return _with_bears(tuple(dict.fromkeys(cautions)), bear_country)


_BODILY = (
    ROTTING_WATER,
    CARCASS,
    SPILLS,
    CHEMICALS,
    BEARS,
    BEARS_COMING,
    ICE,
    OPEN_WATER,
    HAULING,
    TOWING,
    DIGGING,
    LONE_WORK,
)
"""What can hurt or kill a person, the worst of it first (common practice, no source)."""


def danger_first(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Each caution once: bodily danger first, then the others as they come."""
    order = {caution: place for place, caution in enumerate(_BODILY)}
    return tuple(sorted(dict.fromkeys(cautions), key=lambda one: order.get(one, len(order))))


def hauling_of(load: str) -> Caution:
    """The caution of hauling about one job's own water; `load` says how much and how heavy."""
    return replace(HAULING, text=f"{load} before tank and trailer. {_RATINGS}")


def in_words_of_the_job(
    cautions: Iterable[Caution], units: Units, litres: float | None = None
) -> tuple[Caution, ...]:
    """Each caution once, in its place; hauling in the units shown, of the job's own water."""
    general = replace(HAULING, text=_weight_in(units))
    hauling = hauling_of(water_and_weight(litres, units)) if litres else general
    return tuple(hauling if one == HAULING else one for one in dict.fromkeys(cautions))


def water_and_weight(litres: float, units: Units) -> str:
    """An amount of water and what it weighs: 132 gal, 1,101 lb."""
    weight = f"{units.water_weight(litres):,.0f} {units.weight_name}"
    return f"{units.volume(litres):.0f} {units.volume_name}, {weight}"


FEW: Mapping[ChoreKind, tuple[Caution, ...]] = MappingProxyType(
    {
        ChoreKind.INSTALL: (DIGGING, OPEN_WATER),
        ChoreKind.FILL: (HAULING,),
        ChoreKind.COVER: (OPEN_WATER,),
        ChoreKind.UNCOVER: (OPEN_WATER,),
    }
)
"""The cautions of a chore where there is room for few: those of its own worst danger."""


def _with_bears(cautions: tuple[Caution, ...], bear_country: bool) -> tuple[Caution, ...]:
    return (*cautions, BEARS) if bear_country and BEARS not in cautions else cautions


ESCAPE_RAMP = Caution(
    "Escape ramp",
    "No water without one. Set it against the wall so a swimmer meets it and cannot pass behind "
    "or beneath; down to the bottom; 45 degrees at most; rough and lasting; fastened to the rim, "
    "out of drinkers' way.",
    "Taylor & Tuttle 2007, Water for Wildlife (Bat Conservation International)",
)
"""Published guidelines on escape structures, shown when a tank is planned."""

NEEDS_NO_TREATMENT = (
    Caution(
        "Ice",
        "Ice needs no treatment: pour in no salt or antifreeze. Antifreeze kills animals that "
        "drink it; the tank thaws by itself.",
        "common practice, no source; ethylene glycol as a poison of animals: value from memory",
    ),
    Caution(
        "Algae",
        "Green water needs no treatment: animals drink it, and rain thins it. A thick scum in "
        "hot weather can be poisonous: add nothing, keep off, ask the wildlife agency.",
        "common practice, no source; scum of blue-green algae: value from memory",
    ),
    Caution(
        "Mosquitoes",
        "Larvae need still water for 4 to 14 days; changing the water ends them. Pour in no oil "
        "or insecticide and put in no fish; a larvicide is used by its label alone.",
        "Public-health sheets on mosquitoes (Durham Region; University of Maryland)",
    ),
)
"""What looks like fouling and is none, said plainly so that nobody pours something in."""

DISINFECTING = Caution(
    "Disinfecting",
    "Put no bleach or other disinfectant into water that wildlife drinks. If a tank must be "
    "treated, ask the wildlife agency first.",
    "common practice, no source; CDC guidance on disinfecting wells for its dangers",
)
MOVING_CARCASSES = Caution(
    "Moving carcasses",
    "Do not carry a carcass across a county or disease-zone line; it can be unlawful and can "
    "spread disease. Ask the wildlife agency where it may go.",
    "State wildlife agencies' carcass rules; AFWA, CWD best practices",
)
NOT_TO_BE_DONE = (DISINFECTING, MOVING_CARCASSES, SPILLS)
"""Ideas that are dangerous or may be unlawful: the caution, and no instructions."""

_NOT_BY_CAUSE: dict[Cause, tuple[Caution, ...]] = {
    Cause.DROWNED_ANIMAL: (DISINFECTING, MOVING_CARCASSES),
    Cause.DEAD_FISH: (DISINFECTING, MOVING_CARCASSES),
    Cause.ADDITIVE: (DISINFECTING,),
    Cause.SPILL: (SPILLS, DISINFECTING),
}


def not_to_be_done(cause: Cause) -> tuple[Caution, ...]:
    """What a person may think of doing about a cause, and had better not."""
    return _NOT_BY_CAUSE.get(cause, ())
