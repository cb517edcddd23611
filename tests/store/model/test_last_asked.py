"""The answers asked for last are kept, the others forgotten."""

from store.model.last_asked import LastAsked


def test_what_was_asked_for_longest_ago_is_forgotten():
    kept: LastAsked[int] = LastAsked(2)
    kept.keep("one", 1)
    kept.keep("two", 2)
    assert kept.get("one") == 1
    kept.keep("three", 3)
    assert [kept.get(key) for key in ("one", "two", "three")] == [1, None, 3]


def test_a_new_answer_takes_the_place_of_the_old_one():
    kept: LastAsked[int] = LastAsked(2)
    for answer in (1, 2):
        kept.keep("one", answer)
    kept.keep("two", 2)
    assert [kept.get(key) for key in ("one", "two")] == [2, 2]
