"""Edits of obstacles, zones, outline corners and joints as laws on whole projects."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.beds.outline import exact_box
from geometry.errors import GeometryError
from geometry.model.bed import Bed, Fit, Obstacle, One, Split, Spot
from geometry.model.measure import Gauge
from geometry.model.outlines import Disc, LShape, Polygon, Rectangle, Tapered
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone
from geometry.rafts.split import joint_lines, lay_rafts
from geometry.units import Length
from layout_gui.project import edits
from layout_gui.project import edits_things as things
from layout_gui.project.things import Thing


def mm(value: float | str) -> Length:
    return Length.of(value)


def spot(x: float, y: float) -> Spot:
    return Spot(mm(x), mm(y))


PIPE = Obstacle("standpipe", Disc(mm(40)), spot(2300, 60), None, mm(25))
BRACE = Obstacle("brace", Rectangle(mm(100), mm(60)), None, spot(500, 200))
STONE = Obstacle("stone", Polygon(((mm(900), mm(100)), (mm(980), mm(110)), (mm(930), mm(190)))))
ZONE = Zone("herbs", shape=LShape(mm(600), mm(300), mm(200), mm(100)), corner=(mm(100), mm(100)))
BED = Bed(
    "Bench",
    Rectangle(mm(2360), mm(580)),
    clearance=mm(10),
    joint_gap=mm(5),
    obstacles=(PIPE, BRACE, STONE),
    rafts=Split(4, 1),
    planting=Planting(mm(200), mm(50)),
    zones=(ZONE, Zone("last", rafts=("R4",))),
)
PROJECT = Project("Bench", beds=(BED,))
STANDING = (
    Thing("obstacle", 0),
    Thing("obstacle", 1),
    Thing("obstacle", 2),
    Thing("zone", "herbs"),
)

standing = st.sampled_from(STANDING)
ways = st.integers(-5000, 5000).map(lambda n: Fraction(n, 16))


def bed_of(project: Project) -> Bed:
    return project.beds[0]


def with_bed(**changes: object) -> Project:
    return replace(PROJECT, beds=(replace(BED, **changes),))  # type: ignore[arg-type]


def box(project: Project, thing: Thing) -> tuple[Fraction, ...]:
    return things.box_of(things.find_standing(bed_of(project), thing))


def test_everything_can_be_found_in_the_order_of_the_keyboard() -> None:
    found = things.things_of(BED)
    assert [thing.key for thing in found if thing.kind == "obstacle"] == [1, 0, 2]
    assert [thing.key for thing in found if thing.kind == "zone"] == ["herbs"]
    assert sum(thing.kind == "corner" for thing in found) == 4
    assert sum(thing.kind == "along" for thing in found) == 3
    assert all(things.has_thing(BED, thing) for thing in found)
    assert not things.has_thing(BED, Thing("obstacle", 3))
    assert not things.has_thing(BED, Thing("across", 0))
    assert [things.thing_words(BED, thing) for thing in found[2:6]] == [
        "stone", "zone herbs", "corner 1", "corner 2",
    ]  # fmt: skip


@given(standing, ways, ways)
def test_there_and_back_is_the_same_project(thing: Thing, dx: Fraction, dy: Fraction) -> None:
    away = things.move_standing(PROJECT, "Bench", thing, dx, dy)
    left, bottom, right, top = box(PROJECT, thing)
    assert box(away, thing) == (left + dx, bottom + dy, right + dx, top + dy)
    back = things.move_standing(away, "Bench", thing, -dx, -dy)
    assert box(back, thing) == box(PROJECT, thing)
    if thing.key != 2:  # the free one was given a place of its own by the first move
        assert back == PROJECT


@given(standing, st.data(), ways, ways)
def test_a_pulled_grip_leaves_the_others_that_lie_opposite(
    thing: Thing, data: st.DataObject, dx: Fraction, dy: Fraction
) -> None:
    old = things.find_standing(BED, thing)
    found = things.grips_of(old)
    number = data.draw(st.integers(0, len(found) - 1))
    grip = found[number]
    try:
        made = things.pull_grip(PROJECT, "Bench", thing, number, grip.x + dx, grip.y + dy)
    except GeometryError:
        assume(False)
        return
    after = things.grips_of(things.find_standing(bed_of(made), thing))[number]
    if not isinstance(old.shape, Disc):
        assert (not grip.moves_x) or after.x == grip.x + dx
        assert (not grip.moves_y) or after.y == grip.y + dy
    if isinstance(old.shape, Disc):  # its middle stays
        assert things.find_standing(bed_of(made), thing).centre == old.centre
    if isinstance(old.shape, Polygon):
        others = [(g.x, g.y) for k, g in enumerate(found) if k != number]
        now = things.grips_of(things.find_standing(bed_of(made), thing))
        assert [(g.x, g.y) for k, g in enumerate(now) if k != number] == others


@given(standing, st.sampled_from(["along", "across"]))
def test_mirrored_twice_stands_where_it_stood(thing: Thing, way: str) -> None:
    once = things.mirror_standing(PROJECT, "Bench", thing, way)  # type: ignore[arg-type]
    left, bottom, right, top = box(PROJECT, thing)
    if way == "along":
        assert box(once, thing) == (2360 - right, bottom, 2360 - left, top)
    else:
        assert box(once, thing) == (left, 580 - top, right, 580 - bottom)
    twice = things.mirror_standing(once, "Bench", thing, way)  # type: ignore[arg-type]
    assert box(twice, thing) == box(PROJECT, thing)
    old, new = (
        Gauge.of(things.loop_of(things.find_standing(bed_of(p), thing))) for p in (PROJECT, twice)
    )
    places = np.array([[x, y] for x in range(0, 2400, 90) for y in range(0, 600, 55)], float)
    assert new.signed_distance(places) == pytest.approx(old.signed_distance(places))


def test_a_whole_turn_leaves_the_middle_where_it_is() -> None:
    thing = Thing("obstacle", 1)
    quarter = things.turn_standing(PROJECT, "Bench", thing, Fraction(90))
    assert box(quarter, thing) == (520, 180, 580, 280)
    slanted = things.turn_standing(PROJECT, "Bench", thing, Fraction(30))
    left, bottom, right, top = box(slanted, thing)
    assert float(left + right) / 2 == pytest.approx(550, abs=0.001)
    assert float(bottom + top) / 2 == pytest.approx(230, abs=0.001)
    # By hand: a box of 100 x 60 turned by 30 degrees is 100 cos 30 + 60 sin 30 long.
    assert float(right - left) == pytest.approx(116.603, abs=0.002)


def test_a_copy_has_a_name_of_its_own_and_is_the_last() -> None:
    made, copy = things.duplicate_standing(
        PROJECT, "Bench", Thing("obstacle", 0), Fraction(-50), Fraction(0)
    )
    assert copy == Thing("obstacle", 3)
    obstacle = bed_of(made).obstacles[3]
    assert (obstacle.name, obstacle.centre, obstacle.clearance) == (
        "standpipe 2", spot(2250, 60), mm(25),
    )  # fmt: skip
    made, copy = things.duplicate_standing(
        made, "Bench", Thing("zone", "herbs"), Fraction(10), Fraction(0)
    )
    assert [zone.name for zone in bed_of(made).zones] == ["herbs", "last", "herbs 2"]
    assert copy == Thing("zone", "herbs 2")
    with pytest.raises(GeometryError, match="whole rafts"):
        things.duplicate_standing(made, "Bench", Thing("zone", "last"), Fraction(1), Fraction(1))


def test_a_new_obstacle_is_placed_by_its_middle_where_it_is_round() -> None:
    low = (Fraction(100), Fraction(50))
    disc = things.fresh_obstacle(BED, Disc(mm(40)), low)
    assert (disc.name, disc.centre, disc.corner) == ("obstacle 1", spot(120, 70), None)
    square = things.fresh_obstacle(BED, Rectangle(mm(40), mm(40)), low)
    assert (square.centre, square.corner) == (None, spot(100, 50))
    made = things.add_obstacle(PROJECT, "Bench", disc)
    assert things.fresh_obstacle(bed_of(made), Disc(mm(40)), low).name == "obstacle 2"
    with pytest.raises(GeometryError):
        things.add_obstacle(PROJECT, "Bench", replace(disc, shape=Disc(mm(0))))


def test_what_is_taken_out_is_gone_and_a_joint_cannot_be() -> None:
    made = things.remove_thing(PROJECT, "Bench", Thing("obstacle", 1))
    assert [each.name for each in bed_of(made).obstacles] == ["standpipe", "stone"]
    made = things.remove_thing(PROJECT, "Bench", Thing("zone", "herbs"))
    assert [each.name for each in bed_of(made).zones] == ["last"]
    with pytest.raises(GeometryError, match="fewer rafts"):
        things.remove_thing(PROJECT, "Bench", Thing("along", 0))
    with pytest.raises(GeometryError, match="nothing like that"):
        things.remove_thing(PROJECT, "Bench", Thing("obstacle", 9))


@given(st.integers(0, 3), ways, ways)
def test_what_stands_in_the_water_stays_when_a_wall_is_pulled(
    number: int, dx: Fraction, dy: Fraction
) -> None:
    """Measured from a wall that does not move, every obstacle and zone is where it was."""
    x, y = ((0, 0), (2360, 0), (2360, 580), (0, 580))[number]
    try:
        made = things.pull_corner(PROJECT, "Bench", number, x + dx, y + dy)
    except GeometryError:
        assume(False)
        return
    length, width = exact_box(bed_of(made).outline)
    assert length == 2360 + (dx if x else -dx)
    assert width == 580 + (dy if y else -dy)
    from_left = 0 if x else length - 2360
    from_below = 0 if y else width - 580
    for thing in STANDING:
        left, bottom, _, _ = box(PROJECT, thing)
        assert box(made, thing)[:2] == (left + from_left, bottom + from_below)


def test_a_free_corner_is_added_pulled_and_taken_out() -> None:
    made, corner = things.add_corner(PROJECT, "Bench", Fraction(1000), Fraction(-40))
    assert corner == Thing("corner", 1)
    assert exact_box(bed_of(made).outline) == (2360, 620)
    assert box(made, STANDING[1]) == (500, 240, 600, 300)
    made = things.pull_corner(made, "Bench", 1, Fraction(1000), Fraction(20))
    assert exact_box(bed_of(made).outline) == (2360, 600)
    made = things.remove_thing(made, "Bench", corner)
    assert exact_box(bed_of(made).outline) == (2360, 580)
    assert box(made, STANDING[1]) == box(PROJECT, STANDING[1])


def test_a_corner_that_cannot_be_says_why() -> None:
    with pytest.raises(GeometryError, match="pull it the other way"):
        things.pull_corner(PROJECT, "Bench", 1, Fraction(15), Fraction(0))
    crossed = with_bed(outline=STONE.shape, obstacles=(), zones=(), clearance=mm(0))
    with pytest.raises(GeometryError, match="back on itself"):
        things.pull_corner(crossed, "Bench", 2, Fraction(40), Fraction(5))
    taper = with_bed(outline=Tapered(mm(2000), mm(500), mm(300)), rafts=One())
    made = things.pull_corner(taper, "Bench", 3, Fraction(0), Fraction(550))
    assert bed_of(made).outline == Tapered(mm(2000), mm(600), mm(300))
    assert box(made, STANDING[1]) == (500, 250, 600, 310)


@given(st.integers(0, 2), st.integers(-4000, 4000).map(lambda n: Fraction(n, 7)))
def test_a_moved_joint_lies_where_it_was_put(number: int, by: Fraction) -> None:
    thing = Thing("along", number)
    at = things.joint_place(BED, thing)
    made = things.move_joint(PROJECT, "Bench", thing, at + by)
    assert things.joint_place(bed_of(made), thing) == at + by
    others = [
        a - b for a, b in zip(joint_lines(bed_of(made)).along, joint_lines(BED).along, strict=True)
    ]
    assert others == [by] * 3
    back = things.move_joint(made, "Bench", thing, at)
    assert back == PROJECT


def test_joint_lines_lie_midway_between_neighbouring_rafts() -> None:
    rafts = lay_rafts(BED).rafts
    assert joint_lines(BED).along == tuple(
        (left.x + left.shape.length + right.x) / 2 for left, right in pairwise(rafts)
    )
    assert joint_lines(replace(BED, clearance=mm(400))).along == ()


def test_a_joint_of_rafts_by_largest_size_makes_a_split_of_them() -> None:
    project = with_bed(rafts=Fit(mm(800), mm(300)))
    thing = Thing("across", 0)
    at = things.joint_place(bed_of(project), thing)
    made = things.move_joint(project, "Bench", thing, at + 20)
    assert bed_of(made).rafts == Split(3, 2, mm(0), mm(20))
    with pytest.raises(GeometryError, match="No raft"):
        things.move_joint(project, "Bench", thing, Fraction(0))
    with pytest.raises(GeometryError, match="no such joint"):
        things.move_joint(with_bed(rafts=One()), "Bench", thing, Fraction(0))


def test_bounds_of_the_file_hold_for_edits_too() -> None:
    with pytest.raises(GeometryError):
        things.move_standing(PROJECT, "Bench", STANDING[0], Fraction(10**7), Fraction(0))
    with pytest.raises(GeometryError):
        things.set_standing(PROJECT, "Bench", STANDING[0], clearance=mm(-1))
    assert edits.find_bed(PROJECT, "Bench") is BED
