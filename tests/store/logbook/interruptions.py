"""Processes stopped in the midst of restoring and of backing up, and what they leave."""

from __future__ import annotations

import multiprocessing
import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

from store.logbook.backups import Why, back_up, backups_of, digest, fault_of
from store.logbook.opening import logbook_at
from store.logbook.restoring import restore
from tests.store.logbook.durability import TODAY, check_in, make_book

MOST_SECONDS = 0.25
"""A child is stopped within this time of its beginning; a restore takes a tenth of it."""
DAMAGED = b"not a logbook any more" * 500
_ways = multiprocessing.get_context("forkserver")
_ways.set_forkserver_preload([__name__])


@dataclass(frozen=True)
class Books:
    """A logbook, two backups that differ, and what each of them says."""

    path: Path
    backups: tuple[Path, Path]
    says: frozenset[str]


def make_books(path: Path) -> Books:
    stations = make_book(path)
    backups = []
    for number in (1, 2):
        with logbook_at(path, TODAY) as logbook:
            check_in(logbook, stations, number)
        backups.append(back_up(path, Why.ASKED).path)
    return Books(path, (backups[0], backups[1]), frozenset(map(digest_of, backups)))


def digest_of(path: Path) -> str:
    with closing(sqlite3.connect(path)) as db:
        return digest(db)


def restore_by_turns(books: Books) -> None:
    for backup in books.backups:
        restore(books.path, backup)


def restore_damaged(books: Books) -> None:
    """Damage the logbook in one stroke, and bring it back."""
    broken = books.path.with_name("broken")
    broken.write_bytes(DAMAGED)
    broken.replace(books.path)
    restore(books.path, books.backups[0])


def back_up_often(books: Books) -> None:
    back_up(books.path, Why.IMPORT)


WORKS: Sequence[Callable[[Books], None]] = (restore_by_turns, restore_damaged, back_up_often)


def _work_on(work: Callable[[Books], None], books: Books, told: Connection) -> None:
    told.send("begun")
    while True:
        work(books)


def stop_midway(work: Callable[[Books], None], books: Books, luck: random.Random) -> str | None:
    """Stop a process that does `work` for ever, at a random moment; what is wrong then, if any."""
    here, there = _ways.Pipe(duplex=False)
    child = _ways.Process(target=_work_on, args=(work, books, there), daemon=True)
    child.start()
    there.close()
    here.recv()
    time.sleep(luck.random() * MOST_SECONDS)
    os.kill(child.pid or 0, signal.SIGKILL)
    child.join()
    here.close()
    return fault_in(books, may_be_damaged=work is restore_damaged)


def fault_in(books: Books, *, may_be_damaged: bool = False) -> str | None:
    """What is neither the old logbook nor the new one, or a backup that is not whole."""
    for backup in backups_of(books.path):
        if fault := fault_of(backup.path):
            return f"the backup {backup.path.name} {fault}"
        if backup.why is not Why.RESTORE and digest_of(backup.path) not in books.says:
            return f"the backup {backup.path.name} says something else"
    if not books.path.exists():
        return "the logbook is gone"
    if may_be_damaged and books.path.read_bytes() == DAMAGED:
        return None
    if fault := fault_of(books.path):
        return f"the logbook {fault}"
    return None if digest_of(books.path) in books.says else "the logbook says something else"
