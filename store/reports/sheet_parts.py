"""What the sheet says of a day, as plain words, for the page and for plain text."""

from __future__ import annotations

from dataclasses import dataclass

from store.haul.distance import MINUTES_PER_HOUR
from store.haul.steps import Load
from store.model.board import Board
from store.season.cautions import Caution
from store.season.prompt import Prompt, plain_date
from store.units import Units, UnitSystem
from store.views.work_cautions import work_cautions
from store.views.work_day import WorkDay, counted
from store.views.work_stops import WorkStop
from store.vocabulary import ChoreKind, PromptKind

CHORES = {
    PromptKind.RAKE: ChoreKind.RAKE,
    PromptKind.INSTALL: ChoreKind.INSTALL,
    PromptKind.COVER: ChoreKind.COVER,
    PromptKind.UNCOVER: ChoreKind.UNCOVER,
}
"""Work that a tick on the sheet tells of; it is saved as a chore."""


@dataclass(frozen=True)
class SheetStop:
    """A stop of the sheet: its heading, what to know of it, and its tasks."""

    station: str
    heading: str
    directions: str
    water: str
    tasks: tuple[tuple[str, ChoreKind | None], ...]


@dataclass(frozen=True)
class SheetParts:
    """All of the sheet; `columns` are those of the CSV that is saved from it."""

    title: str
    summary: tuple[str, ...]
    stops: tuple[SheetStop, ...]
    cautions: tuple[Caution, ...]
    units: Units
    columns: tuple[str, ...]
    date: str


def sheet_parts(board: Board, day: WorkDay) -> SheetParts:
    """The words of the sheet of a planned day, in the units of the reader."""
    units = day.units
    us = units.system is UnitSystem.US
    below, water = ("below_rim_in", "gallons") if us else ("below_rim_cm", "litres")
    return SheetParts(
        title=f"Work on {plain_date(day.on)}",
        summary=_summary(day),
        stops=tuple(_stop(number, stop, units) for number, stop in enumerate(day.served, start=1)),
        cautions=work_cautions(board, day),
        units=units,
        columns=("date", "station", below, "use", "ramp", water, "done", "note"),
        date=day.on.isoformat(),
    )


def _summary(day: WorkDay) -> tuple[str, ...]:
    if not day.served:
        return ("Nothing is due that needs a visit.", *(one.why for one in day.not_done))
    units = day.units
    first = f"{counted(len(day.served), 'stop')}, {day.hours:.1f} hours."
    loads = [_load(day, number, load) for number, load in enumerate(day.plan.loads, start=1)]
    payload = f"Payload {units.weight(day.kit.payload_kg):.0f} {units.weight_name}."
    return (first, *([f"{payload} {' '.join(loads)}"] if loads else []), *day.notes,
            *(one.why for one in day.not_done))  # fmt: skip


def _load(day: WorkDay, number: int, load: Load) -> str:
    units = day.units
    whose = ", ".join(day.stops[stop].label for stop in load.stops)
    return (
        f"Load {number} at {day.kit.source_name}: {units.volume(load.water_l):.0f} "
        f"{units.volume_name}, {units.weight(load.weight_kg):.0f} {units.weight_name} with the "
        f"tank, for {whose}."
    )


def _stop(number: int, stop: WorkStop, units: Units) -> SheetStop:
    walk = f", {stop.walk_minutes / MINUTES_PER_HOUR:.1f} hours on foot" if stop.on_foot else ""
    water = ""
    if stop.need_l:
        water = f"Bring {units.volume(stop.need_l):.0f} {units.volume_name}."
    if stop.gain is not None:
        water += (
            f" Chance to hold through heavy use: {_percent(stop.gain.chance_before)} without it, "
            f"{_percent(stop.gain.chance_after)} with it."
        )
    return SheetStop(
        station=stop.label,
        heading=f"{number}. {stop.label}, {stop.tract}{walk}",
        directions=stop.station.directions,
        water=water,
        tasks=tuple((prompt.text, CHORES.get(prompt.kind)) for prompt in _tasks(stop)),
    )


def _percent(share: float) -> str:
    """A chance, never none or all: the courses it is counted in are a sample."""
    if share < 0.005:
        return "under 1 percent"
    return "over 99 percent" if share > 0.995 else f"{100.0 * share:.0f} percent"


def _tasks(stop: WorkStop) -> list[Prompt]:
    return [prompt for prompt in stop.prompts if prompt.kind is not PromptKind.FILL]
