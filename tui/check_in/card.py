"""The card of the place at the cursor of a check-in."""

from __future__ import annotations

from collections.abc import Sequence

from rich.text import Text

from store.contamination.parameters import CAVEAT
from store.model.recovery import EventRecovery
from store.records import StationFacts, TractFacts
from store.season.cautions import ESCAPE_RAMP, ICE, chore_cautions
from store.season.prompt import Prompt
from store.views.check_in import expected_below_rim_mm, fill_effect, level_on, surprise
from store.views.station_page import ice_today
from store.vocabulary import Access, ChoreKind, LevelMark, PromptKind, UseSeen
from tui import words
from tui.check_in.entered import StationVisit
from tui.check_in.keys import key
from tui.check_in.place_list import SHORT_MARKS, View, already, said
from tui.widgets.gauge import gauge
from tui.widgets.tank_picture import tank_picture
from tui.words import caution_text

GAUGE_WIDTH = 12
LEAST_OVER_L = 4.0
"""About a gallon; less is the error of the hand."""
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
    if left_out:
        names = ", ".join(left_out)
        lines += [Text(""), Text(f"Left out, not installed or retired: {names}.")]
    return Text("\n").join(lines)


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
        effect = _fill_effect(view, station, seen, view.typed_l)
        return Text("\n").join([*lines, *effect, *_hauling(view, station, seen)])
    lines += [
        _past(view, station),
        *(_event(view, event) for event in view.board.recoveries.of_station(station.station_id)),
        *(
            Text(f"{words.state_mark(prompt.state)} {prompt.text}{_recorded_by(prompt)}")
            for prompt in view.board.prompts[station.station_id]
        ),
        Text(""),
        *_entered(view, station, seen),
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


def _entered(view: View, station: StationFacts, seen: StationVisit) -> list[Text]:
    lines = []
    if view.before is not None:
        lines.append(Text(f"already: {already(view)}; a new level takes its place"))
    parts = said(seen, view.units)
    lines.append(Text("Entered: " + ("; ".join(parts) if parts else "nothing yet"), "bold"))
    reading = seen.reading(station.station_id)
    if reading is not None:
        expected = expected_below_rim_mm(view.board.levels, station.station_id, view.sheet.day)
        sentence = surprise(station, reading, expected, view.units, filled=seen.filled)
        if sentence is not None:
            lines.append(Text(f"! {sentence}", "bold"))
    if seen.ramp and view.board.snapshot.histories[station.station_id].last_ramp_check is None:
        lines.append(caution_text(ESCAPE_RAMP))
    if seen.filled:
        lines += _fill_effect(view, station, seen, seen.fill_l)
    return [*lines, *_cautions(view, station, seen, _chores(seen), seen.fill_l)]


def _fill_effect(
    view: View, station: StationFacts, seen: StationVisit, volume_l: float | None
) -> list[Text]:
    """The room there is, what the water weighs, and the level after it."""
    reading = seen.reading(station.station_id)
    found = fill_effect(view.board.levels, station, view.sheet.day, reading, volume_l)
    if found is None:
        return []
    units = view.units
    brings = found.room_l if volume_l is None else volume_l
    after = f"{words.depth(found.after_below_rim_mm, units)} below the rim"
    full = f"then {words.percent(found.after_share)} full, {after}"
    lines = [
        Text(f"Room for {words.volume(found.room_l, units)}. {words.water(brings, units)}: {full}.")
    ]
    if found.over_l >= LEAST_OVER_L:
        over = words.volume(found.over_l, units)
        lines.append(Text(f"! {over} more than there is room for would run over.", "bold"))
    return lines


def _chores(seen: StationVisit) -> tuple[ChoreKind, ...]:
    """The work entered that has cautions to read beside it."""
    done = {
        ChoreKind.FILL: seen.filled,
        ChoreKind.DRAIN: seen.drained,
        ChoreKind.COVER: seen.covered is not None,
    }
    return tuple(chore for chore, entered in done.items() if entered)


def _hauling(view: View, station: StationFacts, seen: StationVisit) -> list[Text]:
    lines = []
    if station.access is Access.FOOT:
        lines.append(Text("! Reached on foot alone: as a rule no water is brought here.", "bold"))
    return [*lines, *_cautions(view, station, seen, (ChoreKind.FILL,), view.typed_l)]


def _cautions(
    view: View,
    station: StationFacts,
    seen: StationVisit,
    chores: Sequence[ChoreKind],
    volume_l: float | None,
) -> list[Text]:
    """The cautions of all the work, each once; `volume_l` is brought, None to the rim."""
    if not chores:
        return []
    more = f"({key('scroll_room', 1)}: more)"
    rule = Text(f"Local codes and the wildlife agency go first. {more}", "bold")
    wanted = [
        caution
        for chore in chores
        for caution in chore_cautions(chore, bear_country=station.bear_country)
    ]
    if ice_today(view.board, station.station_id):
        wanted.append(ICE)
    effect = fill_effect(
        view.board.levels, station, view.sheet.day, seen.reading(station.station_id), volume_l
    )
    room_l = None if effect is None else effect.room_l
    load_l = room_l if volume_l is None else volume_l
    cautions = words.of_this_job(wanted, load_l, view.units)
    return [rule, *(caution_text(caution) for caution in cautions)]


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


def summary_card(view: View) -> Text:
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
    return Text("\n").join(lines)


def keys_card(stop: TractFacts | StationFacts | None) -> str:
    """The single keys of a station; none elsewhere, and no fill where none is hauled."""
    if not isinstance(stop, StationFacts):
        return ""
    fill = "" if stop.access is Access.FOOT else f"{key('fill')} filled  "
    named = {**SHORT_MARKS, LevelMark.HALF: "half"}
    marks = "  ".join(f"{key('mark', mark.value)} {name}" for mark, name in named.items())
    uses = "  ".join(f"{key('use', use.value)} {use}" for use in UseSeen)
    return (
        f"{marks}  {key('measure')} typed\n"
        f"use: {uses}    {key('camera')} camera\n"
        f"{key('ramp')} ramp  {key('rake')} raked  {fill}{key('drain')} drained  "
        f"{key('cover')} cover  {key('note')} note  {key('clear')} clear"
    )
