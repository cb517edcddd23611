"""Which room may know which: the directions that keep the project easy to change."""

import ast
import re
import subprocess
import sys
from collections.abc import Container, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PURE = ("weather", "water", "season", "contamination", "haul")
FORBIDDEN = {
    "store": ("textual", "tui"),
    **{f"store/{name}": ("sqlite3", "sqlite_utils", "store.logbook") for name in PURE},
    "store/logbook": ("store.water", "store.season", "store.contamination"),
    "store/model": ("sqlite3", "sqlite_utils"),
    "store/views": ("sqlite3", "sqlite_utils", "store.reports"),
    "store/reports": ("sqlite3", "sqlite_utils"),
    "tui/widgets": ("store", "tui.base", "tui.words"),
    "tui/base": ("tui.app", "tui.routes"),
    "tui": ("sqlite3", "sqlite_utils"),
}
LAYERS = (
    {"weather"},
    {"water", "season", "contamination", "haul", "logbook"},
    {"model"},
    {"views", "reports"},
    {"transfer", "exchange", "demo", "fetching"},
)
"""Folders of store/, lowest first; none imports from a layer above it."""
SHARED = {"base", "widgets"}
"""Folders of tui/ that hold no screens of their own; every other is a screen's."""
NETWORK = ("http", "urllib", "socket", "ssl", "ftplib", "smtplib", "socketserver", "telnetlib")
FETCHES = {
    "store.fetching": "weather, when a person asks for it",
    "tui.serving": "shows the interface in a browser on this machine",
}
"""Who may use the network, and for what."""
LATE = {
    (
        "store.logbook.opening",
        "store.logbook.upgrading",
    ): "sqlite-utils loads pandas where there is one, and few starts bring a file up",
    (
        "store.model.snapshot",
        "store.model.tract_weather",
    ): "what the log says is on screen before NumPy is loaded",
    ("tui.session", "store.model.working_out"): "the same",
    ("tui.session", "tui.kept"): "the same",
    ("tui.serving.server", "textual_serve.server"): "an extra that may not be installed",
    ("tui.commands.keys", "tui.key_table"): "only what makes bindings needs Textual",
    ("tui.cli", "tui.app"): "a command that prints an answer starts without Textual",
    (
        "tui.commands.planning",
        "store.reports.calendar_file",
    ): "icalendar takes a quarter of a second to load",
}
"""Imports inside a function, with the start-up time they save."""
TABLES = {
    "tui.cli": "commands, each loaded when it is given",
    "tui.routes": "screens, each loaded when a key first opens it",
}
"""Who may name modules as `module:name`, to be loaded when they are first asked for."""
NAMED = re.compile(r"((?:store|tui)(?:\.\w+)+):\w+")


@dataclass(frozen=True)
class Import:
    """One module imports another.

    `late` is whether it does so inside a function, `named` whether by a name in a text.
    """

    by: str
    of: str
    late: bool
    named: bool = False


def imports_of(by: str, source: str, modules: Container[str]) -> Iterator[Import]:
    """Every import of a module, except those for type checkers alone, which never run."""

    def of(node: ast.ImportFrom, name: str) -> str:
        """The module behind `from a import b`: a.b if there is one, else a."""
        package = by.split(".")[: -node.level] if node.level else []
        whole = ".".join([*package, *([node.module] if node.module else [])])
        return f"{whole}.{name}" if f"{whole}.{name}" in modules else whole

    def visit(node: ast.AST, late: bool) -> Iterator[Import]:
        match node:
            case ast.If(test=ast.Name(id="TYPE_CHECKING")):
                for child in node.orelse:
                    yield from visit(child, late)
                return
            case ast.Import():
                yield from (Import(by, alias.name, late) for alias in node.names)
            case ast.ImportFrom():
                yield from (Import(by, of(node, alias.name), late) for alias in node.names)
            case ast.Constant(value=str(text)) if found := NAMED.fullmatch(text):
                yield Import(by, found[1], late, named=True)
        late = late or isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        for child in ast.iter_child_nodes(node):
            yield from visit(child, late)

    yield from visit(ast.parse(source), False)


@cache
def imports(root: Path) -> list[Import]:
    """Every import of the modules in store/ and tui/, each tree read once."""
    files = [path for room in ("store", "tui") for path in sorted((root / room).rglob("*.py"))]
    assert files
    modules = {
        ".".join(path.relative_to(root).with_suffix("").parts).removesuffix(".__init__"): path
        for path in files
    }
    return [
        one for by, path in modules.items() for one in imports_of(by, path.read_text(), modules)
    ]


def is_in(module: str, folder: str) -> bool:
    return module == folder or module.startswith(f"{folder}.")


def told(wrong: list[Import]) -> list[str]:
    return [f"{one.by} imports {one.of}" for one in wrong]


def forbidden(root: Path) -> list[str]:
    return told(
        [
            one
            for one in imports(root)
            for folder, words in FORBIDDEN.items()
            if is_in(one.by, folder.replace("/", ".")) and any(is_in(one.of, w) for w in words)
        ]
    )


def upward(root: Path) -> list[str]:
    """Imports in store/ from a layer above."""

    def layer(module: str) -> int | None:
        room, _, rest = module.partition(".")
        folder = rest.split(".")[0]
        found = (number for number, names in enumerate(LAYERS) if folder in names)
        return next(found, None) if room == "store" else None

    return told(
        [
            one
            for one in imports(root)
            if (by := layer(one.by)) is not None and (of := layer(one.of)) is not None and of > by
        ]
    )


def across(root: Path) -> list[str]:
    """Imports from the folder of a screen into another folder of tui/."""

    def folder(module: str) -> str | None:
        room, *rest = module.split(".")
        return rest[0] if room == "tui" and rest and (root / "tui" / rest[0]).is_dir() else None

    return told(
        [
            one
            for one in imports(root)
            if (by := folder(one.by)) and (of := folder(one.of)) and by != of and of not in SHARED
        ]
    )


def offline(root: Path) -> list[str]:
    """Imports of what reaches over a network, by others than those that may."""
    return told(
        [
            one
            for one in imports(root)
            if any(is_in(one.of, name) for name in NETWORK)
            and one.of != "urllib.parse"
            and not any(is_in(one.by, folder) for folder in FETCHES)
        ]
    )


def late(root: Path) -> list[str]:
    return told([one for one in imports(root) if one.late and (one.by, one.of) not in LATE])


def named(root: Path) -> list[str]:
    return told([one for one in imports(root) if one.named and one.by not in TABLES])


def circles(root: Path) -> list[str]:
    """Modules that import themselves in the end, one path each."""
    known: dict[str, set[str]] = {}
    for one in imports(root):
        known.setdefault(one.by, set()).add(one.of)

    def path_back(start: str) -> list[str] | None:
        paths, seen = [[start]], set()
        while paths:
            path = paths.pop(0)
            for of in sorted(known.get(path[-1], ())):
                if of == start:
                    return [*path, of]
                if of not in seen:
                    seen.add(of)
                    paths.append([*path, of])
        return None

    return [" -> ".join(path) for module in known if (path := path_back(module))]


RULES = {rule.__name__: rule for rule in (forbidden, upward, across, offline, late, named, circles)}


@pytest.mark.parametrize("rule", RULES)
def test_the_project_keeps(rule):
    assert RULES[rule](ROOT) == []


def make_up(root: Path, sources: dict[str, str]) -> None:
    """A small tree of modules."""
    for name, source in sources.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(source)


@pytest.mark.parametrize(
    ("rule", "files", "wrong"),
    [
        ("forbidden", {"store/units.py": "import tui.app"}, "store.units imports tui.app"),
        ("forbidden", {"tui/a.py": "from sqlite3 import connect"}, "tui.a imports sqlite3"),
        (
            "upward",
            {"store/model/a.py": "from store.views.b import c", "store/views/b.py": ""},
            "store.model.a imports store.views.b",
        ),
        (
            "upward",
            {"store/weather/a.py": "from store.season import b", "store/season/b.py": ""},
            "store.weather.a imports store.season.b",
        ),
        (
            "across",
            {"tui/a/x.py": "from tui.b.y import z", "tui/b/y.py": "", "tui/base/w.py": ""},
            "tui.a.x imports tui.b.y",
        ),
        (
            "across",
            {"tui/base/x.py": "import tui.a.y", "tui/a/y.py": "from tui.base import w"},
            "tui.base.x imports tui.a.y",
        ),
        ("offline", {"store/a.py": "import urllib.request"}, "store.a imports urllib.request"),
        (
            "late",
            {"tui/a.py": "def f():\n    from tui.b import g", "tui/b.py": ""},
            "tui.a imports tui.b",
        ),
        ("named", {"tui/a.py": "B = 'tui.b:g'"}, "tui.a imports tui.b"),
        (
            "circles",
            {"tui/cli.py": "B = Late({'b': 'tui.b:g'})", "tui/b.py": "import tui.cli"},
            "tui.cli -> tui.b -> tui.cli",
        ),
        (
            "circles",
            {
                "tui/a.py": "from tui import b",
                "tui/b.py": "import tui.c",
                "tui/c.py": "import tui.a",
            },
            "tui.a -> tui.b -> tui.c -> tui.a",
        ),
        (
            "circles",
            {"store/a.py": "def f():\n    from . import b", "store/b.py": "from .a import c"},
            "store.a -> store.b -> store.a",
        ),
    ],
)
def test_a_rule_broken_is_told(tmp_path, rule, files, wrong):
    make_up(tmp_path, files)
    assert wrong in RULES[rule](tmp_path)


def test_what_a_rule_allows_is_not_told(tmp_path):
    sources = {
        "tui/a/x.py": "from tui.base.w import v\nif TYPE_CHECKING:\n    from tui.b.y import z",
        "tui/b/y.py": "from tui.a import x",
        "tui/base/w.py": "from store.views.p import q",
        "tui/cli.py": "def f():\n    from tui.app import g\nB = Late({'b': 'tui.app:g'})",
        "tui/app.py": "import tui.a.x",
        "store/views/p.py": "from store.model import r",
        "store/model/r.py": "import numpy",
        "store/fetching/s.py": "from urllib.request import urlopen",
    }
    make_up(tmp_path, sources)
    found = {name: rule(tmp_path) for name, rule in RULES.items()}
    assert found.pop("across") == ["tui.b.y imports tui.a.x"]
    assert not any(found.values())


def test_no_import_is_allowed_that_is_not_there():
    assert {(one.by, one.of) for one in imports(ROOT) if one.late} == LATE.keys()


def test_nobody_may_name_modules_who_does_not():
    assert {one.by for one in imports(ROOT) if one.named} == TABLES.keys()


def test_every_folder_of_store_has_its_layer():
    folders = {path.name for path in (ROOT / "store").iterdir() if (path / "__init__.py").exists()}
    assert folders == set().union(*LAYERS)


def test_printing_an_answer_loads_no_textual():
    code = "import sys, tui.cli; sys.exit('textual' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)
    assert done.returncode == 0


def test_opening_the_interface_loads_no_sqlite_utils():
    """Which loads pandas where that is installed; only a file to be brought up needs it."""
    code = "import sys, tui.app; sys.exit('sqlite_utils' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)
    assert done.returncode == 0
