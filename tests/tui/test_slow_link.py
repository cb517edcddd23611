"""A terminal at the far end of a slow line: what is drawn comes late, what is pressed counts."""

import fcntl
import os
import pty
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
BYTES, PAUSE_S = 400, 0.02
"""What the line takes at once, and how long it rests then: 20 kB a second."""
LONGEST_S = 60.0


def read_slowly(terminal: int, until: bytes, seen: bytearray) -> None:
    """Read as the line lets it, until a text of the screen has come."""
    begun, end = len(seen), time.monotonic() + LONGEST_S
    while until not in seen[begun:]:
        assert time.monotonic() < end, bytes(seen[-2000:])
        time.sleep(PAUSE_S)
        seen += os.read(terminal, BYTES)


def test_over_a_slow_line_every_key_counts_and_it_ends(book):
    terminal, far_end = pty.openpty()
    fcntl.ioctl(far_end, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    command = [sys.executable, "-m", "tui", str(book.path), "--today", str(book.today)]
    environment = {**os.environ, "TERM": "xterm-256color", "LC_ALL": "C.UTF-8"}
    process = subprocess.Popen(
        command, cwd=ROOT, env=environment, stdin=far_end, stdout=far_end, stderr=far_end
    )
    os.close(far_end)
    seen = bytearray()
    try:
        read_slowly(terminal, b"weather to", seen)
        os.write(terminal, b"tq")
        read_slowly(terminal, b"how full", seen)
        read_slowly(terminal, b"\x1b[?1049l", seen)
        assert process.wait(LONGEST_S) == 0
    finally:
        process.kill()
        process.wait()
        os.close(terminal)
