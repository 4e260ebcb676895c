"""Failures, orders and spacings against sums by hand and a published house."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from geometry.flow.room import Room
from geometry.flow.run_plan import plan_runs
from geometry.flow.what_if import at_one_density, loss_of, raft_places, sow_for
from geometry.model.run import Run, RunStage, SlowTime

MONDAY = date(2027, 3, 1)
POND = {"pond": (Room("pond", "", tuple(f"R{n}" for n in range(1200)), 21),)}
HOUSE = Run(
    "house",
    stages=(
        RunStage("tray", 12, Fraction(8, 10)),
        RunStage("first", 10, bed="pond", sites=60),
        RunStage("last", 14, bed="pond", sites=21),
    ),
    every=1,
    target=960,
    first=MONDAY,
    share_rafts=True,
)
"""Rutgers Horticultural Engineering, floating lettuce: 960 a day, 60 and 21 to a board."""


def test_two_densities_take_a_quarter_less_water_than_one() -> None:
    # By the published densities 594 against 814 m²; by whole boards of 2 x 4 ft (0.7432 m²).
    board = 0.6096 * 1.2192
    (two,) = plan_runs([HOUSE], POND)
    one = at_one_density(HOUSE, POND)

    assert one is not None
    assert (raft_places(two), raft_places(one)) == (160 + 640, 1098)
    assert abs(raft_places(two) * board - 594) < 1
    assert abs(raft_places(one) * board - 814) < 3
    assert (one.seeds, one.harvest) == (two.seeds, two.harvest)
    assert at_one_density(replace(HOUSE, stages=HOUSE.stages[:2]), POND) is None


def test_a_batch_found_dead_is_made_good_by_sowing_again() -> None:
    (made,) = plan_runs([replace(HOUSE, share_rafts=False)], POND)
    third = made.batches[2]

    loss = loss_of(made, 3, third.begins[2] + timedelta(days=4))

    assert loss is not None
    assert (loss.batch, loss.free) == (third, 46)
    # Found after 12 + 10 + 4 days, 36 days to grow again: ten days before its harvest.
    assert loss.late == 26
    assert loss_of(made, 3, third.sown - timedelta(days=1)) is None
    assert loss_of(made, 3, third.leaves) is None
    assert loss_of(made, 10**6, MONDAY) is None


def test_an_order_has_a_last_day_of_sowing() -> None:
    (made,) = plan_runs([HOUSE], POND)

    order = sow_for(made, 100, date(2027, 6, 1))

    # 12 + 10 + 14 days before; 100 at 80 % are 125 seeds.
    assert (order.sow_by, order.seeds) == (date(2027, 4, 26), 125)
    slow = SlowTime(date(2027, 1, 1), date(2027, 12, 31), Fraction(2))
    (later,) = plan_runs([replace(HOUSE, slow_times=(slow,))], POND)
    assert sow_for(later, 100, date(2027, 6, 1)).sow_by == date(2027, 3, 21)
