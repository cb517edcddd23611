import sqlite3

import pytest
from sqlite_utils import Database

from store import vocabulary
from store.logbook.entries import live_entries
from store.logbook.opening import Logbook, logbook_at
from store.logbook.rows import FACT_TYPES
from store.logbook.schema import APPLICATION_ID, KINDS, WORD_TABLES
from store.logbook.upgrading import migrations
from store.records import TractFacts


@pytest.mark.parametrize("table", WORD_TABLES)
def test_the_tables_know_the_words_of_the_records(empty, table):
    words = getattr(vocabulary, "".join(part.title() for part in table.split("_")))
    held = {word for (word,) in empty.db.execute(f"SELECT word FROM {table}")}
    assert held == {str(word) for word in words}


def test_every_kind_of_entry_has_a_table(empty):
    assert set(KINDS) == set(FACT_TYPES)
    assert set(KINDS) <= set(Database(empty.db.conn).table_names())


def test_a_first_logbook_is_brought_up_and_keeps_its_entries(tmp_path):
    path = tmp_path / "old.db"
    connection = sqlite3.connect(path)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    db = Database(connection)
    migrations.apply(db, stop_before="m002_recovery")
    old = Logbook(path, db)
    tract = TractFacts(old.new_id(), "North ridge")
    db.execute(
        "INSERT INTO batch VALUES (?, 'x', '2026-01-01T00:00:00+00:00', NULL)", [old.new_id()]
    )
    db.execute("INSERT INTO tract VALUES (?)", [tract.tract_id])
    entry_id = old.new_id()
    db.execute(
        "INSERT INTO entry SELECT ?, batch_id, 'tract_facts', '2026-01-01', written_utc, NULL "
        "FROM batch",
        [entry_id],
    )
    db.execute(
        "INSERT INTO tract_facts (entry_id, tract_id, name) VALUES (?, ?, ?)",
        [entry_id, tract.tract_id, tract.name],
    )
    old.close()
    with logbook_at(path) as logbook:
        assert [entry.fact for entry in live_entries(logbook)] == [tract]
