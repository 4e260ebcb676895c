"""What a bed may bring: within what was weighed, and worked by hand."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from geometry.compare.choices import compare_choices
from geometry.compare.yields import (
    WeeklyHarvest,
    density_in_use,
    grams_at_choices,
    grams_of,
    weekly_harvest,
    yields_of,
)
from geometry.growth.harvest import Law
from geometry.model.bed import Bed
from geometry.model.log import BatchGrown, Log
from geometry.model.outlines import Rectangle
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.project import Choice, Project
from geometry.model.run import Run, RunStage
from geometry.plan import make_plan
from geometry.units import Length

# 4 x 4 plants on a square metre: 16/m², where heads of 13 to 17/m² were weighed.
BED = Bed(
    "bed",
    Rectangle(Length.of(1000), Length.of(1000)),
    planting=Planting(
        Length.of(250), Length.of(50), crop="lettuce, head", edge_margin=Length.of(125)
    ),
)
PROJECT = Project("p", beds=(BED,))


def _batch(per_m2: int, grams: int) -> BatchGrown:
    return BatchGrown(
        "heads", date(2026, 3, 2), picked=10, grams=Fraction(10 * grams), per_m2=Fraction(per_m2)
    )


RUN = Run("heads", crop="lettuce, head", stages=(RunStage("grow", 28, bed="bed"),), every=14)
OWN = replace(PROJECT, runs=(RUN,), log=Log(batches=(_batch(16, 250), _batch(25, 200))))


def test_choices_are_weighed_where_something_was() -> None:
    closer = Choice("closer", "bed", spacing=Length.of(200), edge_margin=Length.of(100))
    results = compare_choices(replace(OWN, choices=(closer,)), BED)[:2]
    assert [result.density_per_m2 for result in results] == [16, 25]
    now, closely = grams_at_choices(OWN, BED, results)
    # By hand: 1/w on the straight line from 1/321 at 13 to 1/276 at 17, at 16 plants/m².
    assert now[0] == pytest.approx(1 / (0.25 / 321 + 0.75 / 276))
    assert now[1] == pytest.approx(250)
    assert closely == (None, pytest.approx(200))
    assert grams_at_choices(PROJECT, BED, results) == ((now[0], None), (None, None))


def test_a_bed_of_two_crops_or_with_plugs_is_not_weighed() -> None:
    results = compare_choices(PROJECT, BED)[:1]
    assert BED.planting is not None
    half = replace(BED, planting=replace(BED.planting, in_use="every second"))
    assert grams_at_choices(PROJECT, half, results) == ((None, None),)
    bare = replace(BED, planting=None)
    assert grams_at_choices(PROJECT, bare, results) == ((None, None),)


def test_own_and_published_points_are_kept_apart() -> None:
    found = yields_of(OWN, "Lettuce, Head")
    assert isinstance(found.own_law, Law)
    assert (found.own_law.low, found.own_law.high) == (16, 25)
    assert [trial.points[0].grams for trial, _ in found.trials] == [321, 640]
    assert found.published_at(25) is None
    assert found.own_at(13) is None


def test_what_a_plant_weighs_is_the_growers_word_first() -> None:
    crop = OwnCrop("lettuce, head", Length.of(200), grams=Fraction(180))
    assert grams_of(replace(OWN, crops=(crop,)), "lettuce, head", 16) == (180, 180, "crop")
    assert grams_of(OWN, "lettuce, head", 16) == (225, 225, "log")
    published = grams_of(PROJECT, "lettuce, head", 16)
    assert published is not None
    assert published[2] == "trial"
    assert grams_of(PROJECT, "lettuce, head", 16.0 + 8) is None
    assert grams_of(PROJECT, "basil", 16) is None
    # 150 to 250 g (Hernandez and others 2017, Acta Horticulturae 1170).
    assert grams_of(PROJECT, "lettuce, small head", 43) == (150, 250, "table")


def test_the_harvest_of_a_week() -> None:
    plan = make_plan(OWN)
    assert density_in_use(plan.beds[0]) == 16
    # The run keeps them 28 days here: 4 a week.
    stays = weekly_harvest(plan, plan.beds[0])
    assert isinstance(stays, WeeklyHarvest)
    assert (stays.plants, stays.days_from) == ((4, 4), {"run"})
    # The published 24 to 32 days: 16 plants come off in 32 days at the least.
    idle = replace(RUN, stages=(RunStage("grow", 28),))
    plan = make_plan(replace(OWN, runs=(idle,)))
    found = weekly_harvest(plan, plan.beds[0])
    assert isinstance(found, WeeklyHarvest)
    assert found.plants == pytest.approx((3.5, 16 * 7 / 24))
    assert found.kilograms[0] == pytest.approx(3.5 * 0.225)
    assert (found.grams_from, found.days_from) == ({"log"}, {"table"})
    # A run that brings 20 plants every two weeks: 10 a week.
    aimed = replace(OWN, runs=(replace(RUN, target=20),))
    aimed_plan = make_plan(aimed)
    by_run = weekly_harvest(aimed_plan, aimed_plan.beds[0])
    assert isinstance(by_run, WeeklyHarvest)
    assert by_run.plants == (10, 10)
    assert by_run.kilograms == pytest.approx((2.25, 2.25))
    assert by_run.days_from == {"run"}
    # Where the run ends in two beds alike, each has half of it.
    stage = RunStage("grow", 28, bed="bed", more_beds=("twin",))
    shared = replace(
        aimed,
        beds=(BED, replace(BED, name="twin")),
        runs=(replace(RUN, target=20, stages=(stage,)),),
    )
    both = make_plan(shared)
    for each in both.beds:
        half = weekly_harvest(both, each)
        assert isinstance(half, WeeklyHarvest)
        assert half.plants == (5, 5)


@pytest.mark.parametrize(
    ("crop", "own", "lacking"),
    [
        ("", (), ("crop", "")),
        ("mint", (), ("days", "mint")),
        ("mint", (OwnCrop("mint", Length.of(200), days=30),), ("grams", "mint")),
        ("basil", (), ("grams", "basil")),
    ],
)
def test_what_must_be_known_first(
    crop: str, own: tuple[OwnCrop, ...], lacking: tuple[str, str]
) -> None:
    assert BED.planting is not None
    bed = replace(BED, planting=replace(BED.planting, crop=crop))
    project = replace(PROJECT, beds=(bed,), crops=own)
    plan = make_plan(project)
    assert weekly_harvest(plan, plan.beds[0]) == lacking
    bare = replace(project, beds=(replace(bed, planting=None),))
    empty = make_plan(bare)
    assert weekly_harvest(empty, empty.beds[0]) == ("plants", "")
