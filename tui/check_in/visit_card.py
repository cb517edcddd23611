"""What was entered at a station in a check-in, what a fill does, and what to beware of."""

from __future__ import annotations

from collections.abc import Sequence

from rich.text import Text

from store.records import StationFacts
from store.season.cautions import ESCAPE_RAMP, ICE, Caution, chore_cautions
from store.views.check_in import (
    FillDoubt,
    FillEffect,
    expected_below_rim_mm,
    fill_doubt,
    fill_effect,
    surprise,
)
from store.views.station_page import ice_today
from store.vocabulary import Access, ChoreKind
from tui import words
from tui.check_in.entered import StationVisit
from tui.check_in.keys import key
from tui.check_in.place_list import View, already, said
from tui.words import caution_text


def entered(view: View, station: StationFacts, seen: StationVisit) -> list[Text]:
    """What is entered, and what is to be said of it."""
    lines = []
    if view.before is not None:
        lines.append(Text(f"already: {already(view)}; a new level takes its place"))
    parts = said(seen, view.units)
    order = f" ({key('order')}: the other way round)" if seen.has_level and seen.filled else ""
    said_so = "; ".join(parts) if parts else "nothing yet"
    lines.append(Text(f"Entered: {said_so}{order}", "bold"))
    reading = seen.reading(station.station_id)
    expected = expected_below_rim_mm(view.board.levels, station.station_id, view.sheet.day)
    if reading is not None:
        filled = seen.filled or seen.after_work
        sentence = surprise(station, reading, expected, view.units, filled=filled)
        if sentence is not None:
            lines.append(Text(f"! {sentence}", "bold"))
    if seen.ramp and view.board.snapshot.histories[station.station_id].last_ramp_check is None:
        lines.append(caution_text(ESCAPE_RAMP))
    effect = _effect(view, station, seen, seen.fill_l) if seen.filled else None
    if effect is not None and not seen.after_work:
        lines += _fill_said(view, effect, seen.fill_l)
        lines += _asked(view, effect, fill_doubt(station, reading, expected, effect))
    elif seen.after_work and not seen.filled:
        lines.append(Text(f"The level counts as seen after the fill; {key('order')} if before."))
    return [*lines, *_cautions(view, station, seen, _chores(seen), seen.fill_l)]


def fill_typed(view: View, station: StationFacts, seen: StationVisit) -> list[Text]:
    """What a fill does and asks for, while its amount is being typed."""
    effect = _effect(view, station, seen, view.typed_l)
    lines = _fill_said(view, effect, view.typed_l)
    if effect is not None and effect.runs_over:
        over = words.volume(effect.over_l, view.units)
        lines.append(Text(f"! {over} more than there is room for would run over.", "bold"))
    if station.access is Access.FOOT:
        lines.append(Text("! Reached on foot alone: as a rule no water is brought here.", "bold"))
    return [*lines, *_cautions(view, station, seen, (ChoreKind.FILL,), view.typed_l)]


def _effect(
    view: View, station: StationFacts, seen: StationVisit, volume_l: float | None
) -> FillEffect | None:
    """What a fill does to the level found, or to the model's."""
    reading = None if seen.after_work else seen.reading(station.station_id)
    return fill_effect(view.board.levels, station, view.sheet.day, reading, volume_l)


def _fill_said(view: View, found: FillEffect | None, volume_l: float | None) -> list[Text]:
    """The room there is, what the water weighs, and the level after it."""
    if found is None:
        return []
    units = view.units
    brings = found.room_l if volume_l is None else volume_l
    after = f"{words.depth(found.after_below_rim_mm, units)} below the rim"
    full = f"then {words.percent(found.after_share)} full, {after}"
    room = words.volume(found.room_l, units)
    return [Text(f"Room for {room}. {words.water(brings, units)}: {full}.")]


def _asked(view: View, found: FillEffect, doubt: FillDoubt | None) -> list[Text]:
    """The one question that a fill leaves open."""
    match doubt:
        case FillDoubt.ORDER:
            return [Text(f"! Was that level seen after the fill? {key('order')} says so.", "bold")]
        case FillDoubt.ROOM:
            over = words.volume(found.over_l, view.units)
            question = "was the tank lower, or did it run over?"
            return [Text(f"! {over} more than there is room for: {question}", "bold")]
        case None:
            return []


def _chores(seen: StationVisit) -> tuple[ChoreKind, ...]:
    """The work entered that has cautions to read beside it."""
    done = {
        ChoreKind.FILL: seen.filled,
        ChoreKind.DRAIN: seen.drained,
        ChoreKind.COVER: seen.covered is not None,
    }
    return tuple(chore for chore, entered in done.items() if entered)


def _cautions(
    view: View,
    station: StationFacts,
    seen: StationVisit,
    chores: Sequence[ChoreKind],
    volume_l: float | None,
) -> list[Text]:
    """The cautions of all the work; `volume_l` is brought, None to the rim.

    Each stands once in a check-in, at the station that was entered first.
    """
    wanted = _wanted(view, station, chores)
    if not wanted:
        return []
    told, where = _told_before(view, station)
    rule = "Local codes and the wildlife agency go first."
    new = [caution for caution in wanted if caution not in told]
    if not new:
        return [Text(f"{rule} Cautions as at {where}.", "bold")]
    effect = _effect(view, station, seen, volume_l)
    room_l = None if effect is None else effect.room_l
    load_l = room_l if volume_l is None else volume_l
    cautions = words.of_this_job(new, load_l, view.units)
    more = f"({key('scroll_room', 1)}: more)"
    return [Text(f"{rule} {more}", "bold"), *(caution_text(caution) for caution in cautions)]


def _wanted(view: View, station: StationFacts, chores: Sequence[ChoreKind]) -> list[Caution]:
    """The cautions that some work at a station asks for."""
    wanted = [
        caution
        for chore in chores
        for caution in chore_cautions(chore, bear_country=station.bear_country)
    ]
    return [*wanted, ICE] if wanted and ice_today(view.board, station.station_id) else wanted


def _told_before(view: View, station: StationFacts) -> tuple[set[Caution], str]:
    """The cautions that stand at stations entered before this one, and the first of those."""
    told: set[Caution] = set()
    where = ""
    places = view.board.snapshot.places
    for station_id, seen in view.sheet.stations.items():
        if station_id == station.station_id:
            break
        other = places.stations[station_id]
        own = _wanted(view, other, _chores(seen))
        where = where or (places.label(other) if own else "")
        told.update(own)
    return told, where
