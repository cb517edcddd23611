"""What an entry said before."""

from store.logbook.entries import live_entries
from store.logbook.journal import undo, write
from store.logbook.revisions import revisions_of
from store.records import Draft, Note, Withdrawal
from tests.store.logbook.conftest import TODAY


def the_note(logbook):
    (entry,) = live_entries(logbook, (Note,))
    return entry


def test_revisions_come_in_the_order_they_were_written(one):
    write(one.logbook, "Note", [Draft(TODAY, Note(one.station_id, "first"))])
    first = the_note(one.logbook)
    assert revisions_of(one.logbook, first.entry_id) == (first,)
    second = Draft(TODAY, Note(one.station_id, "second"), first.entry_id)
    write(one.logbook, "Mend", [second])
    write(one.logbook, "Out", [Draft(TODAY, Withdrawal("no"), the_note(one.logbook).entry_id)])
    undo(one.logbook)
    said = [entry.fact for entry in revisions_of(one.logbook, the_note(one.logbook).entry_id)]
    assert [getattr(fact, "text", "out") for fact in said] == ["first", "second", "out", "second"]
