"""How dates, chances, choices and cautions of contamination are written."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from rich.text import Text

from store.contamination.choices import Plan, Way
from store.contamination.estimates import Choice, DateQuantiles
from store.model.recoveries import EventRecovery
from store.season.cautions import Caution
from store.units import Units
from store.vocabulary import Access, Cause
from tui import words
from tui.outlook.words import chance

BEYOND = "beyond"
"""A date farther than the model looks ahead."""
NEAR_DAYS = 180
"""Within so many days to both sides no two days have the same name."""
BEST, OTHER = "*", " "
NOT_BAILED = {Cause.SPILL: "Bailing a spill is for licensed practice."}
AGENCY_FIRST = "call the agency that takes spill reports"


def day(when: date | None, today: date) -> str:
    """At most six characters; half a year away and more the month and year alone."""
    if when is None:
        return BEYOND
    near = abs((when - today).days) <= NEAR_DAYS
    return f"{when.day} {when:%b}" if near else f"{when:%b'%y}"


def plain_day(when: date | None) -> str:
    return "beyond sight" if when is None else f"{when.day} {when:%b %Y}"


def span(dates: DateQuantiles, today: date) -> str:
    """The 80 percent range."""
    if dates.low is None and dates.high is None:
        return "beyond sight"
    return f"{day(dates.low, today)} to {day(dates.high, today)}"


def used_words(choice: Choice) -> str:
    """When it is in use again, with the 80 percent range."""
    used = choice.used
    if used.median is None and used.low is None:
        return "in use again: beyond sight"
    return (
        f"in use again about {plain_day(used.median)} "
        f"({plain_day(used.low)} to {plain_day(used.high)})"
    )


CHOICE_HEADING = f"{'':2}{'Choice':20}{'Clear':>8}{'10%':>7}{'In use':>7}{'90%':>7}{'Chance':>7}"


def choice_lines(found: EventRecovery, today: date, units: Units) -> list[Text]:
    """The choices side by side, the one that is expected first marked; of a spill none."""
    best = None if found.event.cause in NOT_BAILED else found.best
    heading = f"{CHOICE_HEADING}{units.volume_name:>7}{'loads':>6}{'h':>4}{'go':>3}"
    return [
        Text(heading, "bold"),
        *(_choice_line(choice, today, units, choice is best) for choice in found.outlook.choices),
    ]


def _choice_line(choice: Choice, today: date, units: Units, is_best: bool) -> Text:
    used, cost = choice.used, choice.cost
    dates = f"{day(used.low, today):>7}{day(used.median, today):>7}{day(used.high, today):>7}"
    return Text(
        f"{BEST if is_best else OTHER} {choice.way.value:20}"
        f"{clear_day(choice, today):>8}{dates}{chance(choice.chance):>7}"
        f"{units.volume(cost.water_l):7.0f}{cost.loads:6d}{cost.hours:4.0f}{cost.visits:3d}",
        "bold" if is_best else "",
    )


def clear_day(choice: Choice, today: date) -> str:
    """By rule of thumb nothing is known of the water alone."""
    if choice.chance is None and choice.clear.median is None:
        return words.UNKNOWN
    return day(choice.clear.median, today)


def plan_words(plan: Plan | None, found: EventRecovery, units: Units) -> str:
    """What a refill is reckoned with; empty where none is offered."""
    if found.event.cause in NOT_BAILED:
        return f"{NOT_BAILED[found.event.cause]} "
    if found.way(Way.REFILL) is None:
        return "No refill on foot. " if found.station.access is Access.FOOT else ""
    share = Plan(found.wanted).bail_share if plan is None else plan.bail_share
    load = ""
    if plan is not None and plan.load_l is not None:
        load = f", {words.volume(plan.load_l, units)} a load"
    return f"Bails {words.percent(share)} a round{load}. "


def signs_words(found: EventRecovery) -> list[Text]:
    """What the signs seen changed; empty where none was seen."""
    if not found.event.signs:
        return []
    before, after = found.outlook.before_signs.used, found.outlook.waiting.used
    return [
        Text(
            f"In use again, without the signs seen: {plain_day(before.median)}; "
            f"with them: {plain_day(after.median)}."
        )
    ]


def basis_words(found: EventRecovery) -> str:
    return f"By {found.outlook.basis}; {found.outlook.caveat}."


def caution_text(caution: Caution, *, sources: bool) -> Text:
    source = f" [{caution.source}]" if sources else ""
    return Text.assemble((f"{caution.subject}: ", "bold"), caution.text, (source, "dim"))


def caution_names(cautions: Iterable[Caution]) -> str:
    return ", ".join(caution.subject for caution in cautions)
