"""One line a station: what a person wants to know each morning."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from store.model.board import Board
from store.model.known_levels import LevelNow
from store.records import StationFacts
from store.season.history import RampSeen, ReadingSeen
from store.season.look import LookValue
from store.season.prompt import Prompt
from store.season.prompts import next_due
from store.season.set_aside import NO_VISIT
from store.vocabulary import PromptKind

WEEK_D = 7


@dataclass(frozen=True)
class EventNow:
    """The open contamination events of a station: the one expected to last longest.

    `dated` is whether the model has said when they are over. `clear` is when its water is
    expected clear, `expected` when the station is in use again after all of them; None: not
    within sight.
    """

    cause: str
    found: date
    clear: date | None
    expected: date | None
    events: int
    dated: bool = True


@dataclass(frozen=True)
class OverviewRow:
    """A station today; None where the log or the model has nothing to say."""

    station: StationFacts
    label: str
    tract: str
    retired: date | None
    level: LevelNow | None
    no_level: str
    """Why there is no level, or empty."""
    last_reading: ReadingSeen | None
    """What somebody read last; all there is to say of a level where none is modeled."""
    days_since_look: int | None
    last_rake: date | None
    ramp: RampSeen | None
    event: EventNow | None
    hold_chance: float | None
    """That it holds water through the heavy-use weeks ahead."""
    look: LookValue | None
    """What a look today is worth; None where nothing hangs on it."""
    next_due: Prompt | None
    prompts: tuple[Prompt, ...]


def overview(board: Board) -> tuple[OverviewRow, ...]:
    """Every station, by tract and name."""
    return tuple(overview_row(board, facts) for facts in board.snapshot.places.stations.values())


@dataclass(frozen=True)
class OverviewTotals:
    """Of some stations: how many are likely to hold through heavy use, and what they ask for.

    `at_risk` are likelier to stand dry in it than their keeper accepts. `to_fill` ask for
    water, `fill_l` in all; `due` counts work that is due now or within a week.
    """

    holding: int
    at_risk: int
    to_fill: int
    fill_l: float
    fouled: int
    due: int


def overview_totals(board: Board, rows: Iterable[OverviewRow]) -> OverviewTotals:
    """The rows summed; a station given up counts nowhere."""
    kept = [row for row in rows if row.retired is None]
    snapshot, soon = board.snapshot, board.snapshot.today + timedelta(days=WEEK_D)
    asks = [
        board.outlooks[row.station.station_id].asks_for_water(
            snapshot.season_of(row.station.station_id)
        )
        for row in kept
    ]
    prompts = [prompt for row in kept for prompt in row.prompts]
    fills = [prompt for prompt in prompts if prompt.kind is PromptKind.FILL]
    return OverviewTotals(
        holding=sum(
            row.hold_chance is not None and row.event is None and not ask
            for row, ask in zip(kept, asks, strict=True)
        ),
        at_risk=sum(ask and row.event is None for row, ask in zip(kept, asks, strict=True)),
        to_fill=len(fills),
        fill_l=sum(prompt.volume_l or 0.0 for prompt in fills),
        fouled=sum(row.event is not None for row in kept),
        due=sum(prompt.first <= soon and prompt.kind not in NO_VISIT for prompt in prompts),
    )


def overview_row(board: Board, facts: StationFacts) -> OverviewRow:
    """One station's line."""
    snapshot, station_id = board.snapshot, facts.station_id
    history = snapshot.histories[station_id]
    levels = board.levels.by_station.get(station_id)
    look = history.last_look
    dry_chance = board.outlooks[station_id].dry_chance
    return OverviewRow(
        station=facts,
        label=snapshot.places.label(facts),
        tract=snapshot.places.tract_of(facts).name,
        retired=history.retired,
        level=None if levels is None or history.retired else levels.at(),
        no_level=board.levels.without.get(station_id, ""),
        last_reading=history.last_reading,
        days_since_look=None if look is None else (snapshot.today - look).days,
        last_rake=history.last_rake,
        ramp=history.last_ramp_check,
        event=_event(board, station_id),
        hold_chance=None if dry_chance is None else 1.0 - dry_chance,
        look=board.outlooks[station_id].look,
        next_due=next_due(board.prompts[station_id]),
        prompts=board.prompts[station_id],
    )


def _event(board: Board, station_id: str) -> EventNow | None:
    own = board.recoveries.of_station(station_id)
    if not own:
        return _found_alone(board, station_id)
    longest = max(own, key=lambda recovery: recovery.expected or date.max)
    return EventNow(
        cause=longest.event.cause.value,
        found=longest.event.found,
        clear=longest.clear,
        expected=board.recoveries.by_station[station_id].used.median,
        events=len(own),
    )


def _found_alone(board: Board, station_id: str) -> EventNow | None:
    """The event found last, before the model has said when it is over."""
    events = board.snapshot.histories[station_id].open_events
    if board.worked_out or not events:
        return None
    last = max(events, key=lambda event: event.found)
    return EventNow(last.cause.value, last.found, None, None, len(events), dated=False)
