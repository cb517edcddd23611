"""Weather that was imported before there was a tract, for the first tract that comes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from store.logbook.opening import Logbook
from store.logbook.places import places
from store.logbook.weather_records import FORECAST, record_names
from store.records import Draft, TractFacts


def waiting_record(logbook: Logbook) -> str | None:
    """The id of the one record of measured weather, while no tract uses any.

    None where there is none, or where several leave open which is meant.
    """
    if any(tract.weather_record_id for tract in places(logbook).tracts.values()):
        return None
    names = record_names(logbook).items()
    measured = [key for key, name in names if not name.casefold().startswith(FORECAST)]
    return measured[0] if len(measured) == 1 else None


def using_waiting_weather(logbook: Logbook, drafts: Sequence[Draft]) -> list[Draft]:
    """The drafts, with every new tract among them using the record that waits."""
    if not any(_is_bare(draft) for draft in drafts):
        return list(drafts)
    record_id = waiting_record(logbook)
    return [
        replace(draft, fact=replace(draft.fact, weather_record_id=record_id))
        if isinstance(draft.fact, TractFacts) and _is_bare(draft)
        else draft
        for draft in drafts
    ]


def _is_bare(draft: Draft) -> bool:
    """Whether it is a new tract without weather."""
    fact = draft.fact
    return isinstance(fact, TractFacts) and draft.revises is None and fact.weather_record_id is None
