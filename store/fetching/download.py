"""Fetch one file over HTTP, whole or not at all, from a server that may misbehave.

Python's own client suffices: what takes the code below is resuming, waiting and refusing,
which a person of any other client would have to write as well.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from http.client import HTTPException, HTTPResponse, InvalidURL
from pathlib import Path
from ssl import SSLCertVerificationError
from typing import BinaryIO
from urllib.error import HTTPError, URLError
from urllib.parse import urljoin, urlsplit
from urllib.request import HTTPRedirectHandler, Request, build_opener

from store.errors import BadFile
from store.file_out import written_to
from store.logbook.backups import PRIVATE

SCHEMES = ("https", "http")
TABLES = frozenset(
    ("text/csv", "text/plain", "application/csv", "application/octet-stream",
     "binary/octet-stream", "application/gzip", "application/x-gzip")
)  # fmt: skip
"""Content types a table or a list may come as."""
MOST_REDIRECTS = 5
REDIRECTS = (301, 302, 303, 307, 308)
MAY_PASS = (408, 425, 429, 500, 502, 503, 504)
"""Answers of a server that may be another one a little later (RFC 9110, section 15)."""
NOT_THAT_RANGE = 416
PART = 206
CHUNK_BYTES = 64 * 1024
MEGABYTE = 1_000_000


@dataclass(frozen=True)
class Patience:
    """How long and how often to try, and how much to take.

    `silence_s` is how long a server may say nothing, `whole_s` how long all tries may take;
    the waits between tries begin at `wait_s` and double, but a server may ask for more.
    """

    tries: int = 4
    wait_s: float = 2.0
    most_wait_s: float = 60.0
    silence_s: float = 20.0
    whole_s: float = 900.0
    most_bytes: int = 50 * MEGABYTE
    sleep: Callable[[float], object] = time.sleep


PATIENT = Patience()


@dataclass(frozen=True)
class Progress:
    """What has come in, of how much where the server says; `said` is news worth a line."""

    got_bytes: int
    total_bytes: int | None = None
    said: str = ""

    @property
    def amount(self) -> str:
        """What has come in, in words."""
        of_all = "" if self.total_bytes is None else f" of {self.total_bytes / MEGABYTE:.1f}"
        return f"{self.got_bytes / MEGABYTE:.1f}{of_all} MB"


class _MayPass(Exception):
    """A failure that another try may not meet.

    `wait_s` is what the server asks for; `anew` where what is there is of no use.
    """

    def __init__(self, why: str, *, wait_s: float = 0.0, anew: bool = False) -> None:
        super().__init__(why)
        self.wait_s, self.anew = wait_s, anew


class _NoRedirects(HTTPRedirectHandler):
    """Leaves every redirect to `_answer`, which knows how many and where to."""

    def redirect_request(self, *_what: object) -> None:
        return None


_opener = build_opener(_NoRedirects)


@dataclass
class _Part:
    """What there is of the file so far; `mark` names its version, to resume the same one."""

    path: Path
    file: BinaryIO
    got_bytes: int = 0
    mark: str | None = None

    def begin_again(self) -> None:
        self.file.seek(0)
        self.file.truncate()
        self.got_bytes, self.mark = 0, None


def download(address: str, target: Path, patience: Patience = PATIENT) -> Iterator[Progress]:
    """Fetch the file at `address` to the new file `target`, private to its owner.

    What was cut off is resumed where the server can (RFC 9110, section 14). A file that is
    not whole is removed.

    Raises:
        BadFile: it cannot be had, is no table, is too large, or comes too slowly.
    """
    ends = time.monotonic() + patience.whole_s
    try:
        with written_to(target):
            handle = os.open(target, os.O_CREAT | os.O_EXCL | os.O_RDWR, PRIVATE)
        with os.fdopen(handle, "wb") as file:
            yield from _tries(address, _Part(target, file), patience, ends)
    except BaseException:
        target.unlink(missing_ok=True)
        raise


def _tries(address: str, part: _Part, patience: Patience, ends: float) -> Iterator[Progress]:
    wait_s, why = patience.wait_s, ""
    for number in range(1, patience.tries + 1):
        try:
            yield from _try(address, part, patience, ends)
            return
        except _MayPass as failed:
            why = str(failed)
            if failed.anew:
                part.begin_again()
            if number < patience.tries:
                waits_s = min(max(wait_s, failed.wait_s), patience.most_wait_s)
                yield Progress(
                    part.got_bytes, said=f"{_host(address)}: {why}; again in {waits_s:.0f} s"
                )
                patience.sleep(waits_s)
                wait_s *= 2.0
    raise BadFile(
        f"{address} could not be fetched in {patience.tries} tries: {why}. Nothing was changed; "
        "see that the network is there, and try again later."
    )


def _try(address: str, part: _Part, patience: Patience, ends: float) -> Iterator[Progress]:
    with _answer(address, _range(part), patience.silence_s) as answer:
        _refuse_other_kinds(address, answer)
        if not _goes_on(answer, part):
            part.begin_again()
        total = _total(address, answer, part)
        part.mark = _mark(answer)
        if total is not None and total > patience.most_bytes:
            raise _too_large(address, patience)
        while chunk := _chunk(answer):
            if part.got_bytes + len(chunk) > patience.most_bytes:
                raise _too_large(address, patience)
            if time.monotonic() > ends:
                raise BadFile(
                    f"{address} comes too slowly: {part.got_bytes / MEGABYTE:.1f} MB in "
                    f"{patience.whole_s / 60.0:.0f} minutes. Nothing was changed; try again later."
                )
            with written_to(part.path):
                part.file.write(chunk)
            part.got_bytes += len(chunk)
            yield Progress(part.got_bytes, total)
    if total is not None and part.got_bytes != total:
        raise _MayPass(f"it was cut off after {part.got_bytes} of {total} bytes")


def _range(part: _Part) -> dict[str, str]:
    """Ask for the rest, where what is there can be told from another version."""
    if part.got_bytes and part.mark:
        return {"Range": f"bytes={part.got_bytes}-", "If-Range": part.mark}
    return {}


def _answer(address: str, headers: dict[str, str], silence_s: float) -> HTTPResponse:
    """The answer of the server, after a few redirects at most."""
    headers = {"User-Agent": "brimbook", "Accept-Encoding": "identity", **headers}
    at = address
    for _ in range(MOST_REDIRECTS + 1):
        _refuse_scheme(address, at)
        try:
            opened: HTTPResponse = _opener.open(Request(at, headers=headers), timeout=silence_s)
            return opened
        except HTTPError as error:
            with error:
                onward = error.headers.get("Location")
                if error.code not in REDIRECTS or not onward:
                    raise _refusal(address, error) from error
            at = urljoin(at, onward)
        except (ValueError, InvalidURL) as error:
            raise _no_address(at) from error
        except (OSError, HTTPException) as error:
            raise _unreachable(address, error) from error
    raise BadFile(
        f"{address} sends on to other addresses more than {MOST_REDIRECTS} times; the address may "
        "be wrong. Nothing was changed."
    )


def _refuse_scheme(address: str, at: str) -> None:
    try:
        scheme, host = urlsplit(at).scheme, urlsplit(at).hostname
    except ValueError as error:
        raise _no_address(at) from error
    if not host:
        raise _no_address(at)
    if scheme not in SCHEMES or (scheme == "http" and urlsplit(address).scheme == "https"):
        raise BadFile(
            f"{at} cannot be fetched: only https addresses, and http ones that were typed so, "
            "are. Nothing was changed; check the address."
        )


def _no_address(at: str) -> BadFile:
    return BadFile(f"{at} is no address of a file on the web; check it.")


def _refusal(address: str, error: HTTPError) -> Exception:
    told = f"the server answers {error.code} ({error.reason})"
    if error.code in MAY_PASS:
        asked = error.headers.get("Retry-After", "")
        return _MayPass(told, wait_s=float(asked) if asked.isdecimal() else 0.0)
    if error.code == NOT_THAT_RANGE:
        return _MayPass("it has changed meanwhile", anew=True)
    return BadFile(
        f"{address} cannot be fetched: {told}. Nothing was changed; check the address and the "
        "station."
    )


def _unreachable(address: str, error: Exception) -> Exception:
    reason = error.reason if isinstance(error, URLError) else error
    if isinstance(reason, SSLCertVerificationError):
        return BadFile(
            f"{_host(address)} does not prove that it is who it says ({reason.verify_message}). "
            "Nothing was changed; sign in to the network you are on, or check the clock."
        )
    if isinstance(reason, TimeoutError):
        return _MayPass("nothing came in time")
    return _MayPass((reason.strerror if isinstance(reason, OSError) else None) or f"{reason}")


def _refuse_other_kinds(address: str, answer: HTTPResponse) -> None:
    kind = answer.headers.get_content_type()
    if kind not in TABLES:
        raise BadFile(
            f"{address} answers with {kind}, which is no table: a page to sign in to the network, "
            "perhaps, or a wrong address. Nothing was changed."
        )


def _goes_on(answer: HTTPResponse, part: _Part) -> bool:
    """Whether the answer is the rest of what is there, and not all of it anew."""
    if answer.status != PART:
        return False
    rest = f"bytes {part.got_bytes}-"
    if part.got_bytes and (answer.headers.get("Content-Range") or "").startswith(rest):
        return True
    raise _MayPass("it sent another part than was asked for", anew=True)


def _total(address: str, answer: HTTPResponse, part: _Part) -> int | None:
    """Bytes of the whole file; None where its end is told by the chunks it comes in."""
    if answer.length is not None:
        return part.got_bytes + answer.length
    if (answer.headers.get("Transfer-Encoding") or "").casefold() == "chunked":
        return None
    raise BadFile(
        f"{address} does not say how long the file is, so nobody could tell whether all of it "
        "came. Nothing was changed; try another address."
    )


def _mark(answer: HTTPResponse) -> str | None:
    """What names this version of the file: a strong tag, else when it was changed last."""
    tag = answer.headers.get("ETag")
    if tag and not tag.startswith("W/"):
        return tag
    return answer.headers.get("Last-Modified")


def _chunk(answer: HTTPResponse) -> bytes:
    try:
        return answer.read1(CHUNK_BYTES)
    except TimeoutError as error:
        raise _MayPass("it stopped sending") from error
    except (OSError, HTTPException) as error:
        raise _MayPass(f"it was cut off ({error})") from error


def _too_large(address: str, patience: Patience) -> BadFile:
    return BadFile(
        f"{address} is more than the {patience.most_bytes / MEGABYTE:.0f} MB that are taken; it "
        "is not the file of one station. Nothing was changed; check the address."
    )


def _host(address: str) -> str:
    return urlsplit(address).netloc
