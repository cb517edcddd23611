"""Backups by command, and those that are made by themselves."""

import json
import shutil

import pytest
from click.testing import CliRunner

from store.logbook.backups import Why, backups_of
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.settings import keep_setting, setting
from tui.cli import main


@pytest.fixture
def path(tmp_path):
    create_logbook(tmp_path / "book.db").close()
    return tmp_path / "book.db"


def run(*args):
    result = CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")
    assert result.exit_code == 0, result.stderr
    return result


def units(path):
    with logbook_at(path) as logbook:
        return setting(logbook, "units")


def keep_units(path, name):
    with logbook_at(path) as logbook:
        keep_setting(logbook, "units", name)


def test_back_up_list_and_bring_back(path):
    keep_units(path, "metric")
    (made,) = (run("backup", path), backups_of(path))[1]
    keep_units(path, "us")
    listed = json.loads(run("backups", path, "--as", "json").stdout)
    assert [(row["backup"], row["why"]) for row in listed] == [(made.path.name, "asked")]
    told = run("restore", path, made.path.name).stdout
    assert units(path) == "metric"
    assert "before-restore" in told
    run("restore", path)
    assert units(path) == "us", "the newest is what stood there before"


def test_a_copy_goes_to_a_new_file_of_ones_own(path, tmp_path):
    target = tmp_path / "elsewhere.db"
    run("backup", path, "--to", target)
    assert units(target) == units(path)
    assert backups_of(path) == []
    refused = CliRunner().invoke(main, ["backup", str(path), "--to", str(target)])
    assert refused.exit_code == 1
    assert "exists already" in refused.stderr


def test_one_is_made_before_an_import_and_once_a_day_of_use(path, tmp_path, monkeypatch):
    sheet = tmp_path / "stations.csv"
    sheet.write_text(
        "tract,station,shape,length_in,width_in,depth_in\nN,Oak,rectangular,48,36,30\n"
    )
    run("import", path, "stations", sheet)
    (made,) = backups_of(path)
    assert made.why is Why.IMPORT
    shutil.rmtree(made.path.parent)
    greetings = []
    monkeypatch.setattr(
        "tui.app.BrimbookApp",
        lambda _, **options: type(
            "App",
            (),
            {"return_code": 0, "run": lambda _: greetings.append(options["greeting"])},
        )(),
    )
    run(path)
    run(path)
    assert [one.why for one in backups_of(path)] == [Why.DAILY]
    shutil.rmtree(backups_of(path)[0].path.parent)
    path.with_name("book.db.backups").write_text("in the way")
    run(path)
    assert greetings[:2] == ["", ""]
    assert "could not be backed up" in greetings[2]


def test_a_logbook_of_a_newer_version_is_read_with_a_word(path):
    with logbook_at(path) as logbook:
        later = "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES (?, ?, ?)"
        logbook.db.execute(later, ["brimbook", "m999_later", "2030-01-01"])
    assert "install the newer version" in run("due", path).stderr
