"""Which room may know which: the directions that keep the project easy to change."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PURE = ("weather", "water", "season", "contamination")
FORBIDDEN = {
    "store": ("textual", "tui"),
    **{f"store/{name}": ("sqlite3", "sqlite_utils", "store.logbook") for name in PURE},
    **{
        f"store/{name} ": (
            "store.model",
            "store.views",
            "store.reports",
            "store.transfer",
            "store.demo",
        )
        for name in PURE
    },
    "store/logbook": (
        "store.water",
        "store.season",
        "store.contamination",
        "store.model",
        "store.views",
        "store.reports",
    ),
    "store/model": ("sqlite3", "sqlite_utils", "store.views", "store.reports"),
    "store/views": ("sqlite3", "sqlite_utils", "store.reports"),
    "store/reports": ("sqlite3", "sqlite_utils"),
    "tui/widgets": ("store",),
    "tui": ("sqlite3", "sqlite_utils"),
}


def imports(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


@pytest.mark.parametrize("folder", FORBIDDEN)
def test_a_room_knows_only_what_it_may(folder):
    files = list((ROOT / folder.strip()).rglob("*.py"))
    assert files
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in files
        for name in imports(path)
        if any(name == word or name.startswith(f"{word}.") for word in FORBIDDEN[folder])
    ]
    assert not wrong


def test_printing_an_answer_loads_no_textual():
    code = "import sys, tui.cli; sys.exit('textual' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)
    assert done.returncode == 0
