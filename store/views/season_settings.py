"""The windows and limits of a tract as they hold, and what changes one of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from store.model.snapshot import Snapshot
from store.records import Draft, SeasonLimit, SeasonWindow, Withdrawal
from store.season.month_day import month_days
from store.season.tract_season import default_season, limit_of, span_of, tract_season
from store.season.windows import Season
from store.typed import number_from
from store.vocabulary import LimitKind, WindowKind

WINDOW_MEANING: Mapping[WindowKind, str] = MappingProxyType(
    {
        WindowKind.RAKE: "Rake the aprons",
        WindowKind.INSTALL: "Dig in new tanks, while the soil is moist",
        WindowKind.READY: "Every tank ready by the last of these days",
        WindowKind.FILL: "Top up the tanks a vehicle gets to",
        WindowKind.QUIET: "No visits, for each costs use where it counts most",
        WindowKind.HEAVY_USE: "The weeks the water is wanted most",
        WindowKind.WINTER: "Tanks stand covered, drained or left",
    }
)
LIMIT_NAME: Mapping[LimitKind, tuple[str, str]] = MappingProxyType(
    {
        LimitKind.FILL_BELOW: ("Fill when below", "% full"),
        LimitKind.DRY_CHANCE: ("Fill when dry is", "% likely"),
        LimitKind.VISIT_DAYS: ("A visit costs", "days of use"),
        LimitKind.RAMP_DAYS: ("See the ramp every", "days"),
    }
)
"""What each limit is called, and what its number counts."""
LIMIT_MEANING: Mapping[LimitKind, str] = MappingProxyType(
    {
        LimitKind.FILL_BELOW: "percent full at the top-up, below which a fill is asked for",
        LimitKind.DRY_CHANCE: "percent chance of standing dry in heavy use, above which it is",
        LimitKind.VISIT_DAYS: "days until animals are back after a visit",
        LimitKind.RAMP_DAYS: "days after which an escape ramp is to be looked at again",
    }
)


@dataclass(frozen=True)
class SeasonLine:
    """One window or limit of a tract; `text` is as a person would type it, without `unit`.

    `entry_id` names the entry that set it; None where the default holds.
    """

    kind: WindowKind | LimitKind
    name: str
    text: str
    default: str
    meaning: str
    unit: str
    entry_id: str | None

    @property
    def is_changed(self) -> bool:
        return self.entry_id is not None


def season_lines(snapshot: Snapshot, tract_id: str) -> tuple[SeasonLine, ...]:
    """The windows of a tract in the order of the year, then its limits."""
    season, default = snapshot.seasons[tract_id], default_season(snapshot.latitudes[tract_id])
    entries = _entries(snapshot, tract_id)
    windows = (
        SeasonLine(
            kind,
            season.span(kind).name,
            _days(season, kind),
            _days(default, kind),
            WINDOW_MEANING[kind],
            "",
            entries.get(kind),
        )
        for kind in WindowKind
    )
    limits = (
        SeasonLine(
            limit,
            LIMIT_NAME[limit][0],
            f"{limit_of(season, limit):g}",
            f"{limit_of(default, limit):g}",
            LIMIT_MEANING[limit],
            LIMIT_NAME[limit][1],
            entries.get(limit),
        )
        for limit in LimitKind
    )
    return (*windows, *limits)


def season_drafts(
    snapshot: Snapshot, tract_id: str, kind: WindowKind | LimitKind, text: str | None
) -> tuple[Draft, ...]:
    """What sets a window or limit as typed, or with None goes back to the default.

    Empty where nothing would change.

    Raises:
        BadValue: it cannot be read, or contradicts the tract's other windows.
    """
    entry_id = _entries(snapshot, tract_id).get(kind)
    kept = [
        entry.fact
        for entry in snapshot.season_settings
        if entry.entry_id != entry_id and isinstance(entry.fact, SeasonWindow | SeasonLimit)
    ]
    tract, latitude_deg = snapshot.places.tracts[tract_id], snapshot.latitudes[tract_id]
    if text is None:
        tract_season(tract, kept, latitude_deg)
        back = Withdrawal("back to the default of the place")
        return (Draft(snapshot.today, back, revises=entry_id),) if entry_id else ()
    fact: SeasonWindow | SeasonLimit
    if isinstance(kind, WindowKind):
        first, last = month_days(text)
        span_of(kind, first, last)
        fact = SeasonWindow(tract_id, kind, str(first), str(last))
    else:
        fact = SeasonLimit(tract_id, kind, number_from(text))
    if tract_season(tract, [*kept, fact], latitude_deg) == snapshot.seasons[tract_id]:
        return ()
    return (Draft(snapshot.today, fact, revises=entry_id),)


def _days(season: Season, kind: WindowKind) -> str:
    span = season.span(kind)
    return f"{span.first.words} to {span.last.words}"


def _entries(snapshot: Snapshot, tract_id: str) -> dict[WindowKind | LimitKind, str]:
    """By window or limit, the entry that holds."""
    entries: dict[WindowKind | LimitKind, str] = {}
    for entry in snapshot.season_settings:
        match entry.fact:
            case SeasonWindow(tract_id=own, window=window) if own == tract_id:
                entries[window] = entry.entry_id
            case SeasonLimit(tract_id=own, limit=limit) if own == tract_id:
                entries[limit] = entry.entry_id
            case _:
                pass
    return entries
