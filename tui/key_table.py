"""One meaning a key: the table that every screen binds from, and a person's own keys.

Case counts. A file of the person's own, `keys.toml`, changes the key of a meaning on every
screen at once: one line a meaning, as `fill = "g"`. It is read once, when this is imported.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from platformdirs import user_config_path
from textual.binding import Binding
from textual.keys import _character_to_key as name_of_key

KEYS_FILE = user_config_path("brimbook") / "keys.toml"


@dataclass(frozen=True)
class Meaning:
    """What a key stands for on every screen that has it."""

    name: str
    key: str
    does: str


MEANINGS = (
    Meaning("help", "?", "show the keys of the screen"),
    Meaning("find", "/", "find by a name or a word"),
    Meaning("next", ".", "go to the next station, window, cause or tract"),
    Meaning("before", ",", "go to the one before"),
    Meaning("earlier", "[", "a step of days back"),
    Meaning("later", "]", "a step of days on"),
    Meaning("nearer", "+", "fewer days, wider"),
    Meaning("farther", "-", "more days, narrower"),
    Meaning("order", ">", "which came first, the level seen or the water brought"),
    Meaning("correct", ";", "correct the entry of the log at the cursor"),
    Meaning("all", "*", "show all, or only what is open or due"),
    Meaning("percent", "%", "type how much was bailed, in percent"),
    Meaning("rake", "a", "the apron was raked"),
    Meaning("bail", "b", "the water was bailed; try another way to bail"),
    Meaning("check_in", "c", "enter what was seen"),
    Meaning("day", "d", "type a day, or go to one"),
    Meaning("event", "e", "record a contamination event, or work on one"),
    Meaning("fill", "f", "water was brought; try what a fill would do"),
    Meaning("tract", "g", "one tract after the other"),
    Meaning("heavy", "h", "heavy use"),
    Meaning("measured", "i", "type a measured level"),
    Meaning("animal", "j", "which animal drowned"),
    Meaning("camera", "k", "what a camera counted"),
    Meaning("light", "l", "light use"),
    Meaning("units", "m", "US or metric units"),
    Meaning("no", "n", "no: none seen, not so, will not be done"),
    Meaning("note", "o", "type a note"),
    Meaning("put_off", "p", "put work off to a day"),
    Meaning("quit", "q", "leave Brimbook"),
    Meaning("ramp", "r", "the escape ramp"),
    Meaning("save", "s", "save what is entered"),
    Meaning("timeline", "t", "the season, week by week"),
    Meaning("undo", "u", "take back what was saved last"),
    Meaning("cover", "v", "the cover is put on or taken off"),
    Meaning("work", "w", "the work that is due"),
    Meaning("take_out", "x", "take out, clear, drop, leave out"),
    Meaning("yes", "y", "yes: done, so, as expected, clear again"),
    Meaning("size", "z", "the size of the animal"),
    Meaning("advice", "A", "cautions and advice in full"),
    Meaning("bears", "B", "how many times bears came"),
    Meaning("colour", "C", "the colour of the water"),
    Meaning("drain", "D", "the water was let out"),
    Meaning("events", "E", "all open contamination events"),
    Meaning("facts", "F", "change what the screen reckons with"),
    Meaning("water", "G", "the water there is to haul"),
    Meaning("how_long", "H", "how long: hours of work, days an animal lay"),
    Meaning("import", "I", "bring in a file"),
    Meaning("loads", "J", "the loads that may be hauled"),
    Meaning("site", "K", "look at a site before a tank is dug in"),
    Meaning("learned", "L", "what the readings say of a station"),
    Meaning("smell", "M", "the smell of the water"),
    Meaning("new", "N", "a new station; a new tank is in the ground"),
    Meaning("outlook", "O", "the chances of the days ahead"),
    Meaning("photo", "P", "a picture to keep"),
    Meaning("review", "R", "look back on the seasons"),
    Meaning("sort", "S", "put in another order"),
    Meaning("theme", "T", "dark or light colours"),
    Meaning("redo", "U", "put back what was undone"),
    Meaning("visits", "V", "how animals come back to the water"),
    Meaning("work_day", "W", "plan a day of work"),
    Meaning("put_back", "X", "take in again what was left out"),
    Meaning("year", "Y", "another year or span of days"),
    Meaning("larger", "Z", "give the chart or the log the whole room"),
)
NAMES = {
    **{"escape": "Esc", "enter": "Enter", "tab": "Tab", "pagedown": "PgDn", "pageup": "PgUp"},
    **{"left": "←", "right": "→", "home": "Home", "end": "End", "f2": "F2"},
}
"""How a key that prints nothing is named, on screen and in sentences."""
DIGITS = frozenset("0123456789")
"""Marks of the level in a check-in, causes in an event; they cannot be given away."""


@dataclass(frozen=True)
class Keys:
    """The key of each meaning by its name, and a sentence for each line that was no good."""

    by_name: Mapping[str, str]
    troubles: tuple[str, ...] = ()


def keys_from(wanted: Mapping[str, object], file: Path) -> Keys:
    """The table with a person's own keys; what cannot be stays as it was, and is told."""
    keys = {one.name: one.key for one in MEANINGS}
    troubles = []
    for name, key in wanted.items():
        if name not in keys:
            troubles.append(f"{file}: there is no '{name}' to give a key to.")
        elif not isinstance(key, str) or len(key) != 1 or not key.isprintable() or key == " ":
            troubles.append(f"{file}: the key of '{name}' must be one character in quotes.")
        elif key in DIGITS:
            troubles.append(f"{file}: '{name}' cannot have {key}; digits mark levels and causes.")
        else:
            keys[name] = key
    return _without_conflicts(keys, file, tuple(troubles))


def _without_conflicts(keys: dict[str, str], file: Path, troubles: tuple[str, ...]) -> Keys:
    """The keys, where no two meanings share one; all of those who do get their own back."""
    usual = {one.name: one.key for one in MEANINGS}
    while True:
        names_of: dict[str, list[str]] = {}
        for name, key in keys.items():
            names_of.setdefault(key, []).append(name)
        shared = {key: names for key, names in names_of.items() if len(names) > 1}
        if not shared:
            return Keys(keys, troubles)
        for key, names in shared.items():
            troubles += (f"{file}: {key} cannot be both '{names[0]}' and '{names[1]}'.",)
            keys |= {name: usual[name] for name in names}


def read_keys(file: Path) -> Keys:
    """The keys with those of a file, where there is one."""
    try:
        return keys_from(tomllib.loads(file.read_text("utf-8")), file)
    except FileNotFoundError:
        return keys_from({}, file)
    except (OSError, UnicodeError, tomllib.TOMLDecodeError) as error:
        sentence = f"{file} cannot be read ({error}); the usual keys stand."
        return Keys(keys_from({}, file).by_name, (sentence,))


KEYS = read_keys(KEYS_FILE)


def key(meaning: str) -> str:
    """The key of a meaning, as a person would press it."""
    return KEYS.by_name[meaning]


@dataclass(frozen=True)
class Bound(Binding):
    """A binding to the key of a meaning."""

    meaning: str = ""


def spare(sign: str) -> str:
    """The name of a sign's key, for a second one, where no meaning has it; else empty."""
    return "" if sign in KEYS.by_name.values() else name_of_key(sign)


def bind(
    meaning: str,
    action: str,
    label: str,
    *,
    id: str,  # noqa: A002 - as in Textual
    tooltip: str,
    show: bool = True,
    first: str = "",
    second: str = "",
) -> Bound:
    """A binding of an action to the key of a meaning.

    `first` and `second` name one more key that is no letter, such as an arrow; the `first`
    stands in the footer.
    """
    keys = [one for one in (first, name_of_key(key(meaning)), second) if one]
    return Bound(
        ",".join(keys),
        action,
        label,
        show=show,
        key_display=NAMES.get(first, key(meaning)),
        id=id,
        tooltip=tooltip,
        meaning=meaning,
    )
