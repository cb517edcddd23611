"""What the log says of contamination events, told when it came from elsewhere meanwhile."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from store.model.snapshot import Snapshot
from store.records import Contamination, ContaminationAction, Entry
from store.views.log_lines import lines_of


def event_entries(snapshot: Snapshot) -> list[Entry]:
    """The live entries that found an event, or worked on one, at any station."""
    return [
        entry
        for log in snapshot.log.values()
        for entry in log
        if isinstance(entry.fact, Contamination | ContaminationAction)
    ]


def event_news(entries: Iterable[Entry], known: Collection[str], station_id: str) -> str:
    """What entries of a station's events say, but for those with a known id; empty for nothing."""
    own = [entry for entry in entries if getattr(entry.fact, "station_id", None) == station_id]
    news = (entry for entry in own if entry.entry_id not in known)
    return "; ".join(f"{line.what[0].lower()}{line.what[1:]}" for line in lines_of(news, own))
