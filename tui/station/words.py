"""A station's facts in words, in four lines or in many."""

from __future__ import annotations

from datetime import date

from rich.console import Group
from rich.table import Table
from rich.text import Text

from store.model.recoveries import EventRecovery
from store.records import TankMeasures
from store.season.cautions import OPEN_WATER
from store.units import Units
from store.views.station_page import StationPage
from store.vocabulary import Access, Shape
from tui import words
from tui.base.board_screen import BACK_KEY
from tui.base.doors import DOORS
from tui.base.fouling_words import AGENCY_FIRST, NOT_BAILED, clear_day, day, span


def heading(page: StationPage, units: Units) -> Text:
    """Two lines: the station with its level today, and the most pressing thing."""
    level = Text(_level(page, units))
    first = Text.assemble(
        (page.label, "bold"), f"   {page.tract}   {page.number} of {page.count}   ", level
    )
    return Text("\n").join([first, _pressing(page)])


def _level(page: StationPage, units: Units) -> str:
    if page.retired is not None:
        return f"retired {words.full_day(page.retired)}"
    if page.level is None:
        return "no level"
    how = "read today" if page.level.read_today else "modeled"
    return (
        f"{how}: {words.percent(page.level.share)}, {words.volume(page.level.volume_l, units)}, "
        f"{words.depth(page.level.below_rim_mm, units)} below the rim"
    )


def _pressing(page: StationPage) -> Text:
    if not page.prompts:
        return Text("Nothing is due.")
    first, count = page.prompts[0], len(page.prompts)
    return Text(f"{words.prompt_mark(first)} {first.state.value} (1 of {count}): {first.text}")


def facts_short(page: StationPage, units: Units) -> Text:
    """Four lines for a screen of 80 columns."""
    facts = page.facts
    lines = [
        f"{_tank(facts.tank, units)}, {_capacity(page, units)}",
        f"{words.area(facts.apron_area_m2, units)} apron, {facts.apron_surface.value}; "
        f"{facts.exposure.value}; {facts.access.value}; "
        f"{facts.expected_use.value} use{'; bears' if facts.bear_country else ''}",
        f"{_service(page)}; {_place(page)}",
        f"Weather {_weather(page)}",
    ]
    return Text("\n".join(lines))


def facts_long(page: StationPage, units: Units) -> Group:
    """One fact a line, then everything that is due, for a wide screen."""
    facts = page.facts
    cover = "open" if page.covered_since is None else f"since {words.full_day(page.covered_since)}"
    rows = [
        ("Tank", _tank(facts.tank, units)),
        ("Holds", _capacity(page, units)),
        ("Rim", f"{words.depth(facts.rim_above_ground_mm, units)} above the ground"),
        ("Apron", _apron(page, units)),
        ("Exposure", facts.exposure.value),
        ("Access", _access(facts.access)),
        ("Use", f"{facts.expected_use.value} use expected"),
        ("Bears", "bear country" if facts.bear_country else "none expected"),
        ("Place", _place(page)),
        ("Service", _service(page)),
        ("Cover", cover),
        ("Ramp", _ramp(page)),
        ("Weather", _weather(page)),
        ("Weak", _weak(page)),
    ]
    if page.retired is None and page.installed is not None and page.covered_since is None:
        rows.append((OPEN_WATER.subject, OPEN_WATER.text))
    table = Table.grid(padding=(0, 1))
    for name, said in rows:
        table.add_row(Text(name, "bold"), Text(said))
    due = [Text(f"{words.prompt_mark(p)} {p.state.value}: {p.text}") for p in page.prompts]
    return Group(table, Text(), *due)


def _weak(page: StationPage) -> str:
    """The weak points of site and tank; what each costs stands on the screen of the site."""
    if not page.weak:
        return "no weak point known"
    return "; ".join(f"not: {point.question.lower()}" for point in page.weak)


def event_lines(page: StationPage, *, wide: bool) -> Text:
    """The open events, a line each: two dates, and the choice that is expected first."""
    lines = [_event_line(found, page.today, wide=wide) for found in page.events]
    return Text("\n").join(lines)


def _event_line(found: EventRecovery, today: date, *, wide: bool) -> Text:
    waiting, best = found.outlook.waiting, found.best
    spread = f" ({span(waiting.used, today)})" if wide else ""
    line = Text.assemble(
        (
            f"! {found.event.cause.value} {day(found.event.found, today)}",
            "bold",
        ),
        f": water clear {clear_day(waiting, today)}, in use "
        f"{day(waiting.used.median, today)}{spread}; ",
    )
    if found.event.cause in NOT_BAILED:
        return line.append(AGENCY_FIRST)
    if best is waiting:
        return line.append("waiting is best")
    return line.append(f"{best.way.value} {day(best.used.median, today)}")


def why_no_level(page: StationPage) -> Text:
    """The sentence why there is no level, and what to do about it."""
    facts, imports = DOORS["facts"].key, DOORS["import"].key
    if page.installed is None:
        next_step = f"Press {facts} and enter the day it was installed, once it is in the ground."
    elif page.weather is None:
        next_step = (
            f"Press {BACK_KEY}, then {imports} in the list of stations, and import daily weather "
            "for its tract."
        )
    else:
        next_step = (
            f"Press {facts} and look through its facts, or import better weather with {imports} in "
            "the list."
        )
    return Text(f"{page.no_level}\n\n{next_step}")


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _tank(tank: TankMeasures, units: Units) -> str:
    def shown(*lengths_mm: float | None) -> str:
        known = [_number(units.depth(length)) for length in lengths_mm if length is not None]
        return " x ".join(known)

    deep = f"{shown(tank.depth_mm)} {units.depth_name} deep"
    match tank.shape:
        case Shape.ROUND:
            across = f"{shown(tank.diameter_mm)} across"
            bottom = shown(tank.bottom_diameter_mm)
        case Shape.HALF_DRUM:
            across = f"{shown(tank.length_mm)} long, {shown(tank.diameter_mm)} across"
            bottom = ""
        case Shape.MEASURED:
            across, bottom = f"{len(tank.depth_volume)} depths measured", ""
        case _:
            across = shown(tank.length_mm, tank.width_mm)
            bottom = shown(tank.bottom_length_mm, tank.bottom_width_mm)
    taper = f" (bottom {bottom})" if bottom else ""
    return f"{tank.shape.value.capitalize()} {across}{taper}, {deep}"


def _capacity(page: StationPage, units: Units) -> str:
    return (
        "measures to correct" if page.capacity_l is None else words.volume(page.capacity_l, units)
    )


def _apron(page: StationPage, units: Units) -> str:
    return f"{words.area(page.facts.apron_area_m2, units)} of {page.facts.apron_surface.value}"


def _access(access: Access) -> str:
    return {Access.FOOT: "on foot only", Access.ATV: "by ATV"}.get(access, "by vehicle")


def _service(page: StationPage) -> str:
    if page.installed is None:
        return "Not installed yet"
    since = words.plain_day(page.installed)
    began = f"Installed {since}" if page.install_logged else f"In place by {since}"
    return began if page.retired is None else f"{began}, retired {words.plain_day(page.retired)}"


def _ramp(page: StationPage) -> str:
    if page.ramp is None:
        return "never confirmed"
    state = "in place" if page.ramp.in_place else "MISSING"
    return f"{state}, seen {words.plain_day(page.ramp.on)}"


def _place(page: StationPage) -> str:
    if page.place is None:
        return "place unknown"
    latitude = _degrees(page.place.latitude_deg, "N", "S")
    if page.place.longitude_deg is None:
        return f"{latitude} ({page.place.whose})"
    return f"{latitude} {_degrees(page.place.longitude_deg, 'E', 'W')} ({page.place.whose})"


def _degrees(value: float, positive: str, negative: str) -> str:
    return f"{abs(value):.2f} {positive if value >= 0.0 else negative}"


def _weather(page: StationPage) -> str:
    used = page.weather
    if used is None:
        return "not known yet"
    gauge = f", {used.gauge_days} from your gauge" if used.gauge_days else ""
    return (
        f"{used.record_name} to {words.plain_day(used.last_known)}, "
        f"{used.filled:,} of {used.days:,} days filled in{gauge}"
    )
