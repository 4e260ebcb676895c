"""Leaves of whole beds by day: theorems on grids, days found by hand, and what is not known."""

from dataclasses import replace
from fractions import Fraction
from math import pi, sqrt

import pytest

from geometry.compare.courses import course_of, courses_of
from geometry.compare.growing import Growing, growing
from geometry.crops.leaves import record_of
from geometry.model.bed import Bed, Split
from geometry.model.growth import Growth, LeafWidth
from geometry.model.outlines import Rectangle
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import make_plan
from geometry.units import Length

DILL = OwnCrop("dill", Length.of(200), 30, Length.of(40), Length.of(300))


def whole(length: int, width: int, spacing: int, **changes: object) -> Bed:
    """One raft as large as the bed, half a pitch of edge all around: each plant has its cell."""
    planting = Planting(
        Length.of(spacing),
        Length.of(30),
        crop="dill",
        pattern="square",
        edge_margin=Length(Fraction(spacing, 2)),
    )
    bed = Bed("B", Rectangle(Length.of(length), Length.of(width)), planting=planting)
    return replace(bed, **changes)  # type: ignore[arg-type]


def of(bed: Bed, *records: Growth, crops: tuple[OwnCrop, ...] = (DILL,)) -> Growing | None:
    project = Project("p", beds=(bed,), crops=crops, growth=records)
    planned = make_plan(project).beds[0]
    return growing(planned, courses_of(project, planned.plantings))


def record(*widths: tuple[int, float]) -> Growth:
    return Growth("dill", tuple(LeafWidth(day, Length.of(width)) for day, width in widths))


def known(found: Growing | None) -> Growing:
    assert found is not None
    return found


def test_leaves_touch_on_the_day_on_which_they_are_as_wide_as_the_pitch() -> None:
    # By hand: 50 mm on day 5 and 300 mm on day 30 are 10 mm a day; 200 mm is day 20.
    found = known(of(whole(2000, 1000, 200), record((5, 50), (30, 300))))

    assert found.nearest == pytest.approx(200)
    assert (found.first, found.last, found.touch_day) == (5, 30, 20)


@pytest.mark.parametrize("day", [5, 12, 20])
def test_a_square_grid_covers_a_quarter_of_pi_of_the_square_of_width_over_pitch(day: int) -> None:
    # Theorem: circles of diameter d on a square grid of pitch p cover pi/4 (d/p)^2 up to touch.
    found = known(of(whole(2000, 1000, 200), record((5, 50), (30, 300))))

    width = 10.0 * day
    assert found.cover[day - 5] == pytest.approx(pi / 4 * (width / 200) ** 2, abs=0.006)


def test_a_hexagonal_grid_covers_nine_tenths_when_it_touches() -> None:
    # Theorem (Lagrange, Thue): pi / (2 sqrt 3) = 0.9069, the densest of all packings of circles.
    # A wide bed, since half a row at each edge stays emptier than the middle.
    bed = whole(8000, 8000, 200)
    assert bed.planting is not None
    rows = replace(bed.planting, pattern="hexagonal", edge_margin=Length.of(0), spread=False)
    bed = replace(bed, planting=rows)

    found = known(of(bed, record((0, 100), (10, 200))))

    assert found.touch_day == 10
    assert found.cover[10] == pytest.approx(pi / (2 * sqrt(3)), abs=0.02)


def test_plants_are_moved_apart_when_they_cover_98_hundredths() -> None:
    # By the closed form a square grid covers 98 % at 1.2755 pitches (tests of growth.cover):
    # 255.1 mm at 10 mm a day is day 26. Petropoulou and others 2023 name the share.
    found = known(of(whole(2000, 1000, 200), record((5, 50), (30, 300))))

    assert found.respace_day in {26, 27}
    assert found.cover[found.respace_day - 5] >= 0.98


def test_without_figures_the_law_leads_from_the_planted_to_the_mature_width() -> None:
    project = Project("p", beds=(whole(2000, 1000, 200),), crops=(DILL,))
    course = course_of(project, project.beds[0].planting or Planting(DILL.spacing, DILL.spacing))

    assert course is not None
    assert course.reckoned is not None
    assert (course.first, course.last, course.harvest, course.assumed) == (0, 30, 30, ())
    assert course.width_on(0) == pytest.approx(40)
    day = course.day_at(200)
    assert day is not None
    assert (course.width_on(day - 1) or 0) < 200 <= (course.width_on(day) or 0)
    assert known(of(project.beds[0])).touch_day == day
    assert known(of(project.beds[0])).at_harvest == pytest.approx(1, abs=0.01)


def test_the_day_of_touching_by_hand() -> None:
    # Areas are as 1 to 36, so c = 35 and r = ln(35 * 49) / 30 = 0.2482 a day; at 8 in of 12 the
    # area is as 1 to 2.25, so the day is ln(35 / 1.25) / r = 13.4, the first whole one 14.
    chard = OwnCrop("dill", Length.of("8 in"), 30, Length.of("2 in"), Length.of("12 in"))
    bed = whole(2032, 1016, 200)
    assert bed.planting is not None
    eight = replace(bed.planting, spacing=Length.of("8 in"), edge_margin=Length.of("4 in"))

    found = known(of(replace(bed, planting=eight), crops=(chard,)))

    assert found.nearest == pytest.approx(203.2)
    assert found.touch_day == 14


def test_a_published_crop_has_a_course_that_owns_up_to_what_was_assumed() -> None:
    planting = Planting(Length.of(200), Length.of(50), crop="lettuce, head")
    course = course_of(Project("p"), planting)

    assert course is not None
    assert course.assumed == ("planted as the hole", "middle days", "middle width")
    assert (course.width_on(0), course.harvest) == (pytest.approx(50), 28)
    assert course_of(Project("p"), replace(planting, crop="okra")) is None
    assert course_of(Project("p"), replace(planting, crop="")) is None


def test_what_was_measured_goes_before_what_is_reckoned_and_never_beyond_its_days() -> None:
    planting = whole(2000, 1000, 200).planting
    assert planting is not None
    project = Project("p", crops=(DILL,), growth=(record((5, 50), (20, 140)),))
    course = course_of(project, planting)

    assert course is not None
    assert course.measured == record_of(project.growth, "DILL")
    assert (course.width_on(4), course.width_on(10), course.width_on(21)) == (None, 80, None)
    assert course.day_at(200) is None
    found = known(of(whole(2000, 1000, 200), *project.growth))
    assert (found.touch_day, found.respace_day, found.at_harvest) == (None, None, None)


def test_bare_rafts_and_unknown_leaves_say_nothing() -> None:
    assert of(replace(whole(2000, 1000, 200), planting=None)) is None
    assert of(whole(50, 50, 200)) is None
    assert of(whole(2000, 1000, 200), crops=()) is None


def test_one_plant_touches_nobody() -> None:
    found = known(of(whole(200, 200, 200), record((0, 100), (10, 200))))

    assert (found.nearest, found.touch_day, found.respace_day) == (None, None, None)
    assert found.cover[10] == pytest.approx(pi / 4, abs=0.01)


def test_unlike_crops_touch_when_half_of_both_is_the_distance() -> None:
    # Dill is 10 mm a day, mint 20: 15 mm a day together. Mint touches mint first only if nearer.
    mint = Zone("mint", ZoneRules(crop="mint", spacing=Length.of(600)), rafts=("R2",))
    bed = whole(2400, 600, 600, zones=(mint,), rafts=Split(2, 1))
    records = (
        record((0, 10), (100, 1010)),
        Growth("mint", (LeafWidth(0, Length.of(10)), LeafWidth(40, Length.of(810)))),
    )

    found = known(of(bed, *records))

    assert found.last == 40
    assert found.nearest == pytest.approx(600)
    assert found.touch_day == 30  # mint is 610 mm wide on day 30
