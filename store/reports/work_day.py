"""A day of work in print: its steps, what each fill buys, and what is kept to plan with."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from store.haul.distance import MINUTES_PER_HOUR
from store.haul.problem import NO_LIMITS, Limits
from store.haul.steps import Load, Step
from store.model.assimilation import FilterCache
from store.model.snapshot import Snapshot
from store.model.work_kit import WorkKit
from store.model.working_out import board_of
from store.reports.report import Column, Measure, Report, Row
from store.season.prompt import WORK
from store.units import Units
from store.views.weather_state import weather_notes
from store.views.work_cautions import work_cautions
from store.views.work_day import WorkDay, counted, work_day
from store.views.work_kit_fields import kit_fields, kit_text
from store.vocabulary import PromptKind

COLUMNS = (
    Column("at"),
    Column("gallons", "", Measure.VOLUME, "litres", digits=1, printed=0),
    Column("pounds", "", Measure.WEIGHT, "kilograms", digits=0),
    Column("hours", digits=2, printed=1),
    Column("before", "% holds before", digits=0, chance=True),
    Column("after", "% holds after", digits=0, chance=True),
    Column("days", "wet days won", digits=1),
    Column("text", "what to do", sentences=True),
)
KIT_COLUMNS = (Column("what"), Column("value"), Column("unit"), Column("basis"))


def work_day_rows(
    snapshot: Snapshot,
    kit: WorkKit,
    on: date | None = None,
    limits: Limits = NO_LIMITS,
    only: Sequence[str] | None = None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """The steps of a day, in order; hours are those when a step is done.

    `gallons` and `pounds` of a load are what is taken on and its weight with the tank;
    `before` and `after` are the chances in percent to hold water through heavy use, `days` the
    wet days of those weeks that the fill brings.

    Raises:
        BadValue: as `work_day`.
    """
    board = board_of(snapshot, memory)
    day = work_day(board, kit, on or snapshot.today, limits, only)
    cautions = tuple(f"{one.subject}: {one.text}" for one in work_cautions(board, day))
    notes = (*weather_notes(snapshot), *day.notes, _sum(day))
    left = tuple(f"Not done: {one.why}" for one in day.not_done)
    rows = tuple(_row(day, step) for step in day.plan.steps)
    return Report(COLUMNS, rows, (*notes, *left, *cautions))


def _row(day: WorkDay, step: Step) -> Row:
    hours = step.done_minute / MINUTES_PER_HOUR
    if isinstance(step, Load):
        whose = ", ".join(day.stops[stop].label for stop in step.stops)
        name, water_l, weight_kg = day.kit.source_name, step.water_l, step.weight_kg
        return name, water_l, weight_kg, hours, None, None, None, f"Take on water for {whose}"
    stop = day.stops[step.stop]
    poured = step.poured_l or None
    if not step.last:
        return stop.label, poured, None, hours, None, None, None, "Pour in a full load"
    work = "; ".join(WORK[prompt.kind] for prompt in stop.prompts)
    on_foot = " (on foot)" if stop.on_foot else ""
    gain = stop.gain
    return (
        stop.label,
        poured,
        None,
        hours,
        None if gain is None else 100.0 * gain.chance_before,
        None if gain is None else 100.0 * gain.chance_after,
        None if gain is None else gain.days,
        f"{work}{on_foot}",
    )


def _sum(day: WorkDay) -> str:
    fills = sum(PromptKind.FILL in [one.kind for one in stop.prompts] for stop in day.served)
    if not day.stops:
        return f"Nothing is due on {day.on} that needs a visit."
    units = day.units
    water = (
        f"{units.volume(day.plan.water_l):.0f} {units.volume_name} in "
        f"{counted(len(day.plan.loads), 'load')}"
    )
    heaviest = max((load.weight_kg for load in day.plan.loads), default=0.0)
    payload = units.weight(day.kit.payload_kg)
    return (
        f"{day.on}: {counted(len(day.served), 'stop')}, {counted(fills, 'fill')}, {water}, "
        f"{day.hours:.1f} hours; the heaviest load weighs {units.weight(heaviest):.0f} of "
        f"{payload:.0f} {units.weight_name}."
    )


def kit_rows(kit: WorkKit, units: Units) -> Report:
    """What a day is planned with, and whether it is assumed."""
    basis = "your own" if kit.asked else "assumed"
    numbers = (
        (field.label, kit_text(kit, field, units), field.unit) for field in kit_fields(units)
    )
    words = (("Water is carried by", kit.by.value, ""), ("Water source", kit.source_name, ""))
    rows = tuple((what, value, unit, basis) for what, value, unit in (*words, *numbers))
    return Report(KIT_COLUMNS, rows)
