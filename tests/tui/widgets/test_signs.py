"""Plain characters for the signs of the screens."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.base.log_marks import ACTION_GLYPHS, CHORE_GLYPHS, CLEAR, DANGER, LOOKED, READ
from tui.widgets.braille import braille_cells, line_dots
from tui.widgets.signs import PLAIN_SIGNS, Signs, plain, signs_for, signs_of
from tui.widgets.timeline_data import LEVEL_GLYPHS, SPAN_GLYPHS, UNSURE_GLYPH


@pytest.mark.parametrize(
    ("environment", "encoding", "wanted"),
    [
        ({"TERM": "xterm-256color"}, "UTF-8", Signs.ALL),
        ({}, "utf8", Signs.ALL),
        ({"TERM": "linux"}, "UTF-8", Signs.PLAIN),
        ({"TERM": "dumb"}, "UTF-8", Signs.PLAIN),
        ({"TERM": "vt220"}, "utf_8", Signs.PLAIN),
        ({"TERM": "xterm"}, "ISO-8859-1", Signs.ASCII),
        ({"TERM": "linux"}, "ANSI_X3.4-1968", Signs.ASCII),
        ({"TERM": "linux", "TEXTUAL_DRIVER": "web"}, "ISO-8859-1", Signs.ALL),
    ],
)
def test_the_signs_follow_the_terminal(environment, encoding, wanted):
    assert signs_for(environment, encoding) is wanted


def test_a_file_gets_what_its_encoding_can_write(monkeypatch):
    monkeypatch.setenv("TERM", "dumb")
    for encoding, wanted in (("utf-8", Signs.ALL), ("latin-1", Signs.ASCII)):
        assert signs_of(io.TextIOWrapper(io.BytesIO(), encoding=encoding)) is wanted


def test_every_sign_of_a_timeline_has_a_plain_one_of_its_own():
    levels = [plain(one, Signs.ASCII) for one in (*LEVEL_GLYPHS, UNSURE_GLYPH)]
    spans = [plain(one, Signs.ASCII) for one in SPAN_GLYPHS.values()]
    marks = {*CHORE_GLYPHS.values(), *ACTION_GLYPHS.values(), CLEAR, DANGER, LOOKED, READ}
    shown = [*levels, *spans, *(plain(one, Signs.ASCII) for one in marks), "|", "'"]
    assert len(set(shown)) == len(shown)
    assert all(cell_len(plain_one) == cell_len(one) for one, plain_one in PLAIN_SIGNS.items())


@given(st.text())
def test_any_text_keeps_its_width_and_latin_letters(text):
    text = "".join(one for one in text if one.isprintable() and cell_len(one))
    bare, latin = plain(text, Signs.ASCII), plain(text, Signs.PLAIN)
    assert bare.isascii()
    assert cell_len(bare) == cell_len(latin) == sum(map(cell_len, text))
    assert plain(text, Signs.ALL) == text
    assert plain("Grüne Höhe, Ștefan's 水", Signs.PLAIN) == "Grüne Höhe, Stefan's ??"
    assert plain("Grüne Höhe", Signs.ASCII) == "Grune Hohe"


def test_a_drawn_line_stays_a_line():
    def drawn(*ends):
        cells = braille_cells(line_dots(*ends))
        return "".join(plain(cells[cell], Signs.ASCII) for cell in sorted(cells))

    assert drawn(0, 0, 5, 0) == "'''"
    assert drawn(0, 3, 5, 3) == "___"
    assert drawn(0, 1, 5, 1) == "---"
    assert drawn(0, 3, 1, 0) == "/"
    assert drawn(0, 0, 1, 3) == "\\"
    assert drawn(0, 0, 0, 7) == "||"
