"""Crops and plugs are told apart by marks of their own shape, and in words."""

from dataclasses import replace

import numpy as np

from geometry.drawing.bed import draw_bed
from geometry.drawing.crop_marks import hole_lines, hole_marks, inner_share, plugged_text
from geometry.drawing.cut_sheet import compose_cut_sheet
from geometry.drawing.marks import Circle, Path, Text
from geometry.drawing.styles import Style
from geometry.drawing.template import compose_template
from geometry.holes.sites import Holes
from geometry.model.bed import Bed, Split
from geometry.model.curves import Point
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import Plan, make_plan
from geometry.units import Length
from tests.builders import make_holes


def mm(value: float) -> Length:
    return Length.of(value)


LETTUCE = Planting(mm(200), mm(50), crop="lettuce", pattern="square", in_use="every second")
BASIL = ZoneRules(crop="basil", hole_diameter=mm(40), in_use="all")


def plan() -> Plan:
    corner = Zone("herbs", BASIL, Rectangle(mm(400), mm(600)), corner=(mm(0), mm(0)))
    outline = Rectangle(mm(1700), mm(850))
    bed = Bed("Bench", outline, rafts=Split(2, 1), planting=LETTUCE, zones=(corner,))
    return make_plan(Project("test", beds=(bed,)))


def marked() -> Holes:
    holes = make_holes([(100, 100), (300, 100), (500, 100)])
    return replace(holes, plantings=np.array([0, 1, 2]), plugged=np.array([True, False, False]))


def test_a_hole_has_as_many_rings_as_its_zone_s_number_and_ticks_when_plugged() -> None:
    rings = []
    for index in range(3):
        marks = list(hole_marks(marked(), index, Point(0, 0), 25))
        rings.append(sum(mark.style is Style.CROP for mark in marks))
        ticks = [mark for mark in marks if mark.style is Style.PLUG]
        assert len(ticks) == (4 if index == 0 else 0)
        for mark in marks:
            if isinstance(mark, Circle):
                assert inner_share(index) * 25 <= mark.radius < 25

    assert rings == [0, 1, 2]
    outside = list(hole_marks(marked(), 1, Point(0, 0), 25, outside=True))
    assert all(isinstance(mark, Circle) and mark.radius > 25 for mark in outside)


def test_the_words_name_size_crop_mark_and_plugs() -> None:
    plantings = (LETTUCE, replace(LETTUCE, crop="basil"), replace(LETTUCE, crop=""))

    assert hole_lines(marked(), plantings, "mm") == (
        "1 hole of 50 mm for lettuce (plain)",
        "1 hole of 50 mm for basil (one ring)",
        "1 hole of 50 mm for zone 2 (two rings)",
        "3 holes, 2 in use now, 1 plugged (ticks)",
    )
    assert hole_lines(make_holes(), (LETTUCE,), "mm") == ("2 holes of 50 mm",)
    assert plugged_text(make_holes(), "mm") is None


def test_a_square_raft_with_plugs_says_the_diagonal_between_plants() -> None:
    # 200 mm square rows: 200 * sqrt(2) = 282.8 mm (Pythagoras).
    planting = replace(LETTUCE, spread=False)
    bed = Bed("Raft", Rectangle(mm(1600), mm(1800)), planting=planting)
    (raft,) = make_plan(Project("test", beds=(bed,))).beds[0].designs

    assert plugged_text(raft.holes, "mm") == (
        "72 holes, 36 in use now, 36 plugged (ticks); those in use keep 282.8 mm"
    )


def test_zones_are_drawn_with_the_bed() -> None:
    groups = {group.id: group.marks for group in draw_bed(plan().beds[0]).groups}

    (mark,) = groups["zone herbs"]
    assert isinstance(mark, Path)
    assert mark.style is Style.ZONE


def test_cut_sheet_and_template_carry_marks_and_words() -> None:
    for pages in (compose_cut_sheet(plan()), compose_template(plan())):
        marks = [
            mark
            for page in pages
            for picture in page.pictures
            for group in picture.drawing.groups
            for mark in group.marks
        ]
        text = " ".join(mark.text for mark in marks if isinstance(mark, Text))
        assert {Style.CROP, Style.PLUG} <= {mark.style for mark in marks}
        assert "for basil (one ring)" in text
        assert "plugged (ticks)" in text
