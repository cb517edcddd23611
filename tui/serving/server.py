"""Serves the interface to a browser: on this machine alone, unless another address is named.

The page is our own, so that nothing is fetched from elsewhere.
"""

from __future__ import annotations

import ipaddress
import shlex
import socket
import sys
from datetime import date
from pathlib import Path

from store.errors import BadValue

LOOPBACK = "127.0.0.1"
TEMPLATES = Path(__file__).parent / "templates"


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach an address."""
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def open_to_others(host: str) -> str:
    """The warning for an address that others can reach."""
    return (
        f"Everybody who can reach {host} can read and change this logbook: there is no password "
        "and nothing is encrypted. Use it in a network you trust, and stop it with Ctrl+C."
    )


def serve_logbook(path: Path, host: str, port: int, today: date | None) -> None:
    """Serve a logbook until Ctrl+C; each tab has an interface of its own.

    Raises:
        BadValue: the extra is not installed, or the address cannot be used.
    """
    try:
        from textual_serve.server import Server
    except ImportError as error:
        raise BadValue(
            "A browser tab needs one more package; install it with: pip install 'brimbook[serve]'."
        ) from error
    _refuse_taken(host, port)
    day = [] if today is None else ["--today", today.isoformat()]
    command = shlex.join([sys.executable, "-m", "tui", str(path.absolute()), *day])
    Server(command, host, port, title="Brimbook", templates_path=TEMPLATES).serve()


def _refuse_taken(host: str, port: int) -> None:
    try:
        family, *_, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        with socket.socket(family) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
    except (OSError, OverflowError) as error:
        why = getattr(error, "strerror", None) or error
        raise BadValue(f"{host}, port {port} cannot be used ({why}); choose another.") from error
