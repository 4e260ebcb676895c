"""No two rafts in one place, and never a place more than the fullest day needs."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from geometry.flow.places import Stay, find_places, most_at_once

STAYS = st.lists(
    st.tuples(st.integers(0, 60), st.integers(0, 20)).map(lambda s: (s[0], s[0] + s[1])),
    max_size=40,
).map(lambda spans: [Stay(n, 0, 0, first, last) for n, (first, last) in enumerate(spans)])


@given(STAYS, st.integers(0, 12), st.integers(0, 3))
def test_no_two_rafts_ever_stand_in_one_place(stays: list[Stay], count: int, free: int) -> None:
    placing = find_places(stays, count, free_days=free)

    assert sorted([s for s, _ in placing.places] + list(placing.left_out), key=stays.index) == stays
    assert all(0 <= place < count for _, place in placing.places)
    for (one, here), (other, there) in combinations(placing.places, 2):
        if here == there:
            assert one.last + free < other.first or other.last + free < one.first


@given(STAYS, st.integers(0, 3))
def test_as_many_places_as_the_fullest_day_takes_are_enough(stays: list[Stay], free: int) -> None:
    # Brute force over all days: who is there, or is being cleaned away.
    days = range(90)
    fullest = max(sum(s.first <= day <= s.last + free for s in stays) for day in days)

    assert most_at_once(stays, free_days=free) == fullest
    assert find_places(stays, fullest, free_days=free).left_out == ()
    if fullest:
        assert find_places(stays, fullest - 1, free_days=free).left_out


def test_a_place_is_free_again_on_the_day_after() -> None:
    first, second = Stay(0, 0, 0, 1, 7), Stay(1, 0, 0, 8, 14)

    assert [place for _, place in find_places([first, second], 1).places] == [0, 0]
    assert find_places([first, second], 1, free_days=1).left_out == (second,)
    assert find_places([first, second], 1).on(7) == {0: first}
    assert find_places([first, second], 1).on(15) == {}
