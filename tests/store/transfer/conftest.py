from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from store.logbook.journal import write
from store.logbook.opening import Logbook
from store.records import Draft, StationFacts, TankMeasures, TractFacts
from store.vocabulary import Shape
from tests.new_logbook import new_logbook

TODAY = date(2026, 10, 1)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Logbook]:
    """Two tracts that both have a Spring; North has Oak as well. All 30 in deep."""
    logbook = new_logbook(tmp_path / "book.db")
    logbook.fixed_today = TODAY
    drafts = []
    for tract, stations in (("North", ("Oak", "Spring")), ("South", ("Spring",))):
        tract_id = logbook.new_id()
        drafts.append(Draft(TODAY, TractFacts(tract_id, tract, latitude_deg=42.0)))
        for name in stations:
            facts = StationFacts(logbook.new_id(), tract_id, name, TANK, apron_area_m2=14.0)
            drafts.append(Draft(TODAY, facts))
    write(logbook, "Set up", drafts)
    yield logbook
    logbook.close()


@pytest.fixture
def save(tmp_path: Path) -> Callable[..., Path]:
    """Writes lines as a file and gives its path."""

    def save(*lines: str, name: str = "sheet.csv") -> Path:
        path = tmp_path / name
        path.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8", newline="")
        return path

    return save


@pytest.fixture
def refuses(book: Logbook) -> Callable[..., str]:
    """Runs an import that must be refused, and gives its sentence; nothing may change."""

    def refuses(error: type[Exception], run: Callable[[], object]) -> str:
        before = list(book.db.conn.iterdump())
        with pytest.raises(error) as raised:
            run()
        assert list(book.db.conn.iterdump()) == before
        return str(raised.value)

    return refuses
