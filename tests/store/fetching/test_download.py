"""A file comes whole or not at all, however the server behaves."""

import gzip
import stat
from dataclasses import replace

import pytest

from store.errors import BadFile
from store.fetching.download import Patience, download
from store.fetching.unpack import unpack
from tests.store.fetching.server import (
    chunked,
    cut_off,
    endless,
    first_then,
    rest,
    serving,
    slow,
    status,
    whole,
    without_length,
)

CONTENT = b"day,rain_mm\n" + b"2025-07-01,1\n" * 2000


@pytest.fixture(scope="module")
def one_server():
    with serving() as server:
        yield server


@pytest.fixture
def server(one_server):
    one_server.answers.clear()
    one_server.asked.clear()
    return one_server


@pytest.fixture
def waits():
    return []


@pytest.fixture
def patience(waits):
    return Patience(sleep=waits.append, silence_s=0.2, whole_s=5.0, most_bytes=100_000)


def test_it_comes_whole_and_private(server, patience, tmp_path):
    target = tmp_path / "file.csv"
    *_, last = download(server.at("/f", whole(CONTENT)), target, patience)
    assert target.read_bytes() == CONTENT
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert (last.got_bytes, last.total_bytes) == (len(CONTENT), len(CONTENT))


TAG = {"ETag": '"one"'}


@pytest.mark.parametrize(
    ("answers", "asked"),
    [
        ((status(500), status(503), whole(CONTENT)), [None, None, None]),
        ((cut_off(CONTENT, 100, **TAG), rest(CONTENT, 100, **TAG)), [None, "bytes=100-"]),
        ((cut_off(CONTENT, 100, **TAG), whole(CONTENT)), [None, "bytes=100-"]),
        ((cut_off(CONTENT, 100, **TAG), rest(CONTENT, 50), whole(CONTENT)),
         [None, "bytes=100-", None]),
        ((cut_off(CONTENT, 100, ETag='W/"weak"'), whole(CONTENT)), [None, None]),
        ((cut_off(CONTENT, 100, **TAG), status(416), whole(CONTENT)),
         [None, "bytes=100-", None]),
        ((chunked(CONTENT, end=False), chunked(CONTENT, end=True)), [None, None]),
        ((rest(CONTENT, 0), whole(CONTENT)), [None, None]),
    ],
    ids=["fails at first", "resumed", "resumed by all of it", "another part", "weak tag",
         "shorter now", "cut-off chunks", "a part unasked"],
)  # fmt: skip
def test_what_may_pass_is_tried_again(server, patience, waits, tmp_path, answers, asked):
    target = tmp_path / "file.csv"
    steps = list(download(server.at("/f", first_then(*answers)), target, patience))
    assert target.read_bytes() == CONTENT
    assert [wanted for _, wanted in server.asked] == asked
    assert waits == [2.0 * 2**number for number in range(len(asked) - 1)]
    assert sum(bool(step.said) for step in steps) == len(waits)


def test_a_server_may_ask_for_a_longer_wait_but_not_for_ever(server, patience, waits, tmp_path):
    answers = status(503, Retry_After="7"), status(429, Retry_After="99999"), whole(CONTENT)
    list(download(server.at("/f", first_then(*answers)), tmp_path / "f", patience))
    assert waits == [7.0, patience.most_wait_s]


@pytest.mark.parametrize(
    ("answer", "why", "tries"),
    [
        (status(500), "4 tries: the server answers 500", 4),
        (cut_off(CONTENT, 100), "cut off after 100 of", 4),
        (slow(b"x" * 100, 0.5), "stopped sending", 4),
        (chunked(CONTENT, end=False), "cut off", 4),
        (status(404), "answers 404", 1),
        (whole(CONTENT, Content_Type="text/html"), "text/html, which is no table", 1),
        (without_length(CONTENT), "does not say how long", 1),
        (status(302, Location="/f"), "more than 5 times", 6),
        (status(302, Location="ftp://127.0.0.1/f"), "only https addresses", 1),
        (status(302, Location="file:///etc/hostname"), "only https|no address", 1),
        (cut_off(b"x" * 200_000, 100), r"more than the 0 MB", 1),
        (endless(), "more than the 0 MB", 1),
    ],
    ids=["500", "cut off", "slow", "chunks cut off", "404", "a page", "no length", "a circle",
         "to ftp", "to a file", "huge", "endless"],
)  # fmt: skip
def test_what_cannot_be_had_leaves_nothing(server, patience, tmp_path, answer, why, tries):
    with pytest.raises(BadFile, match=why):
        list(download(server.at("/f", answer), tmp_path / "file.csv", patience))
    assert len(server.asked) == tries
    assert list(tmp_path.iterdir()) == []


def test_dripping_for_ever_is_given_up(server, patience, tmp_path):
    hasty = replace(patience, whole_s=0.3)
    with pytest.raises(BadFile, match="too slowly"):
        list(download(server.at("/f", slow(CONTENT, 0.05)), tmp_path / "file.csv", hasty))
    assert len(server.asked) == 1


def test_left_midway_leaves_nothing(server, patience, tmp_path):
    steps = download(server.at("/f", slow(CONTENT, 0.01)), tmp_path / "file.csv", patience)
    next(steps)
    assert list(tmp_path.iterdir())
    steps.close()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("address", ["file:///etc/hostname", "ftp://127.0.0.1/x", "http://[", "x",
                                     "http:///x", "http://127.0.0.1:1/a b"])  # fmt: skip
def test_only_the_web_is_fetched_from(patience, tmp_path, address):
    with pytest.raises(BadFile, match=r"only https|no address"):
        list(download(address, tmp_path / "file.csv", patience))


def test_nobody_there_is_told(patience, waits, tmp_path):
    with pytest.raises(BadFile, match=r"refused.*see that the network is there"):
        list(download("http://127.0.0.1:1/x", tmp_path / "file.csv", patience))
    assert len(waits) == 3


def test_unpacking(tmp_path):
    packed = tmp_path / "file.csv"
    packed.write_bytes(gzip.compress(CONTENT))
    unpack(packed, 100_000)
    unpack(packed, 100)
    assert packed.read_bytes() == CONTENT, "what is not packed is left as it is"
    for content, why in ((gzip.compress(CONTENT), "unpacked"), (gzip.compress(CONTENT)[:-9], "dam"),
                         (b"\x1f\x8bnot at all", "damaged")):  # fmt: skip
        packed.write_bytes(content)
        with pytest.raises(BadFile, match=why):
            unpack(packed, 1000 if why == "unpacked" else 100_000)
    assert [one.name for one in tmp_path.iterdir()] == ["file.csv"]
