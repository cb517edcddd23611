"""What is entered about an event as it is kept while unsaved, and as it is shown again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from store.errors import BadValue
from store.model.snapshot import Snapshot
from store.plain_data import from_plain, to_plain
from tui.base.typed_field import FieldTyped
from tui.event.entered import EventDraft


@dataclass(frozen=True)
class EventTyped:
    """What is entered about an event; `is_open` where it is one the log has already.

    `photo` is the path of a picture still to be read.
    """

    sheet: EventDraft
    is_open: bool
    photo: str = ""
    field: FieldTyped | None = None


def plain_event(sheet: EventDraft, photo: Path | None, field: FieldTyped | None) -> Any:
    """Plain data of all of it; None where nothing is entered."""
    if sheet.is_empty and field is None and photo is None:
        return None
    without = replace(sheet, event=None)
    return to_plain(EventTyped(without, sheet.event is not None, str(photo or ""), field))


def event_again(typed: Mapping[str, Any], snapshot: Snapshot) -> EventTyped:
    """What `plain_event` gave, as far as the logbook still has what it is about.

    Raises:
        BadValue: it is damaged, or the station or the open event is gone.
    """
    kept = from_plain(EventTyped, typed)
    sheet = kept.sheet
    if sheet.station_id not in snapshot.places.stations:
        raise BadValue("its station is no longer in the logbook")
    if kept.is_open:
        events = {event.event_id: event for _, event in snapshot.open_events()}
        if sheet.event_id not in events:
            raise BadValue("its event is over, or was undone")
        sheet = replace(sheet, event=events[sheet.event_id])
    return replace(kept, sheet=replace(sheet, day=min(sheet.day, snapshot.today)))
