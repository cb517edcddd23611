"""The commands: what they print, where, and with which exit code."""

import csv
import io
import json
import re
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from store.demo.shipped import shipped_demo
from store.errors import Refused
from store.logbook.journal import write
from store.logbook.opening import SHOWN_AS_OF, logbook_at
from store.logbook.places import places
from store.logbook.settings import keep_setting
from store.records import Draft, Note
from store.transfer.normals import MONTHS
from tui import cli
from tui.cli import main
from tui.widgets.signs import Signs

TODAY = "2026-10-01"
STATION_ROWS = (
    "tract,station,shape,length_in,width_in,depth_in,apron_area_ft2,installed",
    "North,Oak [x],rectangular,48,36,30,150,2024-05-09",
    "North,Ash,rectangular,48,36,30,150,2024-05-09",
)
WEATHER_ROWS = (
    "date,tmin_c,tmax_c,rain_mm",
    *(f"2026-{month:02}-{day:02},10,25,{day % 5}" for month in (8, 9) for day in range(1, 31)),
)


def _run(*args):
    return CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")


def _written(path, lines):
    path.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    return path


@pytest.fixture
def run():
    return _run


@pytest.fixture
def save(tmp_path):
    return lambda name, *lines: _written(tmp_path / name, lines)


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A logbook with two stations, weather, a reading and an event, made by the commands."""
    folder = tmp_path_factory.mktemp("made")
    path = folder / "book.db"
    assert _run("new", path).exit_code == 0
    files = {
        "stations": STATION_ROWS,
        "weather": WEATHER_ROWS,
        "readings": ("date,station,below_rim_in", "2026-09-20,Ash,6"),
        "contamination": ("date,station,cause", "2026-09-01,Oak [x],dye"),
    }
    for kind, lines in files.items():
        options = ("--latitude", "42") if kind == "weather" else ()
        file = _written(folder / f"{kind}.csv", lines)
        done = _run("import", path, kind, file, *options, "--today", TODAY)
        assert (done.exit_code, done.stderr if kind != "weather" else "") == (0, "")
    return path


@pytest.fixture
def book(made, tmp_path):
    return Path(shutil.copy(made, tmp_path / "book.db"))


def _refused(result, *said):
    """An error is one sentence on stderr, exit code 1, and nothing on stdout."""
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr.startswith("Error: ")
    assert "Traceback" not in result.stderr
    for part in said:
        assert part in result.stderr


def test_a_new_logbook_is_made_once(tmp_path, run):
    path = tmp_path / "deep" / "my.db"
    done = run("new", path)
    assert done.exit_code == 0
    assert done.stdout == f"Made {path}. Open it with: brimbook {path}\n"
    _refused(run("new", path), "exists already")


def test_a_logbook_that_cannot_be_made(tmp_path, run):
    (tmp_path / "file").touch()
    _refused(run("new", tmp_path / "file" / "my.db"), "cannot be made")


def test_imports_tell_what_they_did(book, run, save):
    path = save("more.csv", "date,station,chore,owner", "2026-04-12,Ash,rake,me")
    done = run("import", book, "chores", path, "--today", TODAY)
    assert (done.exit_code, done.stdout) == (0, "more.csv: 1 new entries, 0 known already.\n")
    assert done.stderr == "more.csv: passed over unknown columns owner.\n"
    again = run("import", book, "chores", path, "--today", TODAY)
    assert again.stdout == "more.csv: 0 new entries, 1 known already.\n"


def test_a_weather_import_tells_who_uses_it(book, run, save):
    path = save("extra.csv", "date,prcp", "2026-09-30,1.5")
    done = run("import", book, "weather", path, "--units", "metric", "--tract", "North")
    assert done.exit_code == 0
    assert done.stdout.endswith("1 new days, 0 known already; used by North.\n")


def test_a_forecast_changes_the_outlook_and_no_level(book, run, save):
    path = save("ahead.csv", WEATHER_ROWS[0], "2026-10-02,5,15,200", "2026-10-03,5,15,200")
    asked = ("levels", book, "--as", "csv", "--today", TODAY)
    before = run(*asked).stdout
    done = run("import", book, "forecast", path, "--tract", "North", "--today", TODAY)
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout == "Forecast for North: 2 new days, 0 known already; used by North.\n"
    assert run(*asked).stdout == before
    ahead = run(
        "outlook", book, "--until", "2026-10-20", "--daily", "--as", "csv", "--today", TODAY
    )
    assert "after the forecast to 2026-10-03" in ahead.stderr
    third = next(
        row for row in csv.DictReader(io.StringIO(ahead.stdout)) if row["date"][8:] == "03"
    )
    assert float(third["p10_pct"]) > 95.0, "400 mm of rain fill any tank"


def test_days_to_come_are_a_forecast(book, run, save):
    path = save("ahead.csv", WEATHER_ROWS[0], "2199-10-02,5,15,20")
    _refused(run("import", book, "weather", path), "Import it as a forecast")


def test_normals_alone_give_levels_and_say_so(tmp_path, run, save):
    path = tmp_path / "new.db"
    run("new", path)
    today = ("--today", TODAY)
    run("import", path, "stations", save("stations.csv", *STATION_ROWS), "--latitude", "42", *today)
    year = save("usual.csv", "month,rain_in,wet_days,tmin_f,tmax_f",
                *(f"{name},4,10,40,60" for name in MONTHS))  # fmt: skip
    _refused(run("import", path, "normals", year, *today), "name it with --tract")
    done = run("import", path, "normals", year, "--tract", "North", *today)
    assert done.stdout == "usual.csv: 12 new entries, 0 known already.\n"
    levels = run("levels", path, "--as", "json", *today)
    assert "invented like the normals" in levels.stderr
    last = json.loads(levels.stdout)[-1]
    assert last["p10_gal"] < last["p50_gal"] < last["p90_gal"]


def test_later_rows_of_contamination_act_on_the_open_event(book, run, save):
    path = save("more.csv", "date,station,cause,action", "2026-09-05,Oak [x],dye,drained")
    done = run("import", book, "contamination", path, "--today", TODAY)
    assert done.stderr == "more.csv: 1 row tells of work on an event that was still open.\n"
    assert len(json.loads(run("events", book, "--as", "json", "--today", TODAY).stdout)) == 1


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ((*STATION_ROWS[:1], "North,New,rectangular,48,36,0,150,"), "depth_in: 0 is not possible"),
        (
            ("tract,station,shape,depth_volume_in_gal", "North,New,measured,0:0 10:40 20:35"),
            "both rise from row to row",
        ),
        (("tract,station,shape,latitude", "North,New,round,95"), "latitude: 95 is not possible"),
        (("date,station,below_rim_in", "2024-05-08,Ash,3"), "Ash was installed on 2024-05-09"),
    ],
)
def test_what_the_water_model_cannot_take_is_a_sentence(book, run, save, rows, said):
    before = _dump(book)
    kind = "stations" if "shape" in rows[0] else "readings"
    _refused(run("import", book, kind, save("bad.csv", *rows), "--today", TODAY), said)
    assert _dump(book) == before


def test_readings_that_contradict_each_other_are_both_kept_and_flagged(book, run, save):
    path = save("two.csv", "date,station,below_rim_in", "2026-09-25,Ash,2", "2026-09-25,Ash,25")
    assert run("import", book, "readings", path, "--today", TODAY).stdout.startswith("two.csv: 2")
    told = run("learned", book, "--today", TODAY).stderr
    for inches in ("2.0", "25.0"):
        assert f"2026-09-25: Read {inches} in below the rim, against another reading" in told


def test_stations_that_cannot_be_modeled_say_why(book, run, save):
    """One without weather, one with rain alone; the others have their levels."""
    rows = (STATION_ROWS[0], *(f"{t},New,rectangular,48,36,30,150,2026-05-09" for t in "SW"))
    run("import", book, "stations", save("new.csv", *rows), "--latitude", "42", "--today", TODAY)
    rain = save("rain.csv", "date,rain_mm", *(f"2026-09-{day:02},3" for day in range(1, 31)))
    assert run("import", book, "weather", rain, "--tract", "W", "--today", TODAY).exit_code == 0
    done = run("levels", book, "--as", "json", "--today", TODAY)
    assert {row["station"] for row in json.loads(done.stdout)} == {"Ash", "Oak [x]"}
    assert "S/New: S has no weather yet; import a weather file for it." in done.stderr
    assert "W/New: the weather of W lacks rain or temperatures; import both." in done.stderr


def test_a_gap_of_sixty_days_is_counted(book, run, save):
    path = save(
        "spring.csv", WEATHER_ROWS[0], *(f"2026-05-{day:02},10,20,3" for day in range(1, 32))
    )
    run("import", book, "weather", path, "--tract", "North", "--today", TODAY)
    done = run("levels", book, "--from", "2026-05-15", "--as", "json", "--today", TODAY)
    assert "63 of 140 days to 2026-10-01 are missing and were filled" in done.stderr
    rows = json.loads(done.stdout)
    assert len(rows) == 2 * 140
    assert all(0.0 <= row["percent"] <= 100.0 for row in rows)


def test_bad_lines_are_told_or_left_out(book, run, save):
    path = save("bad.csv", WEATHER_ROWS[0], "2026-07-01,10,25,1", "2026-07-02,25,10,1")
    before = _dump(book)
    _refused(run("import", book, "weather", path), "bad.csv: 1 line cannot be read", "line 3, tmin")
    assert _dump(book) == before
    done = run("import", book, "weather", path, "--skip-bad-lines")
    assert done.exit_code == 0
    assert "bad.csv, left out line 3, tmin" in done.stderr
    assert "1 new days" in done.stdout


def test_columns_and_date_order_can_be_stated(book, run, save):
    path = save("odd.csv", "When,Amount", "01/07/2026,0.5")
    options = ("--column", "When=date", "--column", "Amount=rain_in")
    done = run("import", book, "weather", path, *options, "--date-order", "day-first")
    assert done.exit_code == 0
    assert "1 new days" in done.stdout


def test_imports_that_are_refused(book, run, save, tmp_path):
    before = _dump(book)
    deep = save("deep.csv", "date,station,below_rim_in", "2026-09-21,Ash,31")
    _refused(run("import", book, "readings", deep, "--today", TODAY), "line 2", "30.0 in deep")
    _refused(run("import", book, "readings", tmp_path / "absent.csv"), "No such file")
    _refused(run("import", book, "stations", tmp_path), "is a directory")
    _refused(run("import", tmp_path / "no.db", "readings", deep), "brimbook new")
    assert _dump(book) == before


def _dump(path):
    with logbook_at(path) as logbook:
        return list(logbook.db.conn.iterdump())


def test_the_shipped_demo_is_never_changed(book, run, save):
    demo = book.rename(book.with_name("demo.db"))
    with logbook_at(demo) as logbook:
        keep_setting(logbook, "demo", "yes")
    path = save("r.csv", "date,station,below_rim_in", "2026-09-21,Ash,3")
    _refused(run("import", demo, "readings", path), "is the shipped demo")


@pytest.mark.parametrize(
    ("command", "column"), [("levels", "station"), ("due", "station"), ("events", "station")]
)
def test_answers_as_table_csv_and_json(book, run, command, column):
    as_csv = run(command, book, "--as", "csv", "--today", TODAY)
    as_json = run(command, book, "--as", "json", "--today", TODAY)
    as_table = run(command, book, "--today", TODAY)
    assert {as_csv.exit_code, as_json.exit_code, as_table.exit_code} == {0}
    rows = list(csv.DictReader(io.StringIO(as_csv.stdout)))
    objects = json.loads(as_json.stdout)
    assert rows
    assert len(rows) == len(objects)
    assert [row[column] for row in rows] == [item[column] for item in objects]
    assert list(rows[0]) == list(objects[0])
    assert "Oak [x]" in as_table.stdout
    above, _, _ = as_table.stdout.partition("2026" if command == "levels" else "Oak [x]")
    assert column in above.split()


def test_levels_of_one_station_between_two_days(book, run):
    days = ("--from", "2026-09-20", "--to", "2026-09-22")
    done = run("levels", book, "--station", "north/ash", *days, "--as", "json", "--today", TODAY)
    rows = json.loads(done.stdout)
    assert [row["date"] for row in rows] == ["2026-09-20", "2026-09-21", "2026-09-22"]
    assert {row["station"] for row in rows} == {"Ash"}
    _refused(run("levels", book, "--station", "Asch"), "did you mean Ash")


def test_the_ways_out_of_an_event_and_a_bail_that_cannot_be(book, run):
    asked = ("recovery", book, "Oak [x]", "--today", TODAY)
    done = run(*asked, "--bail", "50", "--load", "20", "--as", "json")
    assert done.exit_code == 0
    assert "safety unknown" in done.stderr
    rows = json.loads(done.stdout)
    assert rows[0]["choice"] == "wait"
    assert {row["cause"] for row in rows} == {"dye"}
    _refused(run(*asked, "--bail", "140"), "A bail of 140 percent cannot be")
    _refused(run(*asked, "--load", "0"), "cannot be carried")
    _refused(run("recovery", book, "Nowhere", "--today", TODAY), "no station named Nowhere")
    calm = run("recovery", book, "Ash", "--today", TODAY, "--as", "csv")
    assert calm.stderr == "Ash has no open contamination event.\n"
    assert calm.stdout.count("\n") == 1


def test_answers_of_an_empty_logbook(tmp_path, run):
    path = tmp_path / "empty.db"
    run("new", path)
    for command in ("levels", "due", "events"):
        done = run(command, path, "--as", "json", "--today", TODAY)
        assert (done.exit_code, json.loads(done.stdout)) == (0, [])
        assert run(command, path, "--today", TODAY).exit_code == 0


@pytest.mark.parametrize("command", ["levels", "due", "events", "open"])
def test_what_is_no_logbook_is_refused(tmp_path, run, command):
    text = tmp_path / "text.db"
    text.write_text("hello")
    _refused(run(command, text), "is not a Brimbook logbook")
    _refused(run(command, tmp_path / "absent.db"), "does not exist")
    _refused(run(command, tmp_path), "is a directory")


@pytest.mark.parametrize(
    "args",
    [
        ("import",),
        ("import", "my.db", "letters", "a.csv"),
        ("import", "my.db", "weather", "a.csv", "--latitude", "100"),
        ("import", "my.db", "weather", "a.csv", "--units", "furlongs"),
        ("levels", "my.db", "--from", "2026-02-30"),
        ("levels", "my.db", "--as", "xml"),
        ("my.db", "--tomorrow"),
        ("new",),
    ],
)
def test_wrong_usage_is_exit_code_2(run, args):
    result = run(*args)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Usage:" in result.stderr


def test_two_fills_for_one_station_are_wrong_usage(book, run):
    fills = ("--fill", "Ash=20", "--fill", "Ash=30")
    result = run("outlook", book, "--until", "2026-11-10", *fills, "--today", TODAY)
    assert result.exit_code == 2
    assert "'Ash' is named twice" in result.stderr


def test_a_column_without_a_meaning_is_wrong_usage(book, run, save):
    path = save("odd.csv", "When,Amount", "2026-07-01,0.5")
    result = run("import", book, "weather", path, "--column", "When")
    assert result.exit_code == 2
    assert "'When' is not HEADING=NAME" in result.stderr


def test_of_several_stations_in_a_file_one_is_named(book, run, save):
    head = "STATION,DATE,PRCP,TMAX,TMIN"
    lines = [f"{name},2026-07-0{day},0.1,80,60" for name in ("MILL 2", "POND") for day in (1, 2)]
    path = save("two.csv", head, *lines)
    asked = ("import", book, "weather", path, "--units", "us")
    _refused(run(*asked), "(MILL 2, POND); state which one with --place NAME")
    _refused(run(*asked, "--place", "Lake"), "no station Lake; it has MILL 2, POND; state one with")
    done = run(*asked, "--place", "mill 2", "--tract", "North")
    assert "Weather record MILL 2: 2 new days" in done.stdout


def test_the_calendar_goes_to_standard_output_or_a_file(book, run, tmp_path):
    printed = run("calendar", book, "--today", TODAY)
    assert printed.exit_code == 0
    assert printed.stdout_bytes.startswith(b"BEGIN:VCALENDAR\r\n")
    path = tmp_path / "season.ics"
    assert run("calendar", book, "--today", TODAY, "--out", path).exit_code == 0
    assert path.read_bytes() == printed.stdout_bytes
    _refused(run("calendar", book, "--out", tmp_path / "no" / "x.ics"), "choose another")


@pytest.mark.parametrize(
    ("system", "takes", "never"),
    [
        ("us", r"It takes \d+ gal\\, \d+ lb\.", " kg"),
        ("metric", r"It takes \d+ L\\, \d+ kg\.", " lb"),
    ],
)
def test_the_calendar_has_its_water_in_the_units_asked_for(run, system, takes, never):
    asked = ("--units", system, "--today", "2025-10-12")
    told = run("calendar", shipped_demo(), *asked).stdout.replace("\r\n ", "").replace("\n ", "")
    assert len(re.findall(takes, told)) == 3
    assert never not in told


def test_the_review_is_a_table_or_a_page(book, run, tmp_path):
    assert "season" in run("review", book, "--today", TODAY).stdout
    path = tmp_path / "review.html"
    assert run("review", book, "--as", "html", "--out", path, "--today", TODAY).exit_code == 0
    assert path.read_bytes().startswith(b"<!doctype html>")
    assert run("review", book, "--out", path).exit_code == 2


def test_a_station_is_tried_in_other_forms(book, run):
    usual = run("whatif", book, "Ash", "--today", TODAY)
    assert "as it is" in usual.stdout
    asked = run("whatif", book, "Ash", "--apron", "400", "--today", TODAY)
    assert "as asked" in asked.stdout
    _refused(run("whatif", book, "Ash", "--depth", "-3"), "depth")


@pytest.mark.parametrize("form", ["gpx", "geojson"])
def test_places_go_out_and_come_in_again(book, run, tmp_path, form):
    path = tmp_path / "places"
    assert run("places", book, "--as", form, "--out", path).exit_code == 0
    assert run("places", book, "--as", form).stdout_bytes == path.read_bytes()
    assert run("import", book, "places", path).exit_code == 0


def test_a_logbook_alone_opens_the_interface(book, monkeypatch, run):
    opened = []

    class FakeApp:
        return_code = 0

        def __init__(self, path, *, today, greeting, signs, lasting):
            assert lasting, "what is typed is kept beside a logbook"
            opened.append((path, today, greeting, signs))

        def run(self):
            pass

    monkeypatch.setattr("tui.app.BrimbookApp", FakeApp)
    monkeypatch.setattr("locale.getencoding", lambda: "UTF-8")
    monkeypatch.setenv("TERM", "xterm")
    assert run(book, "--today", TODAY).exit_code == 0
    assert run("open", book).exit_code == 0
    assert run(book, "--plain").exit_code == 0
    monkeypatch.setenv("TERM", "linux")
    assert run(book).exit_code == 0
    assert opened == [
        (book, date(2026, 10, 1), "", Signs.ALL),
        (book, None, "", Signs.ALL),
        (book, None, "", Signs.PLAIN),
        (book, None, "", Signs.PLAIN),
    ]


def test_the_demo_opens_on_its_own_day_and_on_a_copy(monkeypatch, run):
    opened = []
    monkeypatch.setattr(
        "tui.app.BrimbookApp",
        lambda path, **options: type(
            "App",
            (),
            {
                "return_code": 0,
                "run": lambda _: opened.append((path, path.exists(), options)),
            },
        )(),
    )
    assert run("demo").exit_code == run(shipped_demo()).exit_code == 0
    assert len(opened) == 2
    for path, there, options in opened:
        assert there
        assert path != shipped_demo()
        assert not path.exists(), "the copy goes with the demo"
        assert not options["lasting"], "and what was typed with it"
        assert options["today"] is None
        assert "a copy" in options["greeting"]


def test_a_logbook_with_a_day_of_its_own_is_shown_as_of_it(book, run):
    with logbook_at(book) as logbook:
        keep_setting(logbook, SHOWN_AS_OF, "2026-09-20")
    own = run("levels", book, "--as", "csv")
    assert own.stderr.startswith("Shown as of 2026-09-20;")
    assert own.stdout.splitlines()[-1].startswith("2026-09-20")
    given = run("levels", book, "--as", "csv", "--today", "2026-09-22")
    assert "Shown as of" not in given.stderr
    assert given.stdout.splitlines()[-1].startswith("2026-09-22")
    with logbook_at(book) as logbook:
        late = Draft(date(2026, 9, 21), Note(next(iter(places(logbook).stations)), "Late"))
        with pytest.raises(Refused, match="still to come"):
            write(logbook, "Late", [late])
        keep_setting(logbook, SHOWN_AS_OF, "")
    with logbook_at(book) as logbook:
        assert logbook.today == date.today()


def test_without_a_logbook_your_own_is_made(tmp_path, monkeypatch, run):
    opened = []
    monkeypatch.setattr(cli.platformdirs, "user_data_path", lambda _: tmp_path / "data")
    monkeypatch.setattr(
        "tui.app.BrimbookApp",
        lambda path, **options: type(
            "App", (), {"return_code": 0, "run": lambda _: opened.append((path, options))}
        )(),
    )
    assert run().exit_code == 0
    path, options = opened[0]
    assert path == tmp_path / "data" / "logbook.db"
    assert path.exists()
    assert options["greeting"] == f"Made a new logbook: {path}"


@pytest.mark.parametrize("answer", ["y", "n"])
def test_a_logbook_that_is_not_there_is_made_when_a_person_says_so(tmp_path, monkeypatch, answer):
    path, opened = tmp_path / "mine.db", []
    monkeypatch.setattr("tui.cli.at_terminal", lambda: True)
    monkeypatch.setattr("tui.app.BrimbookApp.run", lambda app: opened.append(app.session.path))
    done = CliRunner().invoke(main, [str(path)], input=f"{answer}\n", prog_name="brimbook")
    assert f"There is no logbook {path} yet. Make one? [y/N]" in done.output.replace("\n", "")
    assert path.exists() is (answer == "y")
    assert opened == ([path] if answer == "y" else [])
    assert done.exit_code == (0 if answer == "y" else 1)


def test_as_a_program(tmp_path):
    command = [sys.executable, "-m", "tui", "levels", str(tmp_path / "absent.db")]
    result = subprocess.run(command, capture_output=True, text=True, check=False)
    assert result.returncode == 1
    assert result.stdout == ""
    assert result.stderr.startswith("Error: ")


LONG = "x" * 5000
BAD_CALLS = (
    ("due", "book", "--today", "0001-01-01"),
    ("levels", "book", "--to", "0001-01-01"),
    ("levels", "book", "--from", "9" * 5000),
    ("due", LONG),
    (LONG,),
    ("new", LONG),
    ("new", f"a/{LONG}/b.db"),
    ("import", "book", "weather", LONG),
    ("calendar", "book", "--out", LONG),
    ("import", "book", "weather", "book", "--latitude", "nan"),
    ("demo", "--today", "1899-12-31"),
)


@pytest.mark.parametrize("call", BAD_CALLS, ids=lambda call: " ".join(call)[:40])
def test_what_cannot_be_gets_a_sentence(book, run, call):
    result = run(*(book if word == "book" else word for word in call))
    assert result.exit_code in (1, 2)
    assert "did not expect" not in result.stderr
    assert "Error: " in result.stderr
    assert len(result.stderr) < 1000
