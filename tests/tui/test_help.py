"""What `--help` tells: every command, every column, every word."""

import re

import pytest
from click.testing import CliRunner, Result

from store.transfer.sheets import CHORES, CONTAMINATION, NORMALS, READINGS, STATIONS
from store.vocabulary import (
    Access,
    Action,
    ApronSurface,
    Cause,
    ChoreKind,
    ExpectedUse,
    Exposure,
    LevelMark,
    Shape,
    WhenRead,
)
from tui.cli import main


def run(*args: object) -> Result:
    return CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")


@pytest.mark.parametrize("command", [None, *main.commands])
def test_every_command_has_help(command):
    result = run(*([command] if command else []), "--help")
    assert result.exit_code == 0
    assert result.stderr == ""
    assert "Usage: brimbook" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 80


SHEETS = (STATIONS, NORMALS, READINGS, CHORES, CONTAMINATION)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.kind)
def test_import_help_names_every_column(sheet):
    """In US units; the metric twins are told of in one sentence."""
    text = run("import", "--help").stdout
    kinds = "stations|weather|forecast|normals|readings|chores|contamination|Dates"
    start, stop = re.search(rf"^ +{sheet.kind}  (?:.*\n)*?(?= +(?:{kinds}) )", text, re.M).span()
    told = set(re.split(r"[\s,;]+", text[start:stop]))
    twins = {name for name in sheet.columns if name.endswith(("_cm", "_mm", "_m2", "ers", "res"))}
    assert sheet.columns - twins <= told


@pytest.mark.parametrize(
    "kind",
    [
        Shape,
        ApronSurface,
        Exposure,
        Access,
        ExpectedUse,
        LevelMark,
        WhenRead,
        ChoreKind,
        Cause,
        Action,
    ],
)
def test_import_help_names_every_word_that_is_taken(kind):
    text = " ".join(run("import", "--help").stdout.split())
    assert [word.value for word in kind if word.value not in text] == []
