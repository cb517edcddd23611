"""What was typed and not saved yet, kept in a file of its own beside the logbook.

It is no part of the logbook and safe to delete. Every running program has one such file,
which is there only while something is unsaved, and holds a lock on it for as long as it
lives (`flock`, which the system drops with the process, however it ends). A file nobody
holds was left behind, and the next program to open the logbook takes over what is in it.
"""

from __future__ import annotations

import fcntl
import json
import os
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex
from typing import Any

from store.errors import BadValue, Refused
from store.logbook.backups import PRIVATE
from store.plain_data import from_plain, to_plain

PART, DAMAGED = ".part", ".damaged"
CUT_OFF_AFTER_S = 60.0
"""A file half written for so long was cut off, and is removed."""


@dataclass(frozen=True)
class Unsaved:
    """Something entered on a screen: `typed` is plain data that only that screen reads.

    `where` names the screen, `about` the ids it was opened on with blanks between, that of a
    station or tract first, and `title` tells a person.
    """

    where: str
    about: str
    title: str
    typed: Mapping[str, Any]


@dataclass(frozen=True)
class LeftBehind:
    """What programs that ended left unsaved, and a sentence for each file that is damaged."""

    unsaved: tuple[Unsaved, ...] = ()
    told: tuple[str, ...] = ()


class UnsavedFile:
    """The file of one running program; `keep` writes it, and removes it when all is saved."""

    def __init__(self, logbook: Path) -> None:
        self._stem = f".{logbook.name}.unsaved-"
        self._folder = logbook.parent
        self.path = self._folder / f"{self._stem}{os.getpid()}-{token_hex(4)}.json"
        self._held: int | None = None
        self._kept: tuple[Unsaved, ...] = ()

    def keep(self, unsaved: Sequence[Unsaved]) -> None:
        """Have exactly this on disk when it returns; nothing is done where it is already.

        Raises:
            Refused: it cannot be written.
        """
        wanted = tuple(unsaved)
        if wanted == self._kept:
            return
        try:
            if wanted:
                self._write(json.dumps([to_plain(one) for one in wanted]))
            else:
                self.path.unlink(missing_ok=True)
                self.let_go()
        except OSError as error:
            raise Refused(
                f"What you type cannot be kept until it is saved ({error.strerror}); save often."
            ) from error
        self._kept = wanted

    def _write(self, text: str) -> None:
        """Put a new file, held from its first moment, in the place of the old one."""
        part = self.path.with_name(self.path.name + PART)
        held = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_CLOEXEC, PRIVATE)
        try:
            fcntl.flock(held, fcntl.LOCK_EX)
            rest = text.encode()
            while rest:
                rest = rest[os.write(held, rest) :]
            os.fsync(held)
            part.replace(self.path)
        except OSError:
            os.close(held)
            part.unlink(missing_ok=True)
            raise
        self.let_go()
        self._held = held

    def let_go(self) -> None:
        """Hold the file no longer: what is in it is for the next program."""
        if self._held is not None:
            os.close(self._held)
            self._held = None

    def take_over(self) -> LeftBehind:
        """Read what ended programs left, into the file of this one, and remove theirs.

        Raises:
            Refused: it cannot be written here; theirs are left as they are.
        """
        found: list[Unsaved] = []
        told: list[str] = []
        held: list[tuple[Path, int]] = []
        try:
            for path in sorted(self._folder.iterdir()):
                ours = path.name.startswith(self._stem) and path.suffix in (".json", PART)
                if ours and (lock := _hold(path)) is not None:
                    held.append((path, lock))
            for path, _ in held:
                if path.suffix == PART:
                    continue
                try:
                    found += _read(path)
                except BadValue as error:
                    aside = path.with_name(path.name + DAMAGED)
                    path.rename(aside)
                    told.append(f"Unsaved entries were left, but {error}; set aside as {aside}.")
            found = list({json.dumps(to_plain(one)): one for one in found}.values())
            self.keep(found)
            for path, _ in held:
                if path.suffix != PART or _is_old(path):
                    path.unlink(missing_ok=True)
        except OSError as error:
            raise Refused(f"Unsaved entries cannot be read ({error.strerror}).") from error
        finally:
            for _, lock in held:
                os.close(lock)
        return LeftBehind(tuple(found), tuple(told))


def _hold(path: Path) -> int | None:
    """A lock on a file that no living program holds; None where one does."""
    with suppress(OSError):
        lock = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(lock)
        else:
            return lock
    return None


def _is_old(part: Path) -> bool:
    try:
        return time.time() - part.stat().st_mtime > CUT_OFF_AFTER_S
    except FileNotFoundError:
        return False


def _read(path: Path) -> list[Unsaved]:
    """Raises: BadValue, OSError."""
    try:
        entries = json.loads(path.read_bytes())
        if not isinstance(entries, list):
            raise TypeError("no list")
    except (ValueError, TypeError) as error:
        raise BadValue(f"the file they are in is damaged ({error})") from error
    return [from_plain(Unsaved, one) for one in entries]
