"""The steps of a day as rows of a table, and the words around them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rich.text import Text

from store.haul.distance import MINUTES_PER_HOUR
from store.haul.steps import Load, Step
from store.season.cautions import HAULING, Caution
from store.season.prompt import WORK
from store.units import Units
from store.views.work_day import WorkDay, counted
from store.views.work_stops import WorkStop
from tui import words
from tui.base.table import SCROLLBAR, Column, cut

EMPTY = "Nothing is due that needs a visit."


@dataclass(frozen=True)
class Line:
    """A step of the day; `stop` is None for water taken on. `whose` are the load's stops."""

    key: str
    step: Step
    where: str
    stop: WorkStop | None
    whose: tuple[str, ...] = ()


def lines_of(day: WorkDay) -> dict[str, Line]:
    """The steps by key; the last visit of a stop has the id of its station."""
    lines: dict[str, Line] = {}
    for number, step in enumerate(day.plan.steps):
        key = f"step {number}"
        if isinstance(step, Load):
            whose = tuple(day.stops[one].label for one in step.stops)
            lines[key] = Line(key, step, day.kit.source_name, None, whose)
        else:
            stop = day.stops[step.stop]
            key = stop.station.station_id if step.last else key
            lines[key] = Line(key, step, stop.label, stop)
    return lines


def columns_for(units: Units, width: int) -> tuple[Column[Line], ...]:
    """The columns; the work takes the room that is left."""
    columns: tuple[Column[Line], ...] = (
        Column(" Done", 6, lambda line: Text(_clock(line.step.done_minute).rjust(5))),
        Column("At", 17, lambda line: cut(line.where, 16)),
        Column(f"{units.volume_name:>4}", 5, lambda line: _water(line, units)),
        Column(f"{units.weight_name:>5}", 6, lambda line: _weight(line, units)),
        Column("Holds", 11, _chances),
    )
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (*columns, Column("Work", room, lambda line: cut(_work(line), room)))


def _clock(minutes: float) -> str:
    hours, rest = divmod(round(minutes), round(MINUTES_PER_HOUR))
    return f"{hours}:{rest:02}"


def _water(line: Line, units: Units) -> Text:
    step = line.step
    litres = step.water_l if isinstance(step, Load) else step.poured_l
    return Text(f"{units.volume(litres):.0f}".rjust(4) if litres else "")


def _weight(line: Line, units: Units) -> Text:
    if isinstance(line.step, Load):
        return Text(f"{units.weight(line.step.weight_kg):,.0f}".rjust(5))
    return Text("")


def _chances(line: Line) -> Text:
    if isinstance(line.step, Load) or not line.step.last:
        return Text("")
    if line.stop is None or line.stop.gain is None:
        return Text("")
    gain = line.stop.gain
    return Text(f"{words.chance(gain.chance_before)} to {words.chance(gain.chance_after)}")


def _work(line: Line) -> str:
    if line.stop is None:
        return f"Take on for {', '.join(line.whose)}"
    if not isinstance(line.step, Load) and not line.step.last:
        return "Pour in a full load"
    work = ", ".join(words.prompt_mark(one).strip() + WORK[one.kind] for one in line.stop.prompts)
    return f"{work} (on foot)" if line.stop.on_foot else work


def status_of(day: WorkDay, width: int) -> Text:
    """Day, hours and water in one line, its limits and the heaviest load in the next."""
    units = day.units
    loads = day.plan.loads
    told = [
        words.full_day(day.on),
        counted(len(day.served), "stop"),
        f"{day.hours:.1f} hours",
        f"{words.volume(day.plan.water_l, units)} in {counted(len(loads), 'load')}",
    ]
    limits = day.limits
    most = [
        f"{limits.minutes / MINUTES_PER_HOUR:g} hours" if limits.minutes is not None else "",
        counted(limits.loads, "load") if limits.loads is not None else "",
        words.volume(limits.water_l, units) if limits.water_l is not None else "",
    ]
    limit = f"At most {', '.join(filter(None, most))}" if any(most) else "No limits"
    heaviest = max((load.weight_kg for load in loads), default=0.0)
    whose = "your kit" if day.kit.asked else "an assumed kit"
    carries = (
        f"{whose}: heaviest load {units.weight(heaviest):,.0f} of "
        f"{units.weight(day.kit.payload_kg):,.0f} {units.weight_name}"
    )
    return Text("\n").join([cut("   ".join(told), width), cut(f"{limit}   {carries}", width)])


def strip_of(line: Line | None, units: Units) -> Text:
    """What the row at the cursor is about."""
    if line is None:
        return Text(EMPTY)
    if line.stop is None:
        weight = _weight(line, units).plain.strip()
        load = f"{weight} {units.weight_name} with the tank, for {', '.join(line.whose)}."
        return Text(load, "bold")
    stop = line.stop
    told = [Text.assemble((f"{stop.label}, {stop.tract}", "bold"),
                          f"  {' '.join(prompt.text for prompt in stop.prompts)}")]  # fmt: skip
    if stop.gain is not None:
        told.append(
            Text(
                f"Holds through heavy use: {words.chance(stop.gain.chance_before)} as it is, "
                f"{words.chance(stop.gain.chance_after)} with {words.volume(stop.need_l, units)}, "
                f"which bring {stop.gain.days:.1f} wet days."
            )
        )
    if stop.station.directions:
        told.append(Text(f"Way: {stop.station.directions}"))
    return Text("\n").join(told)


def notes_of(day: WorkDay, left_out: tuple[str, ...], cautions: tuple[Caution, ...]) -> Text:
    """What to mind of the loads, what is left out and why, what to know, what else to mind."""
    return Text("\n").join(_notes(day, left_out, cautions))


def _notes(
    day: WorkDay, left_out: tuple[str, ...], cautions: tuple[Caution, ...]
) -> Iterator[Text]:
    of_loads = [one for one in cautions if one.subject == HAULING.subject]
    for caution in of_loads:
        yield words.caution_text(caution)
    if left_out:
        yield Text.assemble(("Left out by you: ", "bold"), ", ".join(left_out))
    for one in day.not_done:
        yield Text.assemble(("Not done: ", "bold"), one.why)
    for note in day.notes:
        yield Text(note)
    for caution in cautions:
        if caution not in of_loads:
            yield words.caution_text(caution)
    if cautions:
        yield Text(words.LOCAL_RULES)
