"""What lies at a place of the bed, and what things snap to."""

from fractions import Fraction

import pytest

from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.guide_line import GuideLine
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.canvas.thing_places import ThingPlaces
from layout_gui.canvas.thing_snapping import ThingSnapper, thing_snapper
from layout_gui.project.things import Thing


def mm(value: float | str) -> Length:
    return Length.of(value)


PIPE, ZONE = Thing("obstacle", 0), Thing("zone", "herbs")
BED = Bed(
    "Bench",
    Rectangle(mm(1200), mm(600)),
    clearance=mm(10),
    joint_gap=mm(6),
    obstacles=(Obstacle("pipe", Disc(mm(60)), Spot(mm(300), mm(300))),),
    rafts=Split(2, 1),
    planting=Planting(mm(200), mm(50)),
    zones=(Zone("herbs", shape=Rectangle(mm(200), mm(30)), corner=(mm(700), mm(300))),),
)
PLAN = make_plan(Project("Bench", "mm", (BED,)), None).beds[0]


@pytest.fixture
def places() -> ThingPlaces:
    return ThingPlaces(PLAN)


def test_each_kind_is_found_within_its_reach_and_no_further(places: ThingPlaces) -> None:
    for x, y, thing in (
        (300, 300, PIPE),
        (335.9, 300, PIPE),
        (800, 305.9, ZONE),
        (600, 100, Thing("along", 0)),
        (606.9, 100, Thing("along", 0)),
        (1206.9, 606.9, Thing("corner", 2)),
    ):
        assert places.at(x, y, 1.0) == (thing,), (x, y)
    for x, y in ((336.1, 300), (800, 315), (607.1, 100), (600, 5), (1207.1, 600), (100, 100)):
        assert places.at(x, y, 1.0) == (), (x, y)


def test_reach_is_in_pixels(places: ThingPlaces) -> None:
    assert places.at(1213, 600, 1.0) == ()
    assert places.at(1213, 600, 2.0) == (Thing("corner", 2),)


def test_a_picked_corner_is_taken_from_12_pixels_away(places: ThingPlaces) -> None:
    corner = Thing("corner", 2)
    assert places.at(1211.9, 588.1, 1.0, corner) == (corner,)
    assert places.at(1212.1, 600, 1.0, corner) == ()


def test_a_narrow_thing_shows_no_grips_on_its_short_sides(places: ThingPlaces) -> None:
    assert len(places.shown_grips(ZONE, 0.1)) == 8
    shown = places.shown_grips(ZONE, 1.0)
    assert len(shown) == 6
    assert all(grip.is_corner or grip.y in {300, 330} for grip in shown.values())
    assert places.grip_at(ZONE, 700, 315, 0.1) == 7
    assert places.grip_at(ZONE, 700, 315, 1.0) is None
    assert places.grip_at(ZONE, 691, 291, 1.0) == 0


def snapper(without: Thing | None = None, **more: object) -> ThingSnapper:
    return thing_snapper(PLAN, "mm", without=without, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("axis", "value", "at", "word"),
    [
        ("x", "1196", 1200, "wall"),
        ("x", "603.2", 603, "edge of a raft"),
        ("x", "600.7", 600, "middle of the bed"),
        ("x", "331", 330, "edge of pipe"),
        ("x", "902", 900, "edge of herbs"),
        ("y", "316", 315, "middle of herbs"),
    ],
)
def test_lines_pull_within_reach_and_say_what_they_are(
    axis: str, value: str, at: int, word: str
) -> None:
    place = Fraction(value)
    off, guides = snapper().snap(axis, [place], 5)  # type: ignore[arg-type]
    assert place + off == at
    assert [guide.word for guide in guides] == [word]


def test_beyond_reach_the_tape_decides() -> None:
    off, guides = snapper().snap("x", [Fraction("450.4")], 5)
    assert Fraction("450.4") + off == 450
    assert guides == ()
    inches = thing_snapper(PLAN, "in")
    off, _ = inches.snap("x", [Fraction(450)], 2)
    assert (Fraction(450) + off) % Fraction(254, 160) == 0


def test_what_moves_is_nothing_to_snap_to() -> None:
    _, guides = snapper(without=PIPE).snap("x", [Fraction(331)], 5)
    assert guides == ()


def test_of_several_places_the_nearest_to_a_line_snaps() -> None:
    off, guides = snapper(without=PIPE).snap("x", [Fraction(500), Fraction(598)], 5)
    assert off == Fraction(-1)  # 598 lies nearer to the raft's edge at 597 than 500 to anything
    assert guides[0].at == 597


def test_guide_lines_and_a_shown_grid_count_too() -> None:
    line = GuideLine("Bench", "x", mm("17 1/8 in"))
    off, guides = snapper(guide_lines=(line,)).snap("x", [Fraction(433)], 5)
    assert Fraction(433) + off == line.at.exact
    assert guides[0].word == "guide line"
    grid = (Fraction(50), Fraction(7), Fraction(0))
    off, guides = snapper(grid=grid).snap("x", [Fraction(455)], 5)
    assert Fraction(455) + off == 457
    assert guides[0].word == "grid"
