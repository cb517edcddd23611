"""The card of the place at the cursor of a check-in."""

from __future__ import annotations

from collections.abc import Sequence

from rich.text import Text

from store.contamination.parameters import CAVEAT
from store.model.recovery import EventRecovery
from store.records import StationFacts, TractFacts
from store.season.prompt import Prompt
from store.units import Units
from store.views.check_in import level_on
from store.vocabulary import Access, LevelMark, PromptKind, UseSeen
from tui import words
from tui.check_in.entered import StationVisit
from tui.check_in.keys import key
from tui.check_in.place_list import View, already, said
from tui.check_in.visit_card import entered, fill_typed
from tui.key_table import key as key_for
from tui.widgets.gauge import gauge
from tui.widgets.tank_picture import tank_picture

GAUGE_WIDTH = 12
WET_MARKS = tuple(mark for mark in LevelMark if mark is not LevelMark.DRY)
PICTURE_SIZE = (30, 9)
RECORDS = {
    PromptKind.FILL: "fill",
    PromptKind.RAKE: "rake",
    PromptKind.RAMP: "ramp",
    PromptKind.COVER: "cover",
    PromptKind.UNCOVER: "cover",
    PromptKind.BEARS: "cover",
}
"""The action of the check-in that does what a prompt asks for."""


def gauge_card(view: View, tract: TractFacts, left_out: Sequence[str]) -> Text:
    lines = [
        Text.assemble(("Rain gauge", "bold"), f"   {tract.name}"),
        Text(f"Rain of {words.full_day(view.sheet.day)}, read from a gauge kept by hand."),
        Text("It takes the place of the weather record on that day."),
        Text(""),
        Text("Enter alone: no reading.   0: read, and dry."),
    ]
    if view.before is not None:
        lines.append(Text(f"already: {already(view)}; a new amount takes its place", "bold"))
    rain_mm = view.sheet.gauges.get(tract.tract_id)
    if rain_mm is not None:
        lines += [Text(""), Text(f"Entered: {words.rain(rain_mm, view.units)}", "bold")]
    return Text("\n").join([*lines, *_left_out(left_out)])


def _left_out(names: Sequence[str]) -> list[Text]:
    if not names:
        return []
    page = f"open its page and press {key_for('facts')}"
    cure = f"A tank in the ground is here once its day of installing is known: {page}."
    return [Text(""), Text(f"Left out, not installed or retired: {', '.join(names)}. {cure}")]


def station_card(view: View, station: StationFacts) -> Text:
    snapshot = view.board.snapshot
    places = snapshot.places
    seen = view.sheet.seen(station.station_id)
    lines = [
        Text.assemble(
            (places.label(station), "bold"),
            f"   {places.tract_of(station).name}   {station.access.value}",
        ),
        *_level(view, station),
    ]
    if view.hauling:
        return Text("\n").join([*lines, *fill_typed(view, station, seen)])
    lines += [
        _past(view, station),
        *(_event(view, event) for event in view.board.recoveries.of_station(station.station_id)),
        *(
            Text(f"{words.state_mark(prompt.state)} {prompt.text}{_recorded_by(prompt)}")
            for prompt in view.board.prompts[station.station_id]
        ),
        Text(""),
        *entered(view, station, seen),
    ]
    if view.wide:
        lines += [Text(""), _picture(view, station, seen)]
    return Text("\n").join(lines)


def _recorded_by(prompt: Prompt) -> str:
    """The key that records what is asked for, where one does."""
    action = RECORDS.get(prompt.kind)
    return "" if action is None else f" (press {key(action)} when done)"


def _level(view: View, station: StationFacts) -> list[Text]:
    level = level_on(view.board.levels, station.station_id, view.sheet.day)
    if level is None:
        why = view.board.levels.without.get(station.station_id, "no level is modeled that day.")
        return [Text(why)]
    how = "read" if level.read_today else "modeled"
    bar = gauge(level.share, GAUGE_WIDTH)
    return [
        Text.assemble(
            bar,
            f" {how} {words.percent(level.share)}, "
            f"{words.depth(level.below_rim_mm, view.units)} below rim",
        )
    ]


def _past(view: View, station: StationFacts) -> Text:
    history = view.board.snapshot.histories[station.station_id]
    today = view.board.snapshot.today
    look = history.last_look
    ago = words.days_ago(None if look is None else (today - look).days)
    ramp = history.last_ramp_check
    confirmed = "ramp never confirmed"
    if ramp is not None:
        state = "in place" if ramp.in_place else "MISSING"
        confirmed = f"ramp {state} {words.short_day(ramp.on, today)}"
    return Text(f"Seen {ago}; raked {words.short_day(history.last_rake, today)}; {confirmed}")


def _event(view: View, found: EventRecovery) -> Text:
    today = view.board.snapshot.today
    back = (
        words.OUT_OF_SIGHT if found.expected is None else f"about {words.full_day(found.expected)}"
    )
    clear = (
        "" if found.clear is None else f"water clear about {words.short_day(found.clear, today)}, "
    )
    return Text(
        f"! {found.event.cause.value}, found {words.short_day(found.event.found, today)}; "
        f"{clear}in use again {back} ({CAVEAT})",
        "bold",
    )


def _picture(view: View, station: StationFacts, seen: StationVisit) -> Text:
    """The tank at the level entered, or else at the level of the model."""
    reading = seen.reading(station.station_id)
    history = view.board.snapshot.histories[station.station_id]
    depth_mm = station.tank.depth_mm
    level = level_on(view.board.levels, station.station_id, view.sheet.day)
    share = None if level is None else 1.0 - level.below_rim_mm / depth_mm
    if reading is not None and reading.mark is not None:
        share = reading.mark.share_of_depth
    elif reading is not None and reading.below_rim_mm is not None:
        share = 1.0 - reading.below_rim_mm / depth_mm
    last = history.last_ramp_check
    ramp = seen.ramp if seen.ramp is not None or last is None else last.in_place
    return tank_picture(share, *PICTURE_SIZE, ramp=ramp, covered=history.covered_since is not None)


def summary_card(view: View, left_out: Sequence[str]) -> Text:
    """Everything entered, a line or more each, before it is saved."""
    sheet, places = view.sheet, view.board.snapshot.places
    lines = [Text(f"{words.full_day(sheet.day)}: {sheet.counts}", "bold")]
    lines.append(
        Text("Enter goes back." if sheet.is_empty else "Enter saves it all, as one entry to undo.")
    )
    lines.append(Text(""))
    for tract_id, rain_mm in sheet.gauges.items():
        lines.append(
            Text(f"Rain {places.tracts[tract_id].name}: {words.rain(rain_mm, view.units)}")
        )
    for station_id, seen in sheet.stations.items():
        label = places.label(places.stations[station_id])
        lines.append(Text(f"{label}: {'; '.join(said(seen, view.units))}"))
    return Text("\n").join([*lines, *_left_out(left_out)])


def keys_card(stop: TractFacts | StationFacts | None, units: Units) -> str:
    """The single keys of a station; none elsewhere, and no fill where none is hauled."""
    if not isinstance(stop, StationFacts):
        return ""
    fill = "" if stop.access is Access.FOOT else f"{key('fill')} fill  "
    marks = "  ".join(f"{key('mark', mark.value)} {mark.value}" for mark in WET_MARKS)
    uses = "  ".join(f"{key('use', use.value)} {use}" for use in UseSeen)
    return (
        f"{marks}\n"
        f"{key('mark', LevelMark.DRY.value)} dry  {key('measure')} {units.depth_name} below the "
        f"rim  {key('as_expected')} as expected\n"
        f"use: {uses}    {key('camera')} camera\n"
        f"{key('ramp')} ramp (again: missing)  {key('rake')} rake  {fill}\n{key('drain')} drain  "
        f"{key('cover')} cover  {key('note')} note"
    )
