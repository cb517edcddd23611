"""One thing an entry says, as it is written and read when the entry is corrected."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from store.errors import BadValue
from store.typed import amount_typed, as_typed, number_from
from store.units import Quantity, Units

NOT_NOTED = "not noted"
TURNED = "left and right"
"""How a choice is gone through."""


def _always(_fact: Any) -> bool:
    return True


@dataclass(frozen=True)
class CorrectionField:
    """`text` writes it; `read` gives the fields of the fact that a text stands for.

    `read` raises BadValue with what is wrong. Where there are `choices` the text is one of
    them. Some things a fact says only together with others, as the animal with a carcass:
    `belongs` says whether it does, and `without` is what it says where that no longer is so
    since `hangs_on` was corrected.
    """

    key: str
    label: str
    text: Callable[[Any, Units], str]
    read: Callable[[str, Units], Mapping[str, Any]]
    choices: tuple[str, ...] = ()
    hint: str = ""
    belongs: Callable[[Any], bool] = _always
    hangs_on: str = ""
    without: Mapping[str, Any] = field(default_factory=dict)


def volume(label: str, hint: str) -> CorrectionField:
    """An amount of water, more than none; it may stay empty."""

    def read(text: str, units: Units) -> Mapping[str, Any]:
        if not text:
            return {"volume_l": None}
        volume_l = amount_typed(text, Quantity.VOLUME, units)
        if volume_l <= 0.0:
            raise BadValue("It must be more than 0; leave it empty, or withdraw the entry")
        return {"volume_l": volume_l}

    return CorrectionField("volume", label, volume_text, read, hint=hint)


def volume_text(fact: Any, units: Units) -> str:
    if fact.volume_l is None:
        return ""
    return f"{as_typed(units.volume(fact.volume_l))} {units.volume_name}"


def written(key: str, label: str, *, needed: bool = False) -> CorrectionField:
    """A text as the person wrote it."""

    def read(text: str, _units: Units) -> Mapping[str, Any]:
        if needed and not text:
            raise BadValue("It cannot be empty; withdraw the entry instead")
        return {key: text}

    return CorrectionField(key, label, lambda fact, _units: str(getattr(fact, key)), read)


def one_of(
    key: str, label: str, words: tuple[StrEnum, ...], *, optional: bool = False
) -> CorrectionField:
    """One of some words; `not noted` among them where it may be left out."""
    meant = {word.value: word for word in words}

    def text(fact: Any, _units: Units) -> str:
        value = getattr(fact, key)
        return NOT_NOTED if value is None else str(value)

    def read(text: str, _units: Units) -> Mapping[str, Any]:
        return {key: meant.get(text)}

    return CorrectionField(
        key, label, text, read, (*meant, NOT_NOTED) if optional else tuple(meant), TURNED
    )


def yes_or_no(
    key: str, label: str, words: Mapping[str, bool | None], hint: str = TURNED
) -> CorrectionField:
    """What is so or not, in the words given for each."""
    said = {value: word for word, value in words.items()}
    return CorrectionField(
        key,
        label,
        lambda fact, _units: said[getattr(fact, key)],
        lambda text, _units: {key: words[text]},
        tuple(words),
        hint,
    )


def count(key: str, label: str, hint: str, *, whole: bool = False) -> CorrectionField:
    """A number of 0 or more that may stay empty, or a whole one from 1 on."""

    def read(text: str, _units: Units) -> Mapping[str, Any]:
        if not text and not whole:
            return {key: None}
        number = number_from(text)
        if whole and (number < 1.0 or not number.is_integer()):
            raise BadValue("It must be a whole number from 1 on")
        if number < 0.0:
            raise BadValue("It cannot be less than 0")
        return {key: int(number) if whole else number}

    def text(fact: Any, _units: Units) -> str:
        value = getattr(fact, key)
        return "" if value is None else as_typed(value)

    return CorrectionField(key, label, text, read, hint=hint)
