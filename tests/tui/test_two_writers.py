"""Two windows on one logbook: each sees the other's news, and nobody is told of a lock."""

from tests.tui.two_writers import work_apart

LEAST = 15
SECONDS = 5.0
"""What the other wrote is seen within seconds, on a machine with other work, too."""


def test_two_write_at_a_time(tmp_path):
    outcome = work_apart(tmp_path / "book.db", 1.2, pause_s=0.005, look_every_s=0.1, least=LEAST)
    assert outcome.faults == ()
    assert sum(share.stale for share in outcome.shares) > 0, "they must have met"
    for share in outcome.shares:
        assert len(share.checkins) >= LEAST
        assert 0.0 < max(share.delays_s.values()) < SECONDS
