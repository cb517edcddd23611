"""Pictures kept elsewhere: the checksum of a file, and whether it is still the same."""

from __future__ import annotations

import hashlib
from enum import StrEnum
from pathlib import Path

from store.errors import BadFile
from store.records import Photo


class PhotoState(StrEnum):
    SAME = "there"
    MISSING = "file missing"
    CHANGED = "file changed since"


def photo_checksum(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal (FIPS 180-4).

    Raises:
        BadFile: there is no such file, or it cannot be read.
    """
    try:
        if not path.is_file():
            raise BadFile(f"There is no picture {path}; type another path, or save without it.")
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise BadFile(
            f"The picture {path} cannot be read ({error.strerror}); save without it, or type "
            "another path."
        ) from error


def photo_state(photo: Photo) -> PhotoState:
    """Whether the file of an entry is there and as it was; a missing one is no error."""
    try:
        same = photo_checksum(Path(photo.path)) == photo.sha256
    except (BadFile, ValueError, OSError):
        return PhotoState.MISSING
    return PhotoState.SAME if same else PhotoState.CHANGED
