"""A station's facts in words, in four lines or in many."""

from __future__ import annotations

from datetime import date

from rich.console import Group
from rich.table import Table
from rich.text import Text

from store.model.recovery import EventRecovery
from store.records import TankMeasures
from store.season.prompt import WORK, Prompt
from store.units import Units
from store.views.level_summary import Extreme, LevelSummary
from store.views.station_page import StationPage
from store.vocabulary import Access, Shape
from tui import words
from tui.base.board_screen import BACK_KEY
from tui.base.doors import DOORS
from tui.base.fouling_words import AGENCY_FIRST, NOT_BAILED, clear_day, day, span


def heading(page: StationPage) -> Text:
    return Text.assemble((page.label, "bold"), f"   {page.tract}   {page.number} of {page.count}")


def due_lines(page: StationPage, units: Units, *, wide: bool, most: int) -> Text:
    """All that is due, most urgent first, a line each; open events with their two dates."""
    events = {found.event.event_id: found for found in page.events}
    asked = {prompt.event_id for prompt in page.prompts}
    lines = [
        _event_line(found, page.today, wide=wide)
        for event_id, found in events.items()
        if event_id not in asked
    ]
    for prompt in page.prompts:
        if prompt.event_id in events:
            lines.append(_event_line(events[prompt.event_id], page.today, wide=wide))
        else:
            lines.append(Text(_due(prompt, page.today, units, wide=wide)))
    if len(lines) > most:
        left = len(lines) - most + 1
        lines = [*lines[: most - 1], Text(f"and {left} more: {DOORS['due'].key} has all of it")]
    return Text("\n").join(lines) if lines else Text("Nothing is due.")


def _due(prompt: Prompt, today: date, units: Units, *, wide: bool) -> str:
    start = f"{words.prompt_mark(prompt)} {prompt.state.value}: "
    if wide:
        return start + words.work(prompt, units)
    water = f", {words.water(prompt.volume_l, units)}" if prompt.volume_l else ""
    by = f", by {day(prompt.last, today)}" if prompt.last is not None else ""
    return f"{start}{WORK[prompt.kind]}{water}{by}"


def summary_words(page: StationPage, units: Units) -> str:
    """What the chart shows, in sentences; empty where there is none."""
    found = page.summary
    if found is None:
        return ""
    return " ".join(
        (
            _now(page, found, units),
            f"Since {_this_year(found.first_day, page.today)} highest "
            f"{_extreme(found.highest, page.today, units)}, lowest "
            f"{_extreme(found.lowest, page.today, units)}, {_days_dry(found.days_dry)}.",
            _rain(found, page.today, units),
        )
    )


def _now(page: StationPage, found: LevelSummary, units: Units) -> str:
    if page.retired is not None or page.level is None:
        return f"Retired; its level up to {words.plain_day(found.last_day)}."
    how = "Read today" if page.level.read_today else "Modeled"
    return (
        f"{how}: {words.depth(found.now_mm, units)} below the rim "
        f"(80% band {words.span(*found.band_now_mm, units)}), "
        f"{words.percent(page.level.share)}, {words.volume(page.level.volume_l, units)}."
    )


def _extreme(one: Extreme, today: date, units: Units) -> str:
    return f"{words.depth(one.below_rim_mm, units)} on {_this_year(one.on, today)}"


def _days_dry(days: int) -> str:
    return "never dry" if not days else f"dry on {'1 day' if days == 1 else f'{days} days'}"


def _rain(found: LevelSummary, today: date, units: Units) -> str:
    rain = found.last_rain
    if rain is None:
        return "No rain is known of."
    late = rain.known_to < found.last_day
    known = f" (known to {_this_year(rain.known_to, today)})" if late else ""
    return f"Last rain {words.rain(rain.rain_mm, units)} on {_this_year(rain.on, today)}{known}."


def _this_year(on: date, today: date) -> str:
    """A day, with its year where that is another one."""
    return words.day_month(on) if on.year == today.year else words.plain_day(on)


def facts_short(page: StationPage, units: Units) -> Text:
    """What is to be minded, and four lines of facts, for a screen of 80 columns."""
    facts = page.facts
    bears = "; bears" if facts.bear_country else ""
    cautions = [
        Text.assemble((f"{one.subject}: ", "bold"), one.brief or one.text) for one in page.cautions
    ]
    lines = [
        f"{_tank(facts.tank, units)}, {_capacity(page, units)}",
        f"{words.area(facts.apron_area_m2, units)} apron, {facts.apron_surface.value}; "
        f"{facts.exposure.value}",
        f"{facts.access.value}; {facts.expected_use.value} use{bears}; {_place(page)}",
        f"{_service(page)}; ramp {_ramp_short(page)}",
    ]
    return Text("\n").join([*cautions, Text("\n".join(lines))])


def facts_long(page: StationPage, units: Units) -> Group:
    """One fact a line, then what is to be minded, for a wide screen."""
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
    table = Table.grid(padding=(0, 1))
    for name, said in rows:
        table.add_row(Text(name, "bold"), Text(said))
    return Group(table, Text(), *(words.caution_text(one) for one in page.cautions))


def _weak(page: StationPage) -> str:
    """The weak points of site and tank; what each costs stands on the screen of the site."""
    if not page.weak:
        return "no weak point known"
    return "; ".join(f"not: {point.question.lower()}" for point in page.weak)


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
    shape = "" if tank.shape is Shape.MEASURED else f"{tank.shape.value.capitalize()} "
    return f"{shape}{across}{taper}, {deep}"


def _capacity(page: StationPage, units: Units) -> str:
    return "measures to correct" if page.tank is None else words.volume(page.tank.capacity_l, units)


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


def _ramp_short(page: StationPage) -> str:
    if page.ramp is None:
        return _ramp(page)
    return f"{'seen' if page.ramp.in_place else 'MISSING'} {words.plain_day(page.ramp.on)}"


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
