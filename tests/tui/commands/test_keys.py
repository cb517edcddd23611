"""The command that tells of keys, with a file of the person's own."""

import os
import subprocess
import sys
from pathlib import Path


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
