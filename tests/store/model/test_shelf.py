"""The shelf of results: private, whole or not there, bounded, and no harm where it fails."""

import os
import threading
import time

from store.model.shelf import FolderShelf


def test_what_is_put_is_taken_and_private(tmp_path):
    shelf = FolderShelf(tmp_path / "new" / "shelf")
    assert shelf.take("one") is None
    shelf.put("one", b"something")
    assert shelf.take("one") == b"something"
    assert (shelf.folder / "one").stat().st_mode & 0o777 == 0o600
    assert shelf.folder.stat().st_mode & 0o777 == 0o700


def test_what_was_changed_is_not_taken(tmp_path):
    shelf = FolderShelf(tmp_path)
    shelf.put("one", b"something")
    file = tmp_path / "one"
    file.write_bytes(file.read_bytes()[:-1] + b"!")
    assert shelf.take("one") is None


def test_the_oldest_goes_where_there_is_too_much(tmp_path):
    shelf = FolderShelf(tmp_path, most_bytes=2500)
    for number in range(4):
        shelf.put(f"{number}", bytes(1000))
        os.utime(tmp_path / f"{number}", (number, number))
    forgotten = tmp_path / "x-1.part"
    forgotten.write_bytes(b"x")
    os.utime(forgotten, (0, 0))
    shelf.tidy()
    assert sorted(file.name for file in tmp_path.iterdir()) == ["2", "3"]


def test_a_folder_that_cannot_be_is_no_harm(tmp_path):
    (tmp_path / "file").write_text("in the way")
    shelf = FolderShelf(tmp_path / "file" / "shelf")
    shelf.put("one", b"something")
    assert shelf.take("one") is None
    shelf.tidy()


def test_many_writers_leave_something_whole(tmp_path):
    shelf, until = FolderShelf(tmp_path), time.monotonic() + 0.3
    contents = [bytes([number]) * 50_000 for number in range(3)]

    def write(content):
        while time.monotonic() < until:
            shelf.put("one", content)

    writers = [threading.Thread(target=write, args=(content,)) for content in contents]
    for writer in writers:
        writer.start()
    seen = set()
    while any(writer.is_alive() for writer in writers):
        found = shelf.take("one")
        assert found is None or found in contents
        seen.add(found)
    assert len(seen) > 1
    assert [file.name for file in tmp_path.iterdir()] == ["one"]
