"""The page in headless Chromium: filled in, saved as a CSV, and read back."""

import os
import shutil

import pytest

from store.logbook.entries import live_entries
from store.logbook.opening import logbook_at
from store.model.work_kit import WorkKit
from store.records import Chore, Note, RampCheck, Reading, Sighting
from store.reports.day_sheet import sheet_html
from store.transfer.importing import SheetKind, import_sheet
from store.units import litres_from_gallons
from store.views.work_day import work_day
from store.vocabulary import ChoreKind, UseSeen
from tests.store.conftest import TODAY

playwright = pytest.importorskip(
    "playwright.sync_api", reason="playwright is not installed: pip install 'brimbook[browser]'"
)
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="no chromium on the path: apt-get install chromium"
)


@pytest.fixture
def page():
    with playwright.sync_playwright() as started:
        options = ["--no-sandbox"] if os.geteuid() == 0 else []
        browser = started.chromium.launch(executable_path=CHROMIUM, args=options)
        yield browser.new_page(viewport={"width": 390, "height": 844})
        browser.close()


def test_what_is_typed_into_the_page_reaches_the_logbook(page, board, book_path, tmp_path):
    sheet = tmp_path / "sheet.html"
    sheet.write_text(sheet_html(board, work_day(board, WorkKit(), TODAY)), encoding="utf-8")
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(sheet.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.click("#save")
    assert "Nothing is filled in yet" in page.inner_text("#said")

    def field(column):
        return f"section[data-station='Drum'] [data-column='{column}']"

    page.fill(field("below_rim_in"), "3.5")
    page.select_option(field("use"), "light")
    page.select_option(field("ramp"), "missing")
    page.fill(field("gallons"), "28")
    page.fill(field("note"), 'a "quoted", comma; é')
    with page.expect_download() as saved:
        page.click("#save")
    path = tmp_path / saved.value.suggested_filename
    saved.value.save_as(path)
    assert path.name == f"sheet-{TODAY}.csv"
    assert [url for url in asked if not url.startswith(("file:", "blob:"))] == []

    copy = shutil.copy(book_path, tmp_path / "book.db")
    with logbook_at(copy, TODAY) as logbook:
        before = {entry.entry_id for entry in live_entries(logbook)}
        assert import_sheet(logbook, SheetKind.SHEET, path).written == 5
        assert import_sheet(logbook, SheetKind.SHEET, path).known == 5
        facts = [e.fact for e in live_entries(logbook) if e.entry_id not in before]
    drum = facts[0].station_id
    assert facts == [
        Reading(drum, pytest.approx(3.5 * 25.4)),
        Sighting(drum, UseSeen.LIGHT),
        RampCheck(drum, False),
        Chore(drum, ChoreKind.FILL, pytest.approx(litres_from_gallons(28.0))),
        Note(drum, 'a "quoted", comma; é'),
    ]


def test_the_sheet_prints_on_one_page(page, board, tmp_path):
    sheet = tmp_path / "sheet.html"
    sheet.write_text(sheet_html(board, work_day(board, WorkKit(), TODAY)), encoding="utf-8")
    page.goto(sheet.as_uri())
    for paper in ("Letter", "A4"):
        printed = page.pdf(format=paper, prefer_css_page_size=False)
        assert printed.count(b"/Type /Page\n") + printed.count(b"/Type /Page ") == 1
