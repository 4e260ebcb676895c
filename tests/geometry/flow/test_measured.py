"""What batches tell: shares by hand, pooled, and put into the stages of a run.

Source of the ratios: job map, check L4 (survival from log = ratio by hand) and formula 11
(0.90 came up, 0.90 were set, 0.97 were picked: 46 seeds for 36 heads).
"""

from datetime import date
from fractions import Fraction
from math import ceil
from typing import Any

from geometry.flow.measured import Told, survivals, told_by
from geometry.model.log import BatchGrown
from geometry.model.run import Run, RunStage


def batch(number: int, **counts: Any) -> BatchGrown:
    return BatchGrown("heads", date(2026, 3, number), **counts)


TOLD = told_by(
    [
        batch(1, seeds=100, up=92, set=80, picked=78, grams=Fraction(14000)),
        batch(2, seeds=900, up=808, set=730, picked=707, grams=Fraction(143000)),
        batch(3, seeds=50),
        batch(4, seeds=20, up=25),
        BatchGrown("others", date(2026, 3, 1), 10, 1),
    ],
    "heads",
)


def test_shares_are_those_of_all_plants_together() -> None:
    assert [(each.went_on, each.began, each.batches) for each in TOLD.lived] == [
        (900, 1000, 2),
        (810, 900, 2),
        (785, 810, 2),
    ]
    assert [each.share for each in TOLD.lived[:2]] == [Fraction(9, 10), Fraction(9, 10)]
    assert (TOLD.lived[0].least, TOLD.lived[0].most) == (Fraction(808, 900), Fraction(92, 100))
    assert TOLD.weighed is not None
    assert TOLD.weighed.each == Fraction(157000, 785) == 200


def test_the_stages_of_a_run_multiply_to_what_was_measured() -> None:
    trays, nursery, last = (
        RunStage("trays", 14),
        RunStage("n", 14, bed="W"),
        RunStage("f", 21, bed="E"),
    )
    pricked = RunStage("pricked out", 7)
    whole = Fraction(785, 1000)
    for stages in [(trays, nursery, last), (trays, pricked, last), (nursery, last), (trays,)]:
        found = survivals(Run("heads", stages=stages), TOLD)
        product = Fraction(1)
        for share in found.values():
            product *= share
        assert len(found) == len(stages)
        assert abs(product - whole) < Fraction(2, 1000)

    kept = survivals(Run("heads", stages=(trays, pricked, last)), TOLD)
    assert kept == {0: Fraction(9, 10), 1: Fraction(9, 10), 2: Fraction(969, 1000)}
    assert ceil(36 / (kept[0] * kept[1] * Fraction(97, 100))) == 46


def test_without_a_count_of_what_came_up_setting_counts_from_the_seeds() -> None:
    told = told_by([batch(1, seeds=40, set=30), batch(2, seeds=40, set=0)], "heads")

    assert [(each.step, each.since, each.share) for each in told.lived] == [
        ("set", "seeds", Fraction(3, 8))
    ]
    assert told.weighed is None
    nothing = told_by([batch(2, seeds=40, set=0)], "heads")
    assert survivals(Run("heads", stages=(RunStage("trays", 14),)), nothing) == {
        0: Fraction(1, 1000)
    }
    assert told_by([], "heads") == Told("heads", (), None)
