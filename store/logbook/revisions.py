"""What an entry said before it was corrected."""

from __future__ import annotations

from store.logbook.entries import entry_by_id
from store.logbook.opening import Logbook
from store.records import Entry


def revisions_of(logbook: Logbook, entry_id: str) -> tuple[Entry, ...]:
    """An entry and all it revises, in the order they were written; itself comes last.

    Among them are withdrawals that were undone.

    Raises:
        NotFound: there is no entry of that id.
    """
    chain = [entry_by_id(logbook, entry_id)]
    while (before := chain[-1].revises) is not None:
        chain.append(entry_by_id(logbook, before))
    return tuple(reversed(chain))
