"""Text, merging and the log, by command."""

import pytest
from click.testing import CliRunner

from tui.cli import main


def run(*args, fails=False):
    result = CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")
    assert result.exit_code == (1 if fails else 0), result.stderr
    return result.stderr if fails else result.stdout


def test_a_logbook_goes_out_as_text_and_comes_back(book, tmp_path):
    file, again = tmp_path / "book.jsonl", tmp_path / "again.db"
    assert run("text", book.path, "--out", file) == f"Wrote {file}.\n"
    assert f"Made {again}" in run("from-text", file, again)
    assert run("text", again) == file.read_text() == run("text", book.path)


@pytest.mark.parametrize("cut", [0, 40, 200])
def test_a_damaged_text_makes_nothing(book, tmp_path, cut):
    file, again = tmp_path / "book.jsonl", tmp_path / "again.db"
    run("text", book.path, "--out", file)
    file.write_bytes(file.read_bytes()[:cut])
    assert run("from-text", file, again, fails=True).startswith("Error: book.jsonl")
    assert not again.exists()
