"""The stations of a day of work: what is due at each, its water, and the way in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.contamination.costs import WAY_IN_HOURS
from store.haul.distance import MINUTES_PER_HOUR, Place, distance_km
from store.haul.work_minutes import WORK_MINUTES
from store.model.board import Board
from store.model.fill_gain import FillGain, fill_gain
from store.model.work_kit import WorkKit
from store.records import StationFacts, TractFacts
from store.season.prompt import OPEN_STATES, Prompt
from store.season.prompts import urgency
from store.vocabulary import Access, PromptKind


@dataclass(frozen=True)
class WorkStop:
    """A station to go to and what is due there, most urgent first.

    `place` is where the vehicle stands, from where `walk_minutes` are walked, there and
    back. `need_l` is the water for it, 0 for none; `gain` what that buys, None where no
    water is due or the model cannot say.
    """

    station: StationFacts
    label: str
    tract: str
    prompts: tuple[Prompt, ...]
    on_foot: bool
    place: Place | None
    walk_minutes: float
    need_l: float
    gain: FillGain | None

    @property
    def work_minutes(self) -> float:
        return sum(WORK_MINUTES[prompt.kind] for prompt in self.prompts)


@dataclass(frozen=True)
class NotDone:
    """Work that is due and is not done that day, with the reason as a sentence."""

    label: str
    why: str


def reaches(by: Access, access: Access) -> bool:
    """Whether what carries the water gets to a station; an ATV gets where a vehicle does."""
    return access is Access.VEHICLE or (access is Access.ATV and by is Access.ATV)


def work_stop(
    board: Board, kit: WorkKit, on: date, station_id: str, not_done: list[NotDone]
) -> WorkStop | None:
    """The work at a station on a day; None without any. Adds to `not_done` what cannot be."""
    places = board.snapshot.places
    facts = places.stations[station_id]
    label = places.label(facts)
    due = [
        prompt
        for prompt in sorted(board.prompts[station_id], key=urgency)
        if prompt.state in OPEN_STATES and prompt.first <= on and prompt.kind in WORK_MINUTES
    ]
    on_foot = not reaches(kit.by, facts.access)
    if on_foot and any(prompt.kind is PromptKind.FILL for prompt in due):
        not_done.append(
            NotDone(label, f"No {kit.by} gets to {label}, so no water is brought there.")
        )
        due = [prompt for prompt in due if prompt.kind is not PromptKind.FILL]
    if not due:
        return None
    if all(prompt.kind is PromptKind.RAMP and not prompt.endangers for prompt in due):
        not_done.append(
            NotDone(label, f"At {label} a look at the ramp is all, which waits for other work.")
        )
        return None
    need_l = kit.vehicle.worth_hauling_l(sum(prompt.volume_l or 0.0 for prompt in due))
    stands, walk = _way_in(board, kit, facts) if on_foot else (_place(board, facts), 0.0)
    return WorkStop(
        station=facts,
        label=label,
        tract=places.tract_of(facts).name,
        prompts=tuple(due),
        on_foot=on_foot,
        place=stands,
        walk_minutes=walk,
        need_l=need_l,
        gain=fill_gain(board, station_id, on, need_l) if need_l else None,
    )


def _place(board: Board, facts: StationFacts) -> Place | None:
    """Where a station is: by its own coordinates, else by those of its tract."""
    return _own_place(facts) or _own_place(board.snapshot.places.tract_of(facts))


def _own_place(facts: StationFacts | TractFacts) -> Place | None:
    if facts.latitude_deg is None or facts.longitude_deg is None:
        return None
    return Place(facts.latitude_deg, facts.longitude_deg)


def _way_in(board: Board, kit: WorkKit, facts: StationFacts) -> tuple[Place | None, float]:
    """Where the vehicle is left for a walk, and the minutes there and back.

    It is left at the nearest station of the tract that it reaches, or at the point of the
    tract; where none is known, the usual time of a way on foot is taken.
    """
    places = board.snapshot.places
    here, usual = _own_place(facts), WAY_IN_HOURS[Access.FOOT] * MINUTES_PER_HOUR
    tract = places.tract_of(facts)
    near = [
        _own_place(one)
        for one in places.stations.values()
        if one.tract_id == facts.tract_id and reaches(kit.by, one.access)
    ]
    known = [place for place in (*near, _own_place(tract)) if place is not None]
    if here is None or not known:
        return _place(board, facts) or next(iter(known), None), usual
    stands = min(known, key=lambda place: distance_km(place, here))
    hours = 2.0 * distance_km(stands, here) * kit.detour / kit.walk_km_per_hour
    return stands, hours * MINUTES_PER_HOUR
