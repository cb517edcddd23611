"""What nobody foresaw ends in a file and a sentence, never in a traceback on screen."""

import stat
from io import StringIO

import pytest
from click.testing import CliRunner
from rich.console import Console

from tests.tui.driving import drive, press
from tui import failure
from tui.cli import main


@pytest.fixture
def log_folder(tmp_path, monkeypatch):
    folder = tmp_path / "log"
    monkeypatch.setattr(failure.platformdirs, "user_log_path", lambda _: folder)
    return folder


def report_in(folder):
    (file,) = folder.iterdir()
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    return file, file.read_text()


def broken(*_):
    raise ZeroDivisionError("the level of nothing")


@pytest.mark.parametrize("where", ["in a key", "in a thread"])
def test_an_error_on_a_screen_gives_a_sentence_and_a_report(book, log_folder, where):
    app, shown = book.app(), Console(file=StringIO(), width=500)
    app.error_console = shown

    async def steps(pilot):
        await press(pilot, "S", "g", "enter")
        if where == "in a key":
            app.screen.action_withdraw = broken
            await press(pilot, "x")
        else:
            app.session.boards = lambda **_: (broken() for _ in range(1))
            app.refresh_board()
            await press(pilot, "s")

    with pytest.raises(Exception, match="the level of nothing"):
        drive(app, steps)
    file, report = report_in(log_folder)
    assert "StationScreen" in report
    assert "S g enter x" in report or where == "in a thread"
    assert "ZeroDivisionError: the level of nothing" in report
    assert "in broken" in report
    said = shown.file.getvalue()
    assert str(file) in said
    assert "All that was saved is in the logbook" in said
    assert "Traceback" not in said


def test_an_error_of_a_command_gives_a_sentence_and_a_report(tmp_path, log_folder, monkeypatch):
    monkeypatch.setattr("tui.commands.keeping.create_logbook", broken)
    result = CliRunner().invoke(main, ["new", str(tmp_path / "book.db")])
    assert result.exit_code == 1
    file, report = report_in(log_folder)
    assert "command new" in report
    assert "in broken" in report
    assert str(file) in result.stderr
    assert "Traceback" not in result.stderr


def test_where_no_log_can_be_kept_the_sentence_says_the_error(tmp_path, monkeypatch):
    in_the_way = tmp_path / "file"
    in_the_way.write_text("")
    monkeypatch.setattr(failure.platformdirs, "user_log_path", lambda _: in_the_way)
    monkeypatch.setattr(failure.tempfile, "gettempdir", lambda: str(in_the_way))
    assert "ZeroDivisionError" in failure.keep_failure(ZeroDivisionError(), "nowhere")
