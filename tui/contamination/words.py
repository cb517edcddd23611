"""How the table, the choices and the plan of fouled tanks are written."""

from __future__ import annotations

from datetime import date

from rich.text import Text

from store.contamination.choices import Plan, Way
from store.contamination.estimates import Choice, DateQuantiles
from store.model.board import Board
from store.model.recovery import EventRecovery
from store.units import Units
from store.vocabulary import Access
from tui import words
from tui.base.fouling_words import (
    NOT_BAILED,
    basis_words,
    clear_day,
    day,
    signs_words,
    span,
)
from tui.base.table import Column
from tui.widgets.cells import fit

BEST, OTHER = "*", " "

CHOICE_HEADING = f"{'':2}{'Choice':20}{'Clear':>7}{'In use':>7}  {'8 in 10':13}{'Chance':>7}"


def choice_lines(found: EventRecovery, today: date, units: Units) -> list[Text]:
    """The choices side by side; the one expected first is marked, but none of a spill."""
    best = None if found.event.cause in NOT_BAILED else found.best
    heading = f"{CHOICE_HEADING}{units.volume_name:>5}{'loads':>6}{'h':>3}{'trips':>6}"
    return [
        Text(heading, "bold"),
        *(_choice_line(choice, today, units, choice is best) for choice in found.outlook.choices),
    ]


def _way(choice: Choice) -> str:
    """Its words, with how often it is bailed and refilled where once is not enough."""
    rounds = choice.cost.rounds
    return choice.way.value if rounds < 2 else f"{choice.way.value} x {rounds}"


def _within(dates: DateQuantiles, today: date) -> str:
    """The range of 80 of 100 cases in at most 13 characters."""
    if dates.low is None:
        return words.BEYOND
    if dates.high is None:
        return f"from {day(dates.low, today)}"
    return f"{day(dates.low, today)}-{day(dates.high, today)}"


def _choice_line(choice: Choice, today: date, units: Units, is_best: bool) -> Text:
    used, cost = choice.used, choice.cost
    within = _within(used, today)
    return Text(
        f"{BEST if is_best else OTHER} {_way(choice):20}"
        f"{clear_day(choice, today):>7}{day(used.median, today):>7}  {within:13}"
        f"{words.chance(choice.chance):>7}{units.volume(cost.water_l):5.0f}{cost.loads:6d}"
        f"{cost.hours:3.0f}{cost.visits:6d}",
        "bold" if is_best else "",
    )


def plan_words(plan: Plan | None, found: EventRecovery, units: Units) -> str:
    """What a refill is reckoned with; empty where no refill is offered."""
    if found.event.cause in NOT_BAILED:
        return f"{NOT_BAILED[found.event.cause]} "
    if found.way(Way.REFILL) is None:
        return "No refill on foot. " if found.station.access is Access.FOOT else ""
    share = Plan(found.wanted).bail_share if plan is None else plan.bail_share
    load = ""
    if plan is not None and plan.load_l is not None:
        load = f", {words.volume(plan.load_l, units)} a load"
    return f"Bails {words.percent(share)} a round{load}. "


def ways_out(
    found: EventRecovery, plan: Plan | None, today: date, units: Units, *, waits: bool
) -> Text:
    """The choices, then what the plan and the dates rest on, unless a plan is worked out."""
    notes = f"{plan_words(plan, found, units)}{basis_words(found)}"
    if waits:
        notes = "Working out the plan ..."
    return Text("\n").join([*choice_lines(found, today, units), Text(notes), *signs_words(found)])


def heading(board: Board, found: list[EventRecovery]) -> str:
    """The day, how many events are open, and the day the chances are about."""
    today = words.full_day(board.snapshot.today)
    if not found:
        return f"{today}   no open event"
    events = "1 open event" if len(found) == 1 else f"{len(found)} open events"
    wanted = words.day_month(found[0].wanted)
    return f"{today}   {events}   Chance: back in use by {wanted} if you wait"


def event_columns(board: Board, *, wide: bool) -> tuple[Column[EventRecovery], ...]:
    """The columns at 80 characters, with more room for names on a wide screen."""
    places, name = board.snapshot.places, 26 if wide else 15
    today = board.snapshot.today
    return (
        Column("Station", name + 1, lambda one: Text(fit(places.label(one.station), name))),
        Column("Cause", 15, lambda one: Text(one.event.cause.value)),
        Column("Found", 7, lambda one: Text(day(one.event.found, today))),
        Column("Clear", 8, lambda one: Text(clear_day(one.outlook.waiting, today))),
        Column("In use", 8, lambda one: Text(day(one.outlook.waiting.used.median, today))),
        Column("8 in 10 cases", 18, lambda one: Text(span(one.outlook.waiting.used, today))),
        Column("Chance", 6, lambda one: Text(words.chance(one.outlook.waiting.chance))),
    )
