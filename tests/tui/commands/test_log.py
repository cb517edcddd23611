"""What was imported is printed in the same columns, and is known when it is imported again."""

import csv
import io
import shutil

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from store.csv_text import as_meant, harmless
from store.demo.shipped import shipped_demo
from store.exchange.exact import ft2_or_m2, gallons_or_litres, inches_or_mm
from store.transfer.cells import AREA, LENGTH, VOLUME
from tui.cli import main

SHEETS = {
    "stations": """\
tract,station,shape,length_in,width_in,diameter_in,depth_in,bottom_length_in,bottom_width_in,\
depth_volume_in_gal,rim_above_ground_in,apron_area_ft2,exposure,access,latitude,longitude,\
installed,bear_country,directions
North,Oak,rectangular,38.1,22,,30,36,20.3,,.5,150,part shade,vehicle,40.1,-75,2012-05-05,y,"=left,
the ""gate\"""
South,Drum,half-drum,32,,22.5,,,,,,,open,vehicle,,,2014-05-12,,
South,Oak,measured,,,,,,,0:0 10:31.5 30:110,,33.3,deep shade,atv,,,,,
""",
    "readings": """\
date,station,below_rim_in,level,when,note
2015-08-20,Drum,10.3,,,-3 by the stick
2015-09-20,North/Oak,,half,,
2015-09-21,North/Oak,2.5,,after the work,
2015-09-25,South/Oak,,full,,'@ noon
""",
    "chores": """\
date,station,chore,gallons,note
2015-04-12,North/Oak,rake,,
2015-09-21,North/Oak,fill,20.7,"two, by hand"
""",
    "contamination": """\
date,station,cause,action,gallons,note
2015-07-06,Drum,drowned animal,carcass removed,,
2015-07-08,Drum,drowned animal,bailed,30,half of it
2015-09-01,South/Oak,bear use,,,
""",
    "sheet": """\
date,station,use,ramp,note
2015-09-02,Drum,light,missing,quiet
""",
}
PRINTED = {"stations": ("stations",), **{kind: ("log", kind) for kind in [*SHEETS][1:]}}


def run(*args):
    result = CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")
    assert result.exit_code == 0, result.stderr
    return result.stdout


def printed(path, kind, *more):
    command, *rest = PRINTED[kind]
    return run(command, path, *rest, *more, "--as", "csv")


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "book.db"
    run("new", path)
    for kind, text in SHEETS.items():
        (tmp_path / kind).write_text(text)
        run("import", path, kind, tmp_path / kind)
    return path


def into(path, kind, text):
    file = path.with_name(f"{kind}.csv")
    file.write_text(text)
    return run("import", path, kind, file)


@pytest.mark.parametrize("kind", SHEETS)
def test_what_is_printed_is_known_when_imported_again(path, kind):
    before = run("text", path)
    into(path, kind, printed(path, kind))
    assert run("text", path) == before


def test_another_logbook_made_of_the_printed_files_prints_the_same(path, tmp_path):
    other = tmp_path / "other.db"
    run("new", other)
    for kind in SHEETS:
        into(other, kind, printed(path, kind))
    assert [printed(other, kind) for kind in SHEETS] == [printed(path, kind) for kind in SHEETS]


@pytest.mark.parametrize("kind", SHEETS)
def test_all_of_the_demo_comes_back(tmp_path, kind):
    path = tmp_path / "mine.db"
    shutil.copy(shipped_demo(), path)
    before = run("text", path)
    assert len(printed(path, kind).splitlines()) > 5
    into(path, kind, printed(path, kind))
    assert run("text", path) == before


def test_a_station_and_days_are_chosen(path):
    def stations(*more):
        return [row["station"] for row in csv.DictReader(io.StringIO(printed(path, *more)))]

    assert stations("readings") == ["Drum", "North/Oak", "North/Oak", "South/Oak"]
    assert stations("readings", "--station", "Drum") == ["Drum"]
    assert stations("readings", "--from", "2015-09-20", "--to", "2015-09-20") == ["North/Oak"]


@given(value=st.floats(0, 5000))
def test_a_quantity_is_written_to_be_read_exactly(value):
    for twins, read in (
        (inches_or_mm, LENGTH["_in"]),
        (gallons_or_litres, VOLUME["gallons"]),
        (ft2_or_m2, AREA["_ft2"]),
    ):
        shown, stored = twins(value)
        assert (read(shown) if stored is None else stored) == value


@given(text=st.text(st.sampled_from("'=+-@a5 ."), max_size=5))
def test_what_is_made_harmless_is_read_as_meant(text):
    assert as_meant(harmless(text)) == text
    assert harmless(text)[:1] not in "=@" or not text


def test_entries_are_found_by_words_in_all_kinds_newest_first(path):
    found = list(csv.reader(io.StringIO(run("log", path, "--find", "hal", "--as", "csv"))))
    columns, *rows = found
    assert columns == ["date", "station", "below_rim_in", "gallons", "entry", "note"]
    assert rows == [
        ["2015-09-20", "North/Oak", "", "", "Level by eye: half", ""],
        ["2015-07-08", "Drum", "", "30.0", "Bailed (drowned animal of 6 July 2015)", "half of it"],
    ]
    drum = run("log", path, "--find", "half", "--station", "Drum", "--as", "csv")
    assert "North" not in drum
    assert "Drum" not in run("log", path, "--find", "half", "--from", "2015-08-01", "--as", "csv")


def test_a_log_wants_a_kind_or_words(path):
    for more in ((), ("chores", "--find", "half")):
        result = CliRunner().invoke(main, ["log", str(path), *more], prog_name="brimbook")
        assert result.exit_code == 2
        assert "--find WORDS" in result.stderr
