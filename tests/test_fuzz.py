"""Nonsense is taken whole or refused in a sentence; the long form is `tests.bench.fuzz`."""

import shutil

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from store.errors import BrimbookError
from store.logbook.opening import create_logbook, logbook_at
from store.model.snapshot import load
from store.season.month_day import month_days
from store.transfer.importing import SheetKind, import_sheet
from store.typed import day_from, number_from
from store.units import UnitSystem, units
from tests import fuzzing

FEW = settings(
    max_examples=12,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
STATIONS = (
    "tract,station,shape,length_in,width_in,depth_in,installed\n"
    "North,Oak,rectangular,38,22,30,2015-05-05\nSouth,Rocks,rectangular,48,30,30,2015-05-05\n"
)


@pytest.fixture(scope="module")
def start(tmp_path_factory):
    folder = tmp_path_factory.mktemp("start")
    path, sheet = folder / "book.db", folder / "stations.csv"
    create_logbook(path).close()
    sheet.write_text(STATIONS)
    with logbook_at(path, fuzzing.TODAY) as logbook:
        import_sheet(logbook, SheetKind.STATIONS, sheet)
    return path


@pytest.mark.parametrize("kind", SheetKind)
def test_sheets(start, tmp_path, kind):
    @FEW
    @given(data=fuzzing.sheets(kind))
    def one(data):
        path = shutil.copy(start, tmp_path / "book.db")
        fuzzing.attempt_sheet(path, tmp_path / "sheet.csv", kind, data)

    one()


@FEW
@given(data=fuzzing.weather_files(), forecast=st.booleans(), skip=st.booleans())
def test_weather_files(start, tmp_path, data, forecast, skip):
    path = shutil.copy(start, tmp_path / "book.db")
    file = tmp_path / "weather.csv"
    fuzzing.attempt_weather(path, file, data, forecast=forecast, skip=skip)


@FEW
@given(data=st.data())
def test_damaged_logbooks(start, tmp_path, data):
    path = tmp_path / "book.db"
    path.write_bytes(data.draw(fuzzing.damaged(start.read_bytes())))
    try:
        with logbook_at(path, fuzzing.TODAY) as logbook:
            load(logbook)
    except BrimbookError as error:
        sentence = str(error)
    else:
        sentence = "read"
    assert sentence


@given(text=st.one_of(fuzzing.CELL, st.text(), st.from_regex(r"[0-9eE.,+-]{1,30}")))
def test_fields(text):
    systems = [units(system) for system in UnitSystem]
    for read in (number_from, day_from, month_days):
        refused = None
        try:
            found = read(text)
        except BrimbookError as error:
            refused = str(error)
        if refused is not None:
            assert len(refused) < 1000, "a sentence, not all that was typed"
        elif read is number_from:
            for one in systems:
                one.depth_from(found), one.volume_from(found), one.rain_from(found)
