"""Small logbooks with weather, to drive the screens on."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.css.stylesheet import Stylesheet

from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import Logbook, create_logbook, logbook_at
from store.model.assimilation import AT_HAND
from store.model.ensembles import Ensemble
from store.model.last_asked import LastAsked
from store.records import Chore, Draft, Entry, Fact, StationFacts, TankMeasures, TractFacts
from store.transfer.weather import import_weather
from store.vocabulary import Access, ChoreKind, Shape
from store.weather.files import ReadOptions
from tests.steady import steady
from tui.app import BrimbookApp

TODAY = date(2015, 10, 1)
INSTALLED = date(2015, 5, 5)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)
FUTURES: LastAsked[Ensemble] = LastAsked(AT_HAND)
"""What lies ahead of stations, worked out once for all applications on like logbooks."""
WEATHER = Path(__file__).parents[1] / "data" / "new_york_daily.csv"


@dataclass(frozen=True)
class Book:
    """A logbook file; `ids` names its tracts and stations by name."""

    path: Path
    ids: dict[str, str]
    today: date = TODAY

    def app(self) -> BrimbookApp:
        app = BrimbookApp(self.path, today=self.today)
        app.session.memory.futures = FUTURES
        return app

    def write(self, *drafts: Draft) -> None:
        with logbook_at(self.path, self.today) as logbook:
            write(logbook, "Before", list(drafts))

    def entries(self, *kinds: type[Fact]) -> list[Entry]:
        with logbook_at(self.path, self.today) as logbook:
            return live_entries(logbook, kinds)


MakeBook = Callable[[dict[str, tuple[str, ...]]], Book]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> MakeBook:
    """`make_book`, whose logbooks are made once, to be copied."""
    made: dict[str, Book] = {}

    def make(tracts: dict[str, tuple[str, ...]]) -> Book:
        if (key := repr(tracts)) not in made:
            folder = tmp_path_factory.mktemp("made")
            logbook = steady(create_logbook(folder / "book.db"))
            logbook.fixed_today = TODAY
            ids = _places(logbook, tracts)
            head, *days = WEATHER.read_text().splitlines()
            season = [head, *(day for day in days if "2014-09" < day < "2015-11")]
            file = folder / "season.csv"
            file.write_text("\n".join(season))
            import_weather(logbook, file, ReadOptions(), latitude_deg=40.7)
            logbook.close()
            made[key] = Book(logbook.path, ids)
        return made[key]

    return make


@pytest.fixture
def make_book(made_once: MakeBook, tmp_path: Path) -> MakeBook:
    """A function from station names by tract to a logbook with a season's weather.

    Every station is installed and reached by vehicle; write chores or new facts to
    make one otherwise.
    """

    def make(tracts: dict[str, tuple[str, ...]]) -> Book:
        made = made_once(tracts)
        return replace(made, path=Path(shutil.copy(made.path, tmp_path / "book.db")))

    return make


def _places(logbook: Logbook, tracts: dict[str, tuple[str, ...]]) -> dict[str, str]:
    ids: dict[str, str] = {}
    drafts = []
    for tract, stations in tracts.items():
        ids[tract] = logbook.new_id()
        drafts.append(Draft(TODAY, TractFacts(ids[tract], tract, latitude_deg=40.7)))
        for name in stations:
            ids[name] = logbook.new_id()
            facts = StationFacts(
                ids[name], ids[tract], name, TANK, apron_area_m2=14.0, access=Access.VEHICLE
            )
            drafts.append(Draft(TODAY, facts))
            drafts.append(Draft(INSTALLED, Chore(ids[name], ChoreKind.INSTALL)))
    write(logbook, "Set up", drafts)
    return ids


@pytest.fixture
def book(make_book: MakeBook) -> Book:
    """Two tracts, four stations; one of them was given up."""
    made = make_book({"North": ("Far [saddle]", "Oak flat"), "South": ("Given up", "Rocks")})
    made.write(Draft(date(2015, 9, 29), Chore(made.ids["Given up"], ChoreKind.RETIRE)))
    return made


@pytest.fixture(autouse=True)
def _no_pauses(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys of a test are pressed for good: nothing waits for a pause between them."""
    monkeypatch.setattr("tui.event.screen.PAUSE_S", 0.0)


@pytest.fixture(scope="session", autouse=True)
def _sheets_read_once() -> Iterator[None]:
    """Keep the rules read from a style sheet: every application would read the same anew."""
    kept: dict[tuple[Any, ...], Any] = {}
    read = Stylesheet._parse_rules

    def read_once(sheet: Stylesheet, *asked: Any, **how: Any) -> Any:
        key = (*asked, *how.items(), *sheet._variables.items())
        if key not in kept:
            kept[key] = read(sheet, *asked, **how)
        return kept[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stylesheet, "_parse_rules", read_once)
        yield
