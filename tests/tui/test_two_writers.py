"""Two windows on one logbook: each sees the other's news, and nobody is told of a lock."""

from tests.tui.two_writers import work_apart


def test_two_write_at_a_time(tmp_path):
    outcome = work_apart(tmp_path / "book.db", seconds=1.2, pause_s=0.005, look_every_s=0.1)
    assert outcome.faults == ()
    for own, other in (outcome.shares, outcome.shares[::-1]):
        assert len(own.checkins) > 10
        assert own.stale > 0, "they must have met"
        assert len(own.delays_s) > len(other.checkins) / 2
        assert max(own.delays_s.values()) < 2.0
