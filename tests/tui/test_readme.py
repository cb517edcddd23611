"""The README keeps up with the program."""

import re
from pathlib import Path

import pytest

from store.transfer.importing import SheetKind
from tui.cli import main

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text()


COMMANDS = {
    f"{name} {part}" if part else name: told
    for name, command in main.commands.items()
    for part, told in getattr(command, "commands", {"": command}).items()
}


@pytest.mark.parametrize("name", sorted(set(COMMANDS) - {"open"}))
def test_every_command_is_in_the_readme_and_has_help(name):
    (line,) = (one for one in README.splitlines() if re.match(rf"brimbook {name}( |$)", one))
    if any(one.name == "logbook" for one in COMMANDS[name].params):
        assert "LOGBOOK" in line.split()
    assert COMMANDS[name].help


@pytest.mark.parametrize("kind", [*SheetKind, "weather", "forecast"])
def test_every_kind_of_import_has_its_columns_in_the_readme(kind):
    assert re.search(rf"^\| `{kind}` \|", README, re.MULTILINE)


def test_the_pictures_of_the_readme_exist():
    pictures = re.findall(r"!\[[^]]*]\(<([^>]+)>\)", README)
    assert pictures
    assert all((ROOT / picture).is_file() for picture in pictures)
