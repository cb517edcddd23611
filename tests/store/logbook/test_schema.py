import pytest

from store import records
from store.logbook.rows import WHAT_TYPES
from store.logbook.schema import KINDS, WORDS


@pytest.mark.parametrize("table", WORDS)
def test_the_tables_know_the_words_of_the_records(empty, table):
    words = getattr(records, "".join(part.title() for part in table.split("_")))
    held = {row["word"] for row in empty.db[table].rows}
    assert held == {str(word) for word in words}


def test_every_kind_of_entry_has_a_table(empty):
    assert set(KINDS) == set(WHAT_TYPES)
    assert set(KINDS) <= set(empty.db.table_names())
