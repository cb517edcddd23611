"""Days as a person types them."""

from datetime import date

import pytest

from store.errors import BadValue
from store.typed import day_typed

TODAY = date(2026, 10, 14)
"""A Wednesday."""


@pytest.mark.parametrize(
    ("text", "past", "ahead"),
    [
        ("today", "2026-10-14", "2026-10-14"),
        ("Yesterday", "2026-10-13", "2026-10-13"),
        ("tomorrow", "2026-10-15", "2026-10-15"),
        ("wed", "2026-10-14", "2026-10-21"),
        ("friday", "2026-10-09", "2026-10-16"),
        ("oct 14", "2026-10-14", "2027-10-14"),
        ("October 15", "2025-10-15", "2026-10-15"),
        ("10/5", "2026-10-05", "2027-10-05"),
        ("5 oct", "2026-10-05", "2027-10-05"),
        ("2024-02-29", "2024-02-29", "2024-02-29"),
        ("feb 29", "2024-02-29", "2028-02-29"),
        ("oct 3 2025", "2025-10-03", "2025-10-03"),
        ("2026-05-09", "2026-05-09", "2026-05-09"),
    ],
)
def test_a_day_is_typed_as_people_say_it(text, past, ahead):
    assert day_typed(text, TODAY).isoformat() == past
    assert day_typed(text, TODAY, ahead=True).isoformat() == ahead


@pytest.mark.parametrize(
    "text",
    [
        "",
        "soon",
        "oct",
        "14",
        "13/13",
        "feb 30",
        "2026-02-30",
        "x" * 90,
        "9" * 30,
        "10:30",
        "w",
        "-",
    ],
)
def test_what_is_no_day_is_a_sentence(text):
    with pytest.raises(BadValue, match="is not a date; write it as oct 14"):
        day_typed(text, TODAY)
