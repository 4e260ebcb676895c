"""Work that is watched: shares rise, nested parts count for their part, and it can be stopped."""

import pytest

from geometry.model.bed import Bed, One
from geometry.model.outlines import Disc, LShape
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length
from geometry.watch import Stopped, look_up, part, watched


def test_without_a_watcher_nothing_happens() -> None:
    heard: list[float] = []
    with watched(lambda share: not heard.append(share)):
        pass
    look_up(0.5)
    with part(0.2, 0.4):
        look_up(1.0)
    assert heard == []


def test_parts_within_parts_are_shares_of_the_whole() -> None:
    heard: list[float] = []
    with watched(lambda share: not heard.append(share)):
        look_up(0.1)
        with part(0.5, 1.0), part(0.0, 0.5):
            look_up(1.0)
    assert heard == pytest.approx([0.1, 0.5, 0.5, 0.75])


def test_work_stops_when_it_is_told_to() -> None:
    with watched(lambda share: share < 0.5):
        look_up(0.4)
        with pytest.raises(Stopped):
            look_up(0.6)
    look_up(0.6)


def ponds() -> Project:
    planting = Planting(Length.of(150), Length.of(50), edge_margin=Length.of(40))
    outlines = (LShape(*(Length.of(side) for side in (2000, 1800, 900, 700))), Disc(Length.of(900)))
    beds = [
        Bed(f"pond {number}", outline, Length.of(8), Length.of(5), rafts=One(), planting=planting)
        for number, outline in enumerate(outlines)
    ]
    return Project("ponds", beds=tuple(beds))


def test_a_plan_tells_how_far_it_is_and_is_the_same_watched_or_not() -> None:
    heard: list[float] = []
    with watched(lambda share: not heard.append(share)):
        plan = make_plan(ponds())
    assert plan == make_plan(ponds())
    highest = [max(heard[: k + 1]) for k in range(len(heard))]
    assert 0 <= highest[0] <= 0.1
    assert 0.85 <= highest[-1] <= 1
    assert len(set(highest)) > 6


def test_a_plan_that_is_not_wanted_stops_at_the_next_look() -> None:
    looks = 0

    def go_on(share: float) -> bool:
        nonlocal looks
        looks += 1
        return looks < 5

    with watched(go_on), pytest.raises(Stopped):
        make_plan(ponds())
    assert looks == 5
