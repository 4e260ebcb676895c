"""Runs against sums by hand, published houses, and brute force over days."""

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.flow.room import Room, missing, stand, take
from geometry.flow.run_plan import RunPlan, largest, plan_runs
from geometry.model.run import Pause, Run, RunStage, SlowTime

MONDAY = date(2027, 3, 1)


def percent(value: float) -> Fraction:
    return Fraction(str(value)) / 100


def room(bed: str, rafts: int, sites: int, crop: str = "") -> dict[str, tuple[Room, ...]]:
    return {bed: (Room(bed, crop, tuple(f"R{n + 1}" for n in range(rafts)), sites),)}


def one(run: Run, rooms: dict[str, tuple[Room, ...]], until: date | None = None) -> RunPlan:
    return plan_runs([run], rooms, until)[0]


RACEWAYS = room("east", 16, 18) | room("west", 16, 18)
FARM = Run(
    "heads",
    stages=(
        RunStage("sprout", 7, percent(92)),
        RunStage("nursery", 14, percent(88), "west", 60, more_beds=("east",)),
        RunStage("finish", 21, percent(95), "east", more_beds=("west",)),
    ),
    target=120,
    first=MONDAY,
)


def test_a_farm_of_two_raceways_that_sends_120_heads_a_week() -> None:
    # Seven rafts of 18 give 119.7; eight and three nursery rafts take 30 of 32 places (a farm made
    # up for this project, sums by hand).
    plan = one(FARM, RACEWAYS)

    assert plan.one_less == Fraction("119.7")
    assert plan.harvest == Fraction("136.8")
    assert plan.per_week == plan.harvest
    assert (plan.heads, plan.short, plan.seeds, plan.plugs) == (136, 0, 178, 178)
    assert [stage.plants for stage in plan.stages] == [178, 164, 144]
    assert [stage.places for stage in plan.stages] == [0, 6, 24]
    assert plan.stages[2].spare_rafts(5) == 2

    standing = stand(plan.demands(0))
    assert not standing.left_out
    assert sum(take(plan.demands(0)).most.values()) == 30


def test_a_house_of_960_plants_a_day() -> None:
    # Rutgers Horticultural Engineering, floating lettuce: 1200 sown for 960 a day, 12 days until
    # they float, 10 at 60 a board, 14 at 21.
    house = Run(
        "house",
        stages=(
            RunStage("tray", 12, percent(80)),
            RunStage("first", 10, bed="pond", sites=60),
            RunStage("last", 14, bed="pond", sites=21),
        ),
        every=1,
        target=960,
        first=MONDAY,
    )

    own = one(house, room("pond", 804, 21))
    shared = one(replace(house, share_rafts=True), room("pond", 804, 21))

    # Whole boards: 46 of 21 are 966 plants, so 17 boards of 60 and 1208 seeds.
    assert own.seeds == 1208
    assert (own.stages[1].places, own.stages[2].places) == (170, 644)
    assert own.stages[2].shared == 644
    # Boards shared between days, as published: 160 and 640, and 1200 seeds.
    assert shared.seeds == 1200
    assert [stage.places for stage in shared.stages] == [0, 160, 640]
    assert own.first_harvest == MONDAY + timedelta(days=36)


def test_27_beds_of_which_three_are_set_each_week_go_round_in_nine_weeks() -> None:
    # Proceedings of the Florida State Horticultural Society, float-system lettuce, 2001-2008.
    loop = Run("loop", stages=(RunStage("bed", 63, bed="field"),), first=MONDAY)

    plan = one(loop, room("field", 27, 72))

    assert (plan.stages[0].rafts, plan.stages[0].places, plan.seeds) == (3, 27, 216)
    assert not stand(plan.demands(0)).left_out


@pytest.mark.parametrize(
    ("sites", "survivals", "seeds"),
    [(36, (90, 90, 97), 46), (144, (92, 88), 178), (30, (85,), 36)],
)
def test_seeds_for_full_rafts(sites: int, survivals: tuple[float, ...], seeds: int) -> None:
    before = tuple(RunStage(str(n), 5, percent(each)) for n, each in enumerate(survivals))
    run = Run("run", stages=(*before, RunStage("bed", 28, bed="b")), every=28, seed_pack=50)

    plan = one(run, room("b", 1, sites))

    assert (plan.seeds, plan.stages[-1].plants) == (seeds, sites)
    assert plan.seed_packs == -(-seeds // 50)


def test_four_groups_of_a_school_each_with_a_raft_of_nine() -> None:
    share = tuple(RunStage(str(n), 7, percent(each)) for n, each in enumerate((90, 90, 97)))
    run = Run("class", stages=(*share, RunStage("bed", 28, bed="bench")), first=MONDAY)

    plan = one(run, room("bench", 4, 9))

    assert (plan.seeds, plan.heads, plan.stages[-1].places) == (12, 9, 4)
    assert plan.first_harvest == MONDAY + timedelta(days=49)


def test_pauses_slow_times_and_the_last_day_shape_the_calendar() -> None:
    run = Run(
        "winter",
        stages=(RunStage("tray", 14), RunStage("bed", 28, bed="b")),
        target=8,
        first=date(2027, 11, 1),
        until=date(2028, 2, 29),
        pauses=(Pause(date(2027, 12, 20), date(2028, 1, 2)),),
        slow_times=(SlowTime(date(2027, 12, 1), date(2028, 1, 31), Fraction(3, 2)),),
    )

    plan = one(run, room("b", 40, 8))

    # 1 Nov: two weeks in the tray, afloat on 15 Nov, before the slow time.
    assert plan.batches[0].picked == date(2027, 12, 13) == plan.first_harvest
    # 29 Nov: afloat on 13 Dec, so six weeks instead of four.
    assert plan.batches[4].picked == date(2028, 1, 24)
    sown = [batch.sown for batch in plan.batches]
    assert {day.weekday() for day in sown} == {0}
    assert date(2027, 12, 20) not in sown
    # 6 Dec: three weeks in the tray, six afloat, picked on 7 Feb; the 20th and 27th are paused and
    # what is sown on 3 Jan, 3 and 4 to 6 weeks, is picked after 29 Feb.
    assert plan.last_sowing == date(2027, 12, 13)
    assert plan.batches[-1].picked == date(2028, 2, 14)
    plain = replace(run, slow_times=(SlowTime(run.first or MONDAY, date(2028, 3, 1), Fraction(1)),))
    assert one(plain, room("b", 40, 8)).batches == one(
        replace(run, slow_times=()), room("b", 40, 8)
    ).batches  # fmt: skip


def test_a_failed_batch_is_missing_from_its_own_week_alone() -> None:
    whole = one(FARM, RACEWAYS, MONDAY + timedelta(days=70))
    gone, given_up = whole.batches[3], whole.batches[3].begins[2] + timedelta(days=5)

    (hurt,) = plan_runs(
        [FARM], RACEWAYS, MONDAY + timedelta(days=70), {"heads": {gone.sown: given_up}}
    )

    before, after = whole.by_week(), hurt.by_week()
    assert [week for week in before if before[week] != after[week]] == [gone.picked]
    assert after[gone.picked] == 0
    # Its rafts are free from then on.
    here = stand(hurt.demands(0)).on(given_up)
    assert gone.number not in {each.demand.batch for each in here.values()}


def test_what_is_cut_comes_again_and_keeps_its_raft_until_the_last_picking() -> None:
    # Sums by hand: 12 plants, three pickings of each batch two weeks apart, 36 in all; the raft
    # stays for 21 + 28 days, so that seven batches a week apart stand side by side.
    herbs = Run("basil", stages=(RunStage("bed", 21, bed="b"),), target=12, first=MONDAY, picks=3)

    plan = one(herbs, room("b", 7, 12), MONDAY + timedelta(days=7))

    first = plan.batches[0]
    assert first.picks == tuple(MONDAY + timedelta(days=days) for days in (21, 35, 49))
    assert (first.leaves, plan.stages[0].places) == (first.picks[-1], 7)
    assert sum(plan.by_week().values()) == 2 * 3 * 12
    assert plan.per_week == 36
    ended = one(replace(herbs, until=MONDAY + timedelta(days=40)), room("b", 7, 12))
    assert ended.batches[0].picks == first.picks[:2]


def test_what_cannot_be_reckoned_says_why() -> None:
    assert one(Run("none"), {}).lack == "stages"
    assert one(Run("tray", stages=(RunStage("tray", 9),)), {}).lack == "target"
    bed = Run("bed", stages=(RunStage("bed", 9, bed="b"),))
    assert one(bed, room("b", 4, 0)).lack == "sites"
    assert one(bed, room("b", 0, 9)).lack == "room"
    assert one(replace(bed, target=5, first=MONDAY), room("b", 0, 9)).batches


def test_crops_of_one_bed_have_their_own_rafts() -> None:
    rooms = {
        "b": (Room("b", "lettuce", ("R1", "R2"), 9), Room("b", "basil", ("R3",), 4)),
    }
    stages = (RunStage("bed", 7, bed="b"),)

    lettuce, basil = plan_runs(
        [Run("one", "lettuce", stages, first=MONDAY), Run("two", "Basil", stages, first=MONDAY)],
        rooms,
    )

    assert (lettuce.seeds, basil.seeds) == (18, 4)
    standing = stand([*lettuce.demands(0), *basil.demands(1)])
    assert {each.raft for each in standing.stands if each.demand.run == 1} == {"R3"}


def test_runs_without_a_target_share_what_the_others_leave() -> None:
    stages = (RunStage("bed", 28, bed="b"),)
    open_one = Run("a", stages=stages, first=MONDAY)

    plans = plan_runs(
        [open_one, replace(open_one, name="b"), Run("c", stages=stages, target=30, first=MONDAY)],
        room("b", 32, 10),
    )

    # 30 heads are three rafts, twelve places. Of the other twenty the first takes its half, two
    # rafts a week, and the second the twelve that are left.
    assert [plan.stages[0].rafts for plan in plans] == [2, 3, 3]
    assert largest(open_one, room("b", 32, 10), plans[2:]).stages[0].rafts == 5


RUNS = st.lists(
    st.builds(
        lambda first, stages, every, target, turn, stands: Run(
            "run", "", tuple(stages), every, target, MONDAY + timedelta(days=first),
            turn_days=turn, stands=stands,
        ),
        st.integers(0, 20),
        st.lists(
            st.builds(
                lambda days, bed, sites, share: RunStage(
                    "s", days, Fraction(share, 10), bed, sites
                ),
                st.integers(1, 30),
                st.sampled_from(["a", "b"]),
                st.integers(1, 9),
                st.integers(3, 10),
            ),
            min_size=1,
            max_size=3,
        ),
        st.integers(1, 9),
        st.integers(1, 40),
        st.integers(0, 3),
        st.integers(0, 5),
    ),
    min_size=1,
    max_size=2,
)  # fmt: skip


@settings(max_examples=30)
@given(RUNS, st.integers(1, 30), st.integers(1, 30))
def test_seeds_are_enough_and_no_two_rafts_meet(runs: list[Run], here: int, there: int) -> None:
    rooms = room("a", here, 5) | room("b", there, 5)
    plans = plan_runs(runs, rooms, MONDAY + timedelta(days=60))

    for plan in plans:
        assert plan.run.target is not None
        assert plan.harvest >= plan.run.target
        assert plan.one_less is not None
        assert plan.one_less < plan.run.target
        wanted, share = plan.stages[-1].plants, Fraction(1)
        for stage in plan.run.stages[:-1]:
            share *= stage.survival
        assert plan.seeds * share >= wanted > (plan.seeds - 1) * share
    demands = [demand for number, plan in enumerate(plans) for demand in plan.demands(number)]
    standing = stand(demands)
    assert standing.left_out == missing(demands)
    counts = Counter(each.demand for each in standing.stands) + Counter(dict(standing.left_out))
    assert counts == Counter({demand: demand.rafts for demand in demands})
    fullest: Counter[str] = Counter()
    for day in {demand.first for demand in demands}:
        taken = Counter(
            (each.bed, each.raft)
            for each in standing.stands
            if each.demand.first <= day < each.demand.back
        )
        assert not taken or max(taken.values()) == 1
        beds = Counter(bed for bed, _ in taken)
        fullest |= beds
    assert take(demands).most == fullest
