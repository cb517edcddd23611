"""A logbook on the real New York record, brought in as a person would: by files."""

from datetime import date
from pathlib import Path

import pytest

from store.logbook.opening import create_logbook, logbook_at
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.shelf import FolderShelf
from store.model.snapshot import Snapshot, load
from store.model.working_out import board_of
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.weather.files import ReadOptions
from tests.steady import steady

DATA = Path(__file__).parents[1] / "data"
SHEETS = {
    SheetKind.STATIONS: """\
tract,station,shape,length_in,width_in,diameter_in,depth_in,apron_area_ft2,exposure,access,installed
North,Oak,rectangular,38,22,,30,150,part shade,vehicle,2012-05-05
North,Beech,rectangular,38,22,,30,150,part shade,foot,2013-05-10
North,Fern,round,,,31,30,0,open,foot,2013-05-10
South,Drum,half-drum,32,,22.5,,0,open,vehicle,2014-05-12
South,Oak,oblong,48,30,,30,150,deep shade,atv,2014-05-12
South,Later,oblong,48,30,,30,150,deep shade,atv,
""",
    SheetKind.READINGS: """\
date,station,below_rim_in,level
2015-08-20,Beech,10,
2015-09-20,North/Oak,,half
2015-09-25,South/Oak,,full
""",
    SheetKind.CHORES: """\
date,station,chore,gallons
2015-04-12,North/Oak,rake,
2015-09-21,North/Oak,fill,20
""",
    SheetKind.CONTAMINATION: """\
date,station,cause,action
2015-07-06,Beech,drowned animal,carcass removed
2015-07-20,North/Oak,drowned animal,carcass removed
2015-09-01,South/Oak,bear use,
""",
}
TODAY = date(2015, 10, 12)


def build(path: Path) -> None:
    logbook = steady(create_logbook(path))
    for kind, text in SHEETS.items():
        sheet = path.with_name(f"{kind}.csv")
        sheet.write_text(text)
        import_sheet(logbook, kind, sheet)
    import_weather(logbook, DATA / "new_york_daily.csv", ReadOptions(), latitude_deg=40.7)
    logbook.close()


@pytest.fixture(scope="session")
def book_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "book.db"
    build(path)
    return path


@pytest.fixture(scope="session")
def snapshot(book_path: Path) -> Snapshot:
    return snapshot_on(book_path, TODAY)


@pytest.fixture(scope="session")
def worked_out(
    snapshot: Snapshot, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Board, FilterCache]:
    memory = FilterCache(shelf=FolderShelf(tmp_path_factory.mktemp("shelf")))
    return board_of(snapshot, memory), memory


@pytest.fixture(scope="session")
def board(worked_out: tuple[Board, FilterCache]) -> Board:
    return worked_out[0]


@pytest.fixture(scope="session")
def memory(worked_out: tuple[Board, FilterCache]) -> FilterCache:
    """What the board of the unchanged snapshot worked out; copy it before use."""
    return worked_out[1]


@pytest.fixture
def known(memory: FilterCache) -> FilterCache:
    """What that board worked out, so that another one works out only what differs.

    `test_kept_runs` and `test_foresight` prove that this gives the bits of one from nothing.
    """
    return memory.to_try()


def snapshot_on(path: Path, today: date) -> Snapshot:
    with logbook_at(path, today) as logbook:
        return load(logbook)
