"""Two people may undo the same batch, each in a copy of the logbook of their own."""

from __future__ import annotations

from store.logbook.connection import Connection
from store.logbook.ddl import keep, migration, run

_SECOND = """
    CREATE TABLE second_undo (
        batch_id TEXT PRIMARY KEY REFERENCES batch (batch_id),
        undoes TEXT NOT NULL REFERENCES batch (batch_id)
    ) STRICT;

    CREATE VIEW batch_as_saved AS
        SELECT batch.batch_id, title, written_utc,
            coalesce(batch.undoes, second_undo.undoes) AS undoes
        FROM batch LEFT JOIN second_undo USING (batch_id);
"""
"""What a second undo of the same batch undoes, since `batch` takes one of them only."""


@migration
def m008_two_undos(db: Connection) -> None:
    run(db, _SECOND)
    keep(db, ("second_undo",))
