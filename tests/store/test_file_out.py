"""A file that cannot be written is told of in one way."""

from pathlib import Path

import pytest

from store.errors import BadFile, Refused
from store.file_out import written_to


@pytest.mark.parametrize("name", ["gone/page.html", ".", "nul\0.html"])
def test_why_it_cannot_be_written_is_said(tmp_path, name):
    out = tmp_path / name
    with pytest.raises(BadFile, match=r"cannot be written: .*; choose another\."), written_to(out):
        out.write_text("a page")


def test_a_sentence_already_said_is_left_as_it_is():
    with pytest.raises(Refused, match="not now"), written_to(Path("page.html")):
        raise Refused("not now")
