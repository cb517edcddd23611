"""The command that tells of keys, with a file of the person's own."""

import os
import subprocess
import sys
from pathlib import Path


def test_a_persons_own_keys_reach_every_screen(tmp_path: Path) -> None:
    """A sign that was a second key, the key of help, and the point that rain is typed with."""
    folder = tmp_path / "brimbook"
    folder.mkdir()
    (folder / "keys.toml").write_text('facts = "="\nhelp = "!"\nsave = "."\nnext = "s"\n')
    code = (
        "from textual.binding import BindingsMap\n"
        "from tui.base.help import HelpScreen\n"
        "from tui.check_in.screen import THROUGH\n"
        "from tui.station.screen import StationScreen\n"
        "from tui.widgets.choice import PASSED_ON\n"
        "keys = BindingsMap(StationScreen.BINDINGS).key_to_bindings\n"
        "print([one.action for one in keys['equals_sign']], [one.action for one in keys['s']])\n"
        "print('exclamation_mark' in BindingsMap(HelpScreen.BINDINGS).key_to_bindings)\n"
        "print(PASSED_ON, '.' in THROUGH)\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "XDG_CONFIG_HOME": str(tmp_path)},
        cwd=Path(__file__).parents[3],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    assert told.stdout.splitlines() == [
        "[\"open('facts')\"] ['other_station(1)']",
        "True",
        "! False",
    ]


def test_a_persons_own_key_and_what_is_wrong_are_told(tmp_path: Path) -> None:
    """In a program of its own, for keys are read once, when bindings are made."""
    folder = tmp_path / "brimbook"
    folder.mkdir()
    (folder / "keys.toml").write_text('fill = "ü"\nnote = "r"\n')
    told = subprocess.run(
        [sys.executable, "-m", "tui", "keys"],
        env={**os.environ, "XDG_CONFIG_HOME": str(tmp_path), "PYTHONIOENCODING": "utf-8"},
        cwd=Path(__file__).parents[3],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    lines = told.stdout.splitlines()
    assert any(line.startswith("ü  fill ") for line in lines)
    assert any(line.startswith("o  note ") for line in lines)
    assert str(folder / "keys.toml") in told.stdout
    assert "r cannot be both 'note' and 'ramp'" in told.stderr
