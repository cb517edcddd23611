"""A server on this machine that answers as it is told to, well or badly."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

Answer = Callable[[BaseHTTPRequestHandler, int], None]
"""Answers a request; the number says how often that path was asked for before."""


@dataclass
class Server:
    """`answers` by path; `asked` has the path and the Range of every request."""

    address: str = ""
    answers: dict[str, Answer] = field(default_factory=dict)
    asked: list[tuple[str, str | None]] = field(default_factory=list)

    def at(self, path: str, answer: Answer) -> str:
        self.answers[path] = answer
        return self.address + path


@contextmanager
def serving() -> Iterator[Server]:
    server = Server()

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def do_GET(self) -> None:
            before = sum(path == self.path for path, _ in server.asked)
            server.asked.append((self.path, self.headers.get("Range")))
            self.close_connection = True
            server.answers.get(self.path, status(404))(self, before)

        def log_message(self, *_what: object) -> None:
            """Say nothing."""

    httpd = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    httpd.daemon_threads = True
    server.address = f"http://127.0.0.1:{httpd.server_port}"
    thread = Thread(target=httpd.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        httpd.shutdown()
        httpd.server_close()
        thread.join()


def head(to: BaseHTTPRequestHandler, code: int, length: int | None, **fields: str) -> None:
    to.send_response(code)
    given = {"Content-Type": "text/csv", **{k.replace("_", "-"): v for k, v in fields.items()}}
    for name, value in given.items():
        to.send_header(name, value)
    if length is not None:
        to.send_header("Content-Length", str(length))
    to.end_headers()


def whole(content: bytes, **fields: str) -> Answer:
    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, 200, len(content), **fields)
        to.wfile.write(content)

    return answer


def status(code: int, **fields: str) -> Answer:
    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, code, 0, **fields)

    return answer


def first_then(*answers: Answer) -> Answer:
    """The answers in their order; the last one from then on."""

    def answer(to: BaseHTTPRequestHandler, before: int) -> None:
        answers[min(before, len(answers) - 1)](to, before)

    return answer


def cut_off(content: bytes, after: int, **fields: str) -> Answer:
    """Say how long the whole is, and send only the beginning."""

    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, 200, len(content), **fields)
        to.wfile.write(content[:after])

    return answer


def rest(content: bytes, start: int, **fields: str) -> Answer:
    """The part of the content from a byte on."""

    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        part = f"bytes {start}-{len(content) - 1}/{len(content)}"
        head(to, 206, len(content) - start, Content_Range=part, **fields)
        to.wfile.write(content[start:])

    return answer


def chunked(content: bytes, *, end: bool) -> Answer:
    """Send in one chunk, with or without the empty one that says it is all."""

    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, 200, None, Transfer_Encoding="chunked")
        to.wfile.write(b"%x\r\n%s\r\n" % (len(content), content))
        if end:
            to.wfile.write(b"0\r\n\r\n")

    return answer


def without_length(content: bytes) -> Answer:
    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, 200, None)
        to.wfile.write(content)

    return answer


def slow(content: bytes, every_s: float) -> Answer:
    """One byte at a time; the reader may have gone meanwhile."""

    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, 200, len(content))
        try:
            for byte in content:
                to.wfile.write(bytes([byte]))
                to.wfile.flush()
                time.sleep(every_s)
        except OSError:
            return

    return answer


def endless() -> Answer:
    """Chunks for ever, until the reader goes."""

    def answer(to: BaseHTTPRequestHandler, _before: int) -> None:
        head(to, 200, None, Transfer_Encoding="chunked")
        block = b"x" * 65536
        try:
            while True:
                to.wfile.write(b"%x\r\n%s\r\n" % (len(block), block))
        except OSError:
            return

    return answer
