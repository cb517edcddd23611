from collections.abc import Iterator
from pathlib import Path

import pytest

from store.logbook.opening import Logbook
from tests.store.exchange.full_logbook import make_full


@pytest.fixture
def full(tmp_path: Path) -> Iterator[Logbook]:
    logbook = make_full(tmp_path / "full.db")
    yield logbook
    logbook.close()
