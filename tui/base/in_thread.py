"""Work done in a thread: what comes of it is shown, unless it comes too late."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterator
from itertools import islice
from typing import TypeVar

from textual.worker import Worker

from store.errors import BrimbookError
from tui.base.open_screens import Node, is_open

T = TypeVar("T")


def work_out(
    node: Node,
    name: str,
    work: Callable[[], T],
    show: Callable[[T], object],
    fail: Callable[[BrimbookError], object],
    wanted: Callable[[], bool] = lambda: True,
    *,
    after_s: float = 0.0,
) -> Worker[None]:
    """Do work that has one answer as `work_through` does work with many."""

    def once() -> Iterator[T]:
        yield work()

    return work_through(node, name, once(), show, fail, wanted, after_s=after_s)


def work_through(
    node: Node,
    name: str,
    answers: Iterator[T],
    show: Callable[[T], object],
    fail: Callable[[BrimbookError], object],
    wanted: Callable[[], bool] = lambda: True,
    *,
    after_s: float = 0.0,
) -> Worker[None]:
    """Have `answers` worked out one by one in a thread, and `show` each as it comes.

    Newer work of that name on the same node ends this, and within `after_s` nothing of it
    has begun. An answer, or an error for `fail`,
    is dropped when the node is left or the question behind it is not `wanted` any more.
    Where `show` is a coroutine, the next answer is begun when it is done.
    """

    async def run() -> None:
        if after_s:
            await asyncio.sleep(after_s)
        while True:
            try:
                found = await asyncio.to_thread(lambda: list(islice(answers, 1)))
            except BrimbookError as error:
                if is_open(node) and wanted():
                    fail(error)
                return
            if not (found and is_open(node) and wanted()):
                return
            shown = show(found[0])
            if asyncio.iscoroutine(shown):
                await shown

    return node.run_worker(run, name=name, group=name, exclusive=True)
