"""Unpack what came packed with gzip, within a limit."""

from __future__ import annotations

import gzip
import zlib
from pathlib import Path

from store.errors import BadFile

GZIP_MAGIC = b"\x1f\x8b"
CHUNK_BYTES = 1 << 20


def unpack(path: Path, most_bytes: int) -> None:
    """Put a packed file in its place unpacked; any other stays as it is.

    Raises:
        BadFile: it is damaged, cut off, or more than `most_bytes`.
    """
    with path.open("rb") as file:
        if file.read(len(GZIP_MAGIC)) != GZIP_MAGIC:
            return
    loose = path.with_name(f"{path.name}.unpacked")
    try:
        with gzip.open(path) as packed, loose.open("xb") as out:
            while chunk := packed.read(CHUNK_BYTES):
                if out.tell() + len(chunk) > most_bytes:
                    raise BadFile(
                        f"{path.name} is more than {most_bytes / 1e6:.0f} MB unpacked; it is not "
                        "the file of one station."
                    )
                out.write(chunk)
        loose.replace(path)
    except (EOFError, gzip.BadGzipFile, zlib.error) as error:
        raise BadFile(f"{path.name} came damaged ({error}); fetch it again.") from error
    finally:
        loose.unlink(missing_ok=True)
