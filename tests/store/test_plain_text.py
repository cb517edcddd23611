"""What is shown never steers the terminal."""

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.plain_text import IN_PLACE, LONGEST_WORD, plain_sentence, without_controls


def test_controls_are_marked_and_plain_text_is_left_alone():
    assert without_controls("\x1b[31mred\x9b2J\x07") == f"{IN_PLACE}[31mred{IN_PLACE}2J{IN_PLACE}"
    assert without_controls("Öak\tflat\n\U0001f4a9") == "Öak\tflat\n\U0001f4a9"


@given(st.text())
def test_nothing_is_left_that_a_terminal_obeys(text):
    shown = without_controls(text)
    assert len(shown) == len(text)
    kinds = {unicodedata.category(one) for one in shown if one not in "\t\n"}
    assert not kinds & {"Cc", "Cs", "Zl", "Zp"}
    shown.encode()


def test_an_error_is_a_sentence_whatever_it_quotes():
    sentence = str(BadValue(f"{'9' * 5000} is \x1b[2J no number"))
    assert len(sentence) < LONGEST_WORD + 60
    assert "\x1b" not in sentence
    assert sentence.endswith("no number")
    assert plain_sentence("a b") == "a b"
