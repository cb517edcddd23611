"""One meaning a key, on every screen; keys of the person's own."""

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.binding import Binding
from textual.dom import DOMNode
from textual.keys import _character_to_key as name_of_key

import tui
from tui.key_table import DIGITS, KEYS, MEANINGS, Bound, bind, key, keys_from, read_keys, spare

FILE = Path("keys.toml")
MEANT = {name_of_key(one): name for name, one in KEYS.by_name.items()}
CLASSES = sorted(
    {
        one
        for module in pkgutil.walk_packages(tui.__path__, "tui.")
        if not module.name.endswith("__main__")
        for one in vars(importlib.import_module(module.name)).values()
        if isinstance(one, type) and issubclass(one, DOMNode) and one.__module__.startswith("tui.")
    },
    key=lambda one: one.__qualname__,
)


def _bindings(node: type[DOMNode]) -> Iterator[Binding]:
    for one in node.__dict__.get("BINDINGS", ()):
        assert isinstance(one, Binding)
        yield one


def _printable(keys: str) -> list[str]:
    known = {*MEANT, *map(name_of_key, map(chr, range(33, 127)))} - DIGITS
    return [name for one in keys.split(",") if (name := _named(one)) in known]


def _named(one: str) -> str:
    return name_of_key(one) if len(one) == 1 else one


def unmeant(binding: Binding) -> list[str]:
    """The keys of a binding that its meaning does not have, digits aside."""
    meaning = binding.meaning if isinstance(binding, Bound) else ""
    meant = {name_of_key(key(meaning))} if meaning else set()
    if meaning == "nearer":
        meant.add(spare("="))
    return [one for one in _printable(binding.key) if one not in meant]


def test_every_key_that_prints_is_in_the_table() -> None:
    assert len(CLASSES) > 40
    for node in CLASSES:
        for binding in _bindings(node):
            assert not unmeant(binding), (node, binding)
    assert unmeant(Binding("é,Q,enter,4", "x", "X")) == ["Q"]
    assert unmeant(Binding("g", "fill", "Fill")) == ["g"], "a letter of the table, by hand"
    assert unmeant(Binding("?", "help", "Help")) == ["question_mark"]
    made = {"id": "a.b", "tooltip": "T"}
    assert unmeant(bind("fill", "fill", "Fill", **made, second="g")) == ["g"]
    assert unmeant(bind("fill", "fill", "Fill", **made, second="equals_sign")) == ["equals_sign"]
    assert unmeant(bind("fill", "fill", "Fill", **made, first="right")) == []


@pytest.mark.parametrize("node", CLASSES, ids=lambda node: node.__qualname__)
def test_no_key_does_two_things_on_a_screen(node: type[DOMNode]) -> None:
    taken: dict[str, str] = {}
    for binding in _bindings(node):
        for one in binding.key.split(","):
            assert taken.setdefault(one, binding.action) == binding.action, (node, one)


def test_a_key_has_one_meaning_and_a_meaning_one_key() -> None:
    assert len({one.key for one in MEANINGS}) == len({one.name for one in MEANINGS})
    assert len(MEANINGS) == len({one.name for one in MEANINGS})
    assert not DIGITS & {one.key for one in MEANINGS}


def test_a_binding_has_the_key_of_its_meaning_after_one_that_comes_first() -> None:
    made = bind("next", "go", "Go", id="a.go", tooltip="Go", first="right", second="end")
    assert (made.key, made.key_display) == ("right,full_stop,end", "→")
    assert bind("find", "go", "Go", id="a.go", tooltip="Go").key_display == "/"


def test_a_persons_own_keys_change_a_meaning_everywhere() -> None:
    keys = keys_from({"fill": "ü", "note": "f"}, FILE)
    assert (keys.by_name["fill"], keys.by_name["note"]) == ("ü", "f")
    assert keys.by_name["ramp"] == key("ramp")
    assert keys.troubles == ()


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ({"fil": "f"}, "there is no 'fil'"),
        ({"fill": "ff"}, "one character"),
        ({"fill": 3}, "one character"),
        ({"fill": "\n"}, "one character"),
        ({"fill": "4"}, "digits"),
        ({"fill": "r"}, "r cannot be both 'fill' and 'ramp'"),
        ({"fill": "é", "note": "é"}, "é cannot be both 'fill' and 'note'"),
    ],
)
def test_what_cannot_be_is_told_and_the_usual_key_stands(
    wanted: dict[str, object], told: str
) -> None:
    keys = keys_from(wanted, FILE)
    assert len(keys.troubles) == 1
    assert told in keys.troubles[0]
    assert keys.by_name == {one.name: one.key for one in MEANINGS}


def test_one_conflict_that_leads_to_another_ends_with_one_meaning_a_key() -> None:
    """`fill` takes r, so both go back; then `note`, which took f, stands in its way."""
    keys = keys_from({"fill": "r", "note": "f"}, FILE)
    assert len(set(keys.by_name.values())) == len(MEANINGS)
    assert len(keys.troubles) == 2


def test_a_file_that_is_none_or_no_good_leaves_the_usual_keys(tmp_path: Path) -> None:
    file = tmp_path / "keys.toml"
    assert read_keys(file).troubles == ()
    file.write_text('fill = "ü"\n')
    assert read_keys(file).by_name["fill"] == "ü"
    file.write_bytes(b"\xff\xfe")
    assert "cannot be read" in read_keys(file).troubles[0]
    file.write_text("fill = f")
    assert "cannot be read" in read_keys(file).troubles[0]
    assert read_keys(file).by_name["fill"] == "f"
