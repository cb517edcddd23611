"""Two logbooks written apart come together, and nothing of either is lost."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.store.exchange.random_histories import check_merging


@settings(max_examples=4, deadline=None)
@given(seed=st.integers(0, 2**32))
def test_merging_is_a_union_in_whatever_order(seed, tmp_path_factory):
    check_merging(tmp_path_factory.mktemp("people"), seed)
