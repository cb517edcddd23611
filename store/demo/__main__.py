"""Rebuild the demo with one command: `python -m store.demo demo.db`."""

from __future__ import annotations

import sys
from pathlib import Path

from store.demo.build import rebuild_demo


def main(arguments: list[str]) -> int:
    if len(arguments) != 1:
        print("Name the file to build: python -m store.demo demo.db", file=sys.stderr)
        return 2
    path = Path(arguments[0])
    try:
        rebuild_demo(path)
    except OSError as error:
        print(f"{path} cannot be built: {error.strerror}; choose another folder.", file=sys.stderr)
        return 1
    print(f"Built {path}, {path.stat().st_size / 1024:.0f} KiB.")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
