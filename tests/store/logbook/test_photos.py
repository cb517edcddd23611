"""Pictures are kept by path and checksum; a missing or changed file is said."""

from pathlib import Path

import pytest

from store.errors import BadFile
from store.logbook.photos import PhotoState, photo_checksum, photo_state
from store.records import Photo

ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
"""SHA-256 of the three bytes abc (FIPS 180-2, Appendix B.1)."""


def test_the_checksum_is_the_published_one(tmp_path: Path) -> None:
    (tmp_path / "p.jpg").write_bytes(b"abc")
    assert photo_checksum(tmp_path / "p.jpg") == ABC


def test_there_changed_and_missing(tmp_path: Path) -> None:
    path = tmp_path / "p.jpg"
    photo = Photo("station", str(path), ABC)
    path.write_bytes(b"abc")
    assert photo_state(photo) is PhotoState.SAME
    path.write_bytes(b"abcd")
    assert photo_state(photo) is PhotoState.CHANGED
    path.unlink()
    assert photo_state(photo) is PhotoState.MISSING


@pytest.mark.parametrize("path", ["", "no\0path", "x" * 5000])
def test_no_path_breaks_it(path: str) -> None:
    assert photo_state(Photo("station", path, ABC)) is PhotoState.MISSING


def test_no_file_is_a_sentence(tmp_path: Path) -> None:
    for wrong in (tmp_path / "no.jpg", tmp_path):
        with pytest.raises(BadFile, match="There is no picture"):
            photo_checksum(wrong)
