"""The work of the months to come in one line."""

from __future__ import annotations

from collections.abc import Iterable

from store.views.later_work import LaterWork
from store.vocabulary import PromptKind

SHORT = {PromptKind.CHECK: "look at"}
"""Kinds whose own word says too little."""


def later_words(work: Iterable[LaterWork]) -> str:
    """As `Later   April: rake 11   May: install 1`; empty where nothing is to come."""
    by_month: dict[str, list[str]] = {}
    for one in work:
        said = f"{SHORT.get(one.kind, one.kind.value)} {one.stations}"
        by_month.setdefault(f"{one.month:%B}", []).append(said)
    months = [f"{month}: {', '.join(said)}" for month, said in by_month.items()]
    return f"Later   {'   '.join(months)}" if months else ""
