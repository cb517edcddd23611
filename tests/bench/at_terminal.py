"""A program at a terminal of 80 by 24 characters: when what it shows is there, and at what cost."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import monotonic

LONGEST_WAIT_S = 120.0
_CODES = re.compile(rb"\x1b\[[0-9;:?]*[a-zA-Z]")
"""What moves the cursor and sets colours (ECMA-48, control sequences)."""


@dataclass(frozen=True)
class Wait:
    """A text to come up on screen, by a name, and the keys to press when it has."""

    name: str
    text: str
    then: str = ""


@dataclass(frozen=True)
class Took:
    """Seconds since a process was started: by the clock, and of processor in all its threads."""

    wall_s: float
    cpu_s: float


def at_terminal(
    command: Sequence[str], waits: Sequence[Wait], env: Mapping[str, str]
) -> dict[str, Took]:
    """Start Python on a command and wait for one text after the other, then end it.

    A text that came with the one before, in the same drawing, is there at the same time.
    """
    began = monotonic()
    process, screen = pty.fork()
    if process == 0:
        os.execve(
            sys.executable, [sys.executable, *command], dict(env) | {"TERM": "xterm-256color"}
        )
    fcntl.ioctl(screen, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    drawn, found = b"", {}
    try:
        for wait in waits:
            while wait.text.encode() not in _CODES.sub(b"", drawn):
                if not select.select([screen], [], [], LONGEST_WAIT_S)[0]:
                    raise TimeoutError(f"{wait.text!r} never came up")
                drawn += os.read(screen, 1 << 16)
            found[wait.name] = Took(monotonic() - began, _cpu_s(process))
            if wait.then:
                drawn = b""
                os.write(screen, wait.then.encode())
    finally:
        os.kill(process, signal.SIGKILL)
        os.waitpid(process, 0)
        os.close(screen)
    return found


def _cpu_s(process: int) -> float:
    """Processor time of all threads, as Linux counts it."""
    threads = Path(f"/proc/{process}/task").glob("*/schedstat")
    return sum(int(thread.read_text().split()[0]) for thread in threads) / 1e9
