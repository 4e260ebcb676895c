"""Rafts that are pushed along: nobody overtakes, nobody goes back, no two in one place."""

from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.flow.lanes import Passer, push_along
from geometry.flow.places import Stay, find_places

STAYS = st.lists(
    st.tuples(st.integers(0, 25), st.integers(0, 12)).map(lambda s: (s[0], s[0] + s[1])),
    max_size=25,
).map(lambda spans: [Stay(n, 0, 0, first, last) for n, (first, last) in enumerate(spans)])


@settings(max_examples=60)
@given(STAYS, st.integers(1, 3), st.integers(1, 4), st.integers(0, 3))
def test_rafts_go_through_a_bed_in_their_order(
    stays: list[Stay], count: int, long: int, free: int
) -> None:
    # As many as places can be found for at all, by another way of finding them.
    placed = [stay for stay, _ in find_places(stays, count * long, free_days=free).places]
    ways = [[f"{lane}.{place}" for place in range(long)] for lane in range(count)]
    lanes = push_along([Passer(s.batch, s.first, s.last, s.last + free + 1) for s in placed], ways)

    before: dict[int, str] = {}
    for day in range(-1, 45):
        here = {place: item for lane in lanes for place, item in lane.on(day).items()}
        # Each of those who are there by the calendar stands in a place, and so in one alone.
        assert sorted(here.values()) == sorted(s.batch for s in placed if s.first <= day <= s.last)
        for way in ways:
            held = [place for place in way if place in here]
            assert held == way[long - len(held) :]
            firsts = [stays[here[place]].first for place in held]
            assert firsts == sorted(firsts, reverse=True)
        after = {item: place for place, item in here.items()}
        for item in before.keys() & after.keys():
            assert before[item].partition(".")[0] == after[item].partition(".")[0]
            assert before[item] <= after[item]
        before = after


def test_a_lane_of_three_through_three_weeks() -> None:
    # By hand: one raft a week, three weeks in the water, way out at C.
    weekly = [Passer(n, 7 * n, 7 * n + 20, 7 * n + 21) for n in range(5)]
    (lane,) = push_along(weekly, ["ABC"])

    assert lane.on(0) == {"C": 0}
    assert lane.on(20) == {"C": 0, "B": 1, "A": 2}
    assert lane.on(21) == {"C": 1, "B": 2, "A": 3}
    assert lane.on(60) == {}
