"""Everything the screens and commands ask of a logbook on one day; `working_out` fills it.

What the log says by itself stands here at once: none of it needs the model or an array.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from store.model.known_levels import Levels
from store.model.recovery import Recoveries
from store.model.snapshot import Snapshot
from store.season.prompt import Prompt, PromptInputs
from store.season.prompts import prompts_for

if TYPE_CHECKING:
    from store.model.ensembles import Ensemble

AT_WORK = "The model is still at work; levels and dates come in a moment."


@dataclass(frozen=True, eq=False)
class Board:
    """A snapshot with its answers; mappings are by station id."""

    snapshot: Snapshot
    levels: Levels
    ahead: Mapping[str, Ensemble]
    recoveries: Recoveries
    outlooks: Mapping[str, PromptInputs]
    prompts: Mapping[str, tuple[Prompt, ...]]
    set_aside: Mapping[str, tuple[Prompt, ...]]
    """What was put off or declined."""
    worked_out: bool = True
    """False while the model is at work: what the log says stands here, and maybe the levels."""


def register_of(snapshot: Snapshot) -> Board:
    """What the log says by itself, at once: no levels, no dates, dangers alone of the prompts."""
    stations = snapshot.places.stations
    unknown = PromptInputs()
    asked = {
        station_id: prompts_for(history, unknown, snapshot.season_of(station_id), snapshot.today)
        for station_id, history in snapshot.histories.items()
    }
    return Board(
        snapshot=snapshot,
        levels=Levels({}, dict.fromkeys(stations, AT_WORK)),
        ahead={},
        recoveries=Recoveries({}, {}),
        outlooks=dict.fromkeys(stations, unknown),
        prompts={key: tuple(p for p in own if p.endangers) for key, own in asked.items()},
        set_aside=dict.fromkeys(stations, ()),
        worked_out=False,
    )


def with_levels(snapshot: Snapshot, levels: Levels) -> Board:
    """The register with the levels of today and before, which come first."""
    return replace(register_of(snapshot), levels=levels)
