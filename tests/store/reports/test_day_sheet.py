"""The sheet to take along: one page of its own, with nothing in it but text a person typed."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from store.model.work_kit import WorkKit
from store.reports.day_sheet import SheetForm, day_sheet, sheet_html, sheet_text
from store.units import METRIC_UNITS
from store.views.work_cautions import work_cautions
from store.views.work_day import work_day
from tests.store.conftest import TODAY

NASTY = """</script><img src=x onerror="alert(1)"> & 'quotes' ]]> \x01 \U0001f98c"""


@pytest.fixture(scope="module")
def nasty(board):
    """The board with names and directions that try to be more than text."""
    snapshot = board.snapshot
    stations = {
        key: replace(one, name=f"{one.name} {NASTY}", directions=f"Left {NASTY}")
        for key, one in snapshot.places.stations.items()
    }
    return replace(
        board, snapshot=replace(snapshot, places=replace(snapshot.places, stations=stations))
    )


def page_of(board, **kit):
    return sheet_html(board, work_day(board, WorkKit(**kit), TODAY))


def parsed(page):
    return ElementTree.fromstring(page.removeprefix("<!DOCTYPE html>\n"))


def test_the_page_is_well_formed_and_loads_nothing(nasty):
    root = parsed(page_of(nasty, source_name=NASTY))
    names = {one.tag for one in root.iter()}
    assert names.isdisjoint({"img", "link", "iframe", "a", "form"})
    assert len(list(root.iter("script"))) == 1
    for one in root.iter():
        assert not {"src", "href", "action"} & set(one.keys())
        assert not [name for name in one.keys() if name.startswith("on")]  # noqa: SIM118


def test_what_a_person_typed_stands_there_as_text(nasty):
    told = " ".join(parsed(page_of(nasty)).itertext())
    assert NASTY.replace("\x01", " ") in told
    assert f"Left {NASTY.replace(chr(1), ' ')}" in told


def test_the_stops_stand_in_order_with_their_boxes(board):
    day = work_day(board, WorkKit(), TODAY)
    root = parsed(sheet_html(board, day))
    sections = list(root.iter("section"))
    assert [one.get("data-station") for one in sections] == [stop.label for stop in day.served]
    for section in sections:
        columns = [one.get("data-column") for one in section.iter() if one.get("data-column")]
        assert columns == ["below_rim_in", "use", "ramp", "gallons", "note"]
    metric = replace(board, snapshot=replace(board.snapshot, units=METRIC_UNITS))
    assert 'data-column="below_rim_cm"' in page_of(metric)
    assert 'data-column="litres"' in page_of(metric)


def test_each_caution_stands_once(board):
    day = work_day(board, WorkKit(), TODAY)
    for write in (sheet_html, sheet_text):
        told = " ".join(write(board, day).split())
        for caution in work_cautions(board, day):
            assert told.count(f"{caution.subject}:") == 1


def test_the_text_has_the_stops_and_fits_80_columns(board):
    day = work_day(board, WorkKit(), TODAY)
    text = sheet_text(board, day)
    assert max(map(len, text.splitlines())) < 80
    for number, stop in enumerate(day.served, start=1):
        assert f"{number}. {stop.label}, {stop.tract}" in text
    assert text.count("Below rim, in: ______") == len(day.served)
    assert "Load 1 at water source: 28 gal" in " ".join(text.split())


def test_one_tract_has_its_own_sheet(snapshot, known):
    text = day_sheet(snapshot, WorkKit(), tract_name="South", form=SheetForm.TEXT, memory=known)
    assert "Drum, South" in text
    assert "North" not in text


def test_a_day_without_work_says_so(board):
    day = work_day(board, WorkKit(), TODAY, only=())
    assert "Nothing is due that needs a visit." in sheet_text(board, day)
    parsed(sheet_html(board, day))
