"""What is kept between one start and the next gives the numbers of a first run, to the bit."""

import random
from dataclasses import fields, replace
from datetime import timedelta

import numpy as np
import pytest

from store.model import following, kept_run
from store.model.assimilation import FilterCache
from store.model.known_levels import Levels
from store.model.levels import levels_of
from store.model.shelf import FolderShelf
from store.model.snapshot import supposing
from store.records import Chore, Draft, Reading, Sighting
from store.vocabulary import ChoreKind, UseSeen
from tests.bench.long_logbook import LAST_DAY, make_long_logbook, snapshot_of


@pytest.fixture(scope="module")
def path(tmp_path_factory):
    made = tmp_path_factory.mktemp("kept") / "book.db"
    make_long_logbook(made, stations=3, years=2, gaps=4)
    return made


@pytest.fixture(scope="module")
def snapshot(path):
    return snapshot_of(path, LAST_DAY)


@pytest.fixture(scope="module")
def kept_on_disk(snapshot, tmp_path_factory):
    shelf = FolderShelf(tmp_path_factory.mktemp("shelf"))
    levels_of(snapshot, FilterCache(shelf=shelf))
    return shelf


@pytest.fixture
def shelf(kept_on_disk, tmp_path):
    """A shelf of its own that holds the levels of the snapshot."""
    for file in kept_on_disk.folder.iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    return FolderShelf(tmp_path)


@pytest.fixture
def days_followed(monkeypatch):
    """How many days each call of `follow` went through, with its stations."""
    asked = []
    real = following.follow

    def follow(ids, sites, forcing, *rest, **more):
        asked.append((forcing.days, tuple(ids)))
        return real(ids, sites, forcing, *rest, **more)

    monkeypatch.setattr(following, "follow", follow)
    return asked


def assert_same(one, other):
    """To the last bit, in everything but what a run no longer needs."""
    if isinstance(one, np.ndarray):
        assert np.array_equal(one, other)
    elif isinstance(one, dict):
        assert one.keys() == other.keys()
        for key in one:
            assert_same(one[key], other[key])
    elif isinstance(one, tuple):
        assert len(one) == len(other)
        for mine, theirs in zip(one, other, strict=True):
            assert_same(mine, theirs)
    elif isinstance(one, Levels):
        assert_same(dict(one.followed), dict(other.followed))
        assert_same(dict(one.by_station), dict(other.by_station))
    elif hasattr(one, "__dataclass_fields__"):
        for field in fields(one):
            if field.name not in ("states", "earlier_l", "station"):
                assert_same(getattr(one, field.name), getattr(other, field.name))
    else:
        assert one == other


def warm(snapshot, shelf):
    return levels_of(snapshot, FilterCache(shelf=shelf))


def a_station(snapshot, number=0):
    return list(snapshot.places.stations)[number]


def test_with_nothing_new_nobody_is_followed(snapshot, shelf, days_followed):
    again = warm(snapshot, shelf)
    assert not days_followed
    assert_same(again, levels_of(snapshot))


def test_an_entry_that_leaves_the_water_alone_follows_nobody(snapshot, shelf, days_followed):
    station_id = a_station(snapshot)
    raked = supposing(snapshot, station_id, [Draft(LAST_DAY, Chore(station_id, ChoreKind.RAKE))])
    warm(raked, shelf)
    assert not days_followed


def test_a_new_reading_goes_on_from_lately(snapshot, shelf, days_followed):
    station_id = a_station(snapshot)
    read = supposing(snapshot, station_id, [Draft(LAST_DAY, Reading(station_id, 300.0))])
    answer = warm(read, shelf)
    assert {ids for _, ids in days_followed} == {(station_id,)}
    assert sum(days for days, _ in days_followed) <= 64
    assert_same(answer, levels_of(read))


def test_a_level_seen_after_the_work_is_not_one_seen_on_coming(snapshot, shelf):
    station_id = a_station(snapshot)
    for after_work in (False, True):
        drafts = [
            Draft(LAST_DAY, Chore(station_id, ChoreKind.FILL, 100.0)),
            Draft(LAST_DAY, Reading(station_id, 300.0, after_work=after_work)),
        ]
        read = supposing(snapshot, station_id, drafts)
        assert_same(warm(read, shelf), levels_of(read))


def test_a_new_day_goes_on_from_yesterday(path, shelf, days_followed):
    tomorrow = snapshot_of(path, LAST_DAY + timedelta(days=1))
    answer = warm(tomorrow, shelf)
    assert sum(days for days, _ in days_followed) <= 8, "a day without weather is a gap"
    assert_same(answer, levels_of(tomorrow))


def test_going_on_day_after_day_is_a_run_from_the_first(path, tmp_path):
    shelf, start = FolderShelf(tmp_path), LAST_DAY - timedelta(days=40)
    for day in (0, 1, 2, 9, 30, 40):
        snapshot = snapshot_of(path, start + timedelta(days=day))
        assert_same(warm(snapshot, shelf), levels_of(snapshot))


def entries_of(luck, station_id):
    day = LAST_DAY - timedelta(days=luck.randrange(0, 500))
    made = [
        Reading(station_id, below_rim_mm=float(luck.randrange(10, 700))),
        Chore(station_id, ChoreKind.FILL, 80.0),
        Chore(station_id, ChoreKind.COVER),
        Sighting(station_id, luck.choice(tuple(UseSeen))),
    ]
    return Draft(day, luck.choice(made))


@pytest.mark.parametrize("seed", range(3))
def test_entries_in_the_middle_and_withdrawn_ones(snapshot, shelf, seed):
    """Added and taken out again anywhere, on the same shelf, in any order."""
    luck, now = random.Random(seed), snapshot
    for _ in range(4):
        station_id = a_station(snapshot, luck.randrange(3))
        log = list(now.log[station_id])
        if luck.random() < 0.4:
            del log[luck.randrange(1, len(log))]
            now = replace(now, log={**now.log, station_id: tuple(log)})
        else:
            now = supposing(now, station_id, [entries_of(luck, station_id)])
        assert_same(warm(now, shelf), levels_of(now))


def test_what_is_only_supposed_is_not_kept(snapshot, shelf):
    station_id = a_station(snapshot)
    before = {file.name: file.read_bytes() for file in shelf.folder.iterdir()}
    read = supposing(snapshot, station_id, [Draft(LAST_DAY, Reading(station_id, 300.0))])
    answer = levels_of(read, FilterCache(shelf=shelf).to_try())
    assert_same(answer, levels_of(read))
    assert before == {file.name: file.read_bytes() for file in shelf.folder.iterdir()}


@pytest.mark.parametrize("part", ["", "stops"])
@pytest.mark.parametrize("harm", ["gone", "cut short", "a bit turned", "empty", "other code"])
def test_what_is_spoilt_is_made_again(path, snapshot, shelf, harm, part, monkeypatch):
    """The run itself, or the stops on its way, which a new day asks for."""
    file = next(one for one in sorted(shelf.folder.iterdir()) if part in one.name)
    content = file.read_bytes()
    if harm == "gone":
        file.unlink()
    elif harm == "other code":
        following.code_version.cache_clear()
        monkeypatch.setattr(following, "code_version", lambda: b"older")
    else:
        turned = content[:9000] + bytes([content[9000] ^ 1]) + content[9001:]
        spoilt = {"cut short": content[:-100], "empty": b"", "a bit turned": turned}
        file.write_bytes(spoilt[harm])
    wanted = snapshot_of(path, LAST_DAY + timedelta(days=1)) if part else snapshot
    assert_same(warm(wanted, shelf), levels_of(wanted))
    assert len(FolderShelf(shelf.folder).take(file.name) or b"") > 10_000
    if harm != "other code" and not part:
        assert file.read_bytes() == content


def test_a_whole_file_of_something_else_is_made_again(snapshot, shelf, days_followed):
    one, other, third = sorted(f for f in shelf.folder.iterdir() if "-" not in f.name)
    shelf.put(one.name, b"\x02\x00\x00\x00\x00\x00\x00\x00{}")
    other.write_bytes(third.read_bytes())
    answer = warm(snapshot, shelf)
    assert days_followed
    assert_same(answer, levels_of(snapshot))


def test_bytes_and_back(snapshot):
    (run, *_) = levels_of(snapshot).followed.values()
    kept = kept_run.KeptRun("digest", 1, run)
    back = kept_run.run_from_bytes(kept_run.run_as_bytes(kept), run.prior)
    assert back is not None
    assert_same(back.run, run)
    assert kept_run.run_from_bytes(b"", run.prior) is None
    assert kept_run.stops_from_bytes(kept_run.stops_as_bytes("one", {}), "another") == {}
