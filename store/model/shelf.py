"""A shelf for results that cost time: never part of the truth, safe to throw away.

What is put there is bytes under a name. Whoever takes them checks that they are what he
wants; what is gone or spoilt is worked out again.
"""

from __future__ import annotations

import os
import secrets
import time
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import blake2b
from pathlib import Path
from typing import Protocol

MOST_BYTES = 1_000_000_000
"""All that a folder may hold; what was written longest ago goes first."""
UNFINISHED = ".part"
UNFINISHED_S = 3600.0
"""Age at which a file that was never finished is taken away."""
CHECK_BYTES = 16


class Shelf(Protocol):
    """Where results are put and taken from."""

    def take(self, name: str) -> bytes | None:
        """What was put there under a name, whole; None where there is nothing."""

    def put(self, name: str, content: bytes) -> None:
        """Put something there in place of what was there before."""

    def tidy(self) -> None:
        """Throw away what is too much."""


@dataclass
class NoShelf:
    """Nothing is kept."""

    def take(self, name: str) -> bytes | None:  # noqa: ARG002 - as the others
        return None

    def put(self, name: str, content: bytes) -> None:
        pass

    def tidy(self) -> None:
        pass


@dataclass
class Unchanged:
    """What stands on a shelf is taken, and nothing put there."""

    shelf: Shelf

    def take(self, name: str) -> bytes | None:
        return self.shelf.take(name)

    def put(self, name: str, content: bytes) -> None:
        pass

    def tidy(self) -> None:
        pass


@dataclass
class FolderShelf:
    """Files in a folder that only its owner can read, each with a sum over its content.

    A file appears under its name when it is whole, so several processes may share a folder.
    A folder that cannot be written or read keeps nothing, which costs time alone.
    """

    folder: Path
    most_bytes: int = MOST_BYTES
    _put_since: int = field(default=0, init=False)

    def take(self, name: str) -> bytes | None:
        try:
            content = (self.folder / name).read_bytes()
        except OSError:
            return None
        body = content[CHECK_BYTES:]
        return body if content[:CHECK_BYTES] == _sum(body) else None

    def put(self, name: str, content: bytes) -> None:
        part = self.folder / f"{name}-{secrets.token_hex(4)}{UNFINISHED}"
        try:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "wb") as file:
                file.write(_sum(content))
                file.write(content)
            part.replace(self.folder / name)
            self._put_since += 1
        except OSError:
            with suppress(OSError):
                part.unlink()

    def tidy(self) -> None:
        if not self._put_since:
            return
        self._put_since = 0
        with suppress(OSError):
            self._throw_away()

    def _throw_away(self) -> None:
        found = []
        for entry in os.scandir(self.folder):
            status = entry.stat(follow_symlinks=False)
            old = status.st_mtime < time.time() - UNFINISHED_S
            if entry.name.endswith(UNFINISHED) and old:
                Path(entry.path).unlink(missing_ok=True)
            else:
                found.append((status.st_mtime, status.st_size, entry.path))
        total = sum(size for _, size, _ in found)
        for _, size, path in sorted(found):
            if total <= self.most_bytes:
                return
            Path(path).unlink(missing_ok=True)
            total -= size


def _sum(content: bytes) -> bytes:
    return blake2b(content, digest_size=CHECK_BYTES).digest()
