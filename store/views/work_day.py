"""A day of work planned from the board: stops, loads, hours, and what each fill buys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from store.contamination.costs import WAY_IN_HOURS
from store.errors import BadValue
from store.haul.distance import MINUTES_PER_HOUR
from store.haul.problem import NO_LIMITS, DayProblem, Limits, Stop
from store.haul.solve import DayPlan, LeftOut, plan_day
from store.model.board import Board
from store.model.work_kit import WorkKit
from store.season.prompt import plain_date
from store.season.set_aside import quiet_weeks_on
from store.units import Units
from store.views.work_stops import NotDone, WorkStop, work_stop

LONGEST_DAYS = 60
"""What is due is known as of today; farther ahead a day cannot be planned from it (assumed)."""


@dataclass(frozen=True)
class WorkDay:
    """`stops` are all that were thought of; the numbers in `plan` are theirs."""

    on: date
    kit: WorkKit
    limits: Limits
    units: Units
    stops: tuple[WorkStop, ...]
    plan: DayPlan
    not_done: tuple[NotDone, ...]
    notes: tuple[str, ...]

    @property
    def served(self) -> tuple[WorkStop, ...]:
        """The stops of the day in their order."""
        return tuple(self.stops[one] for one in self.plan.order)

    @property
    def hours(self) -> float:
        return self.plan.minutes / MINUTES_PER_HOUR


def work_day(
    board: Board,
    kit: WorkKit,
    on: date,
    limits: Limits = NO_LIMITS,
    only: Sequence[str] | None = None,
) -> WorkDay:
    """Plan a day on what is due then; `only` names station ids, in the person's order.

    Raises:
        BadValue: the day is past or too far ahead, or a limit is less than nothing.
    """
    refuse_day(board.snapshot.today, on, limits)
    not_done: list[NotDone] = []
    ids = only if only is not None else tuple(board.snapshot.places.stations)
    found = [work_stop(board, kit, on, station_id, not_done) for station_id in ids]
    stops = tuple(stop for stop in found if stop is not None)
    problem = _problem(kit, stops, limits)
    plan = plan_day(problem)
    units = board.snapshot.units
    not_done += [_left_out(stops[one.stop], one, limits, units) for one in plan.left_out]
    notes = _notes(board, kit, on, stops, problem, plan)
    return WorkDay(on, kit, limits, units, stops, plan, tuple(not_done), notes)


def counted(number: int, what: str) -> str:
    """A number of things in words: 1 load, 2 loads."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def nearest_work_day(day: date, today: date) -> date:
    """`day`, or the nearest day that can be planned."""
    return min(max(day, today), today + timedelta(days=LONGEST_DAYS))


def refuse_day(today: date, on: date, limits: Limits) -> None:
    """Refuse what cannot be planned.

    Raises:
        BadValue: the day is past or too far ahead, or a limit is less than nothing.
    """
    last = today + timedelta(days=LONGEST_DAYS)
    if on < today:
        raise BadValue(f"{on} is past; plan a day from {today} to {last}.")
    if on > last:
        raise BadValue(
            f"{on} is too far ahead to say what will be due; plan a day from {today} to {last}."
        )
    for name, value in (
        ("hours", limits.minutes),
        ("loads", limits.loads),
        ("water", limits.water_l),
    ):
        if value is not None and not 0.0 <= value < float("inf"):
            raise BadValue(f"The {name} of a day cannot be {value:g}; give 0 or more, or no limit.")


def _problem(kit: WorkKit, stops: tuple[WorkStop, ...], limits: Limits) -> DayProblem:
    def stop_of(stop: WorkStop, way_minutes: float) -> Stop:
        return Stop(
            key=stop.station.station_id,
            place=stop.place,
            need_l=stop.need_l,
            minutes=stop.work_minutes + way_minutes,
            gain_days=stop.gain.days if stop.gain else 0.0,
            urgent=any(prompt.endangers for prompt in stop.prompts),
        )

    def problem_of(chosen: tuple[Stop, ...]) -> DayProblem:
        return DayProblem(
            vehicle=kit.vehicle,
            sources=(kit.source,),
            stops=chosen,
            start=kit.start,
            limits=limits,
            drive_km_per_hour=kit.drive_km_per_hour,
            detour=kit.detour,
        )

    placed = problem_of(tuple(stop_of(stop, stop.walk_minutes) for stop in stops))
    if placed.placed:
        return placed
    return problem_of(
        tuple(stop_of(stop, WAY_IN_HOURS[stop.station.access] * MINUTES_PER_HOUR) for stop in stops)
    )


def _left_out(stop: WorkStop, left: LeftOut, limits: Limits, units: Units) -> NotDone:
    figures = (
        (left.minutes, limits.minutes, 1.0 / MINUTES_PER_HOUR, 1, "hours"),
        (left.loads, limits.loads, 1.0, 0, "load" if left.loads == 1 else "loads"),
        (left.water_l, limits.water_l, units.volume(1.0), 0, units.volume_name),
    )
    too_much = [
        f"{takes * shown:.{digits}f} {what} instead of {most * shown:.{digits}f}"
        for takes, most, shown, digits, what in figures
        if takes is not None and most is not None and takes > most
    ]
    day = " and ".join(too_much) or "more hours and loads than allowed together"
    brings = ""
    if stop.gain is not None:
        brings = (
            f" It would gain {stop.gain.days:.1f} wet days for "
            f"{units.volume(stop.need_l):.0f} {units.volume_name}."
        )
    return NotDone(stop.label, f"With {stop.label} besides, the day would take {day}.{brings}")


def _notes(
    board: Board,
    kit: WorkKit,
    on: date,
    stops: tuple[WorkStop, ...],
    problem: DayProblem,
    plan: DayPlan,
) -> tuple[str, ...]:
    notes: list[str] = []
    if not kit.asked:
        notes.append(
            "Payload, tank, pump, source and speeds are assumed; enter your own, they are kept."
        )
    if stops and not problem.placed:
        bare = [stop.label for stop in stops if stop.place is None]
        whose = f"{', '.join(bare)}" if bare else "the water source"
        notes.append(
            f"No coordinates are known of {whose}, so the ways between stops are not counted, "
            "the stops keep their order, and each has its usual way in."
        )
    elif stops and kit.start is None:
        notes.append("The start is not known, so the way out and home is not counted.")
    if not plan.exact:
        notes.append(
            "So many stops are not planned exactly: the day is a good one, not surely the best."
        )
    if any(prompt.last is not None and prompt.last < on for s in stops for prompt in s.prompts):
        notes.append("Some of the work is past the last day of its window by then.")
    for tract_id, season in board.snapshot.seasons.items():
        weeks = quiet_weeks_on(season, on)
        name = board.snapshot.places.tracts[tract_id].name
        if weeks is not None and any(stop.station.tract_id == tract_id for stop in stops):
            notes.append(
                f"{plain_date(on)} lies in the quiet weeks of {name}, which last to "
                f"{plain_date(weeks.last)}: each visit costs days of use."
            )
    return tuple(notes)
