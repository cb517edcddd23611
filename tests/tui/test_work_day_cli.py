"""The commands that plan a day of work: what they print and what they refuse."""

import csv
import io
import json
import shutil

import pytest
from click.testing import CliRunner

from store.demo.shipped import shipped_demo
from store.units import KG_PER_LITRE, KG_PER_POUND, LITRES_PER_GALLON
from tui.cli import main

TODAY = "2025-10-12"


def run(*words):
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def book(tmp_path):
    """A copy of the demo under a name that is no demo's."""
    return shutil.copy(shipped_demo(), tmp_path / "own.db")


@pytest.fixture
def empty(tmp_path):
    path = tmp_path / "new.db"
    assert run("new", path).exit_code == 0
    return path


def rows_of(result):
    assert result.exit_code == 0, result.output
    return list(csv.DictReader(io.StringIO(result.stdout)))


def test_a_day_is_printed_step_by_step(book):
    result = run("workday", book, "--today", TODAY, "--as", "csv")
    rows = rows_of(result)
    loads = [row for row in rows if row["pounds"]]
    poured = sum(float(row["gallons"]) for row in rows if not row["pounds"] and row["gallons"])
    assert sum(float(row["gallons"]) for row in loads) == pytest.approx(poured, abs=0.5)
    empty_lb = 20.0 / KG_PER_POUND
    lb_per_gallon = KG_PER_LITRE * LITRES_PER_GALLON / KG_PER_POUND
    for row in loads:
        weight = empty_lb + float(row["gallons"]) * lb_per_gallon
        assert float(row["pounds"]) == pytest.approx(weight, abs=1.0)
    hours = [float(row["hours"]) for row in rows]
    assert hours == sorted(hours)
    fills = [row for row in rows if row["days"]]
    assert len(fills) == 3
    assert all(float(row["before"]) < float(row["after"]) for row in fills)
    assert "are assumed" in result.stderr
    assert "Hauling water:" in result.stderr
    assert "Towing:" in result.stderr


def test_the_persons_own_order_and_limits_are_kept_and_what_is_left_out_is_said(book):
    named = [word for name in ("Saddle", "Gate", "Clover strip") for word in ("--station", name)]
    result = run("workday", book, "--today", TODAY, *named, "--loads", 2, "--as", "json")
    rows = json.loads(result.stdout)
    done = [row["at"] for row in rows if not row["text"].startswith(("Take on", "Pour in"))]
    assert done == ["Saddle", "Clover strip"]
    assert len([row for row in rows if row["pounds"]]) == 2
    assert "Not done: With Gate besides, the day would take 3 loads instead of 2." in result.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--on", "2025-10-11"), "2025-10-11 is past"),
        (("--on", "2026-10-11"), "too far ahead"),
        (("--hours", "-1"), "hours of a day cannot be"),
        (("--loads", "-1"), "loads of a day cannot be"),
        (("--water", "nan"), "water of a day cannot be"),
        (("--station", "Nowhere"), "no station named Nowhere"),
    ],
)
def test_a_day_that_cannot_be_planned_is_refused(empty, words, said):
    result = run("workday", empty, "--today", TODAY, *words)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert said in result.stderr


def test_an_empty_logbook_has_nothing_due(empty):
    result = run("workday", empty, "--as", "csv")
    assert rows_of(result) == []
    assert "Nothing is due on" in result.stderr


def test_a_sheet_is_written_and_what_was_saved_from_it_is_imported(book, tmp_path):
    out = tmp_path / "sheet.html"
    wrote = run("sheet", book, "--today", TODAY, "--tract", "Alder Flat", "--out", out)
    assert wrote.exit_code == 0
    page = out.read_text(encoding="utf-8")
    assert 'data-station="Gate"' in page
    assert "Clover strip" not in page
    assert "Forty steps inside the red gate" in page
    saved = tmp_path / "saved.csv"
    saved.write_text(f"date,station,below_rim_in,gallons\n{TODAY},Gate,2,60\n")
    first = run("import", book, "sheet", saved, "--today", TODAY)
    assert "saved.csv: 2 new entries, 0 known already." in first.stdout
    again = run("import", book, "sheet", saved, "--today", TODAY)
    assert "saved.csv: 0 new entries, 2 known already." in again.stdout


def test_a_sheet_of_an_empty_logbook_says_that_nothing_is_due(empty, tmp_path):
    text = run("sheet", empty, "--as", "text")
    assert "Nothing is due that needs a visit." in text.stdout
    assert "cannot be written" in run("sheet", empty, "--out", tmp_path / "no" / "x").stderr
    assert "no tract named Nowhere" in run("sheet", empty, "--tract", "Nowhere").stderr


def test_what_is_hauled_with_is_asked_once(empty):
    changed = run(
        "kit", empty, "--by", "vehicle", "--payload", 900, "--tank", 100, "--tank-weight", 60,
        "--start", 40.5, -80.25, "--source-name", "Barn [tap]", "--as", "csv",
    )  # fmt: skip
    rows = {row["what"]: row for row in rows_of(changed)}
    assert rows["Payload"]["value"] == "900"
    assert rows["Start, longitude"]["value"] == "-80.25"
    assert {row["basis"] for row in rows.values()} == {"your own"}
    assert rows_of(run("kit", empty, "--as", "csv")) == list(rows.values())
    assert rows["Water source"]["value"] == "Barn [tap]"
    assert "are assumed" not in run("workday", empty).stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--payload", "0"), "payload must be more than 0"),
        (("--payload", "-200"), "payload must be more than 0"),
        (("--payload", "much"), "Payload: 'much' is not a number"),
        (("--tank", ""), "Hauling tank is empty"),
        (("--by", "mule"), "'mule' is no way to haul"),
        (("--start", "95", "0"), "start at 95, 0 is not on the globe"),
        (("--start", "95", ""), "only one coordinate"),
    ],
)
def test_a_kit_that_cannot_be_is_refused_and_not_kept(empty, words, said):
    result = run("kit", empty, *words)
    assert result.exit_code == 1
    assert said in result.stderr
    assert {row["basis"] for row in rows_of(run("kit", empty, "--as", "csv"))} == {"assumed"}


def test_the_shipped_demo_keeps_its_kit(tmp_path):
    path = shutil.copy(shipped_demo(), tmp_path / "demo.db")
    assert "never changed" in run("kit", path, "--payload", "900").stderr
