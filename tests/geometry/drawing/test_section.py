"""A bed cut through: what is drawn is what floats."""

from dataclasses import replace
from fractions import Fraction
from typing import get_args

import pytest
import shapely

from geometry.drawing.marks import Drawing, Path, Text
from geometry.drawing.section import Axis, Level, Section, State, cut_through, draw_section
from geometry.drawing.styles import Style
from geometry.drawing.transforms import marks_of
from geometry.model.bed import Bed, Split
from geometry.model.curves import Line
from geometry.model.outlines import Rectangle, RoundEnded
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.water import Walls, Water
from geometry.plan import Plan, make_plan
from geometry.units import Length, Unit

mm = Length.of
POT = Pot("net pot", mm(48), mm(70), mm(34), mm(56), mm(2), Fraction(110))
WATER = Water(mm(180), mm(40), mm(15), walls=Walls(mm(180), mm(2000), mm(540)))


def _plan(water: Water = WATER, thickness: float | None = 50) -> Plan:
    planting = Planting(
        mm(200), mm(50), crop="ours", edge_margin=mm(80), joints="interchangeable", pot="net pot"
    )
    bed = Bed(
        "Bench", Rectangle(mm(2360), mm(600)), clearance=mm(10), joint_gap=mm(5),
        rafts=Split(2, 1), planting=planting, water=water,
    )  # fmt: skip
    sheet = Sheet("board", mm(2500), mm(1200), None if thickness is None else mm(thickness))
    crops = (OwnCrop("ours", mm(200), grams=Fraction(300)),)
    return make_plan(Project("Trial", beds=(bed,), sheets=(sheet,), pots=(POT,), crops=crops))


def _cut(
    plan: Plan, axis: Axis = "along", level: Level = "working", state: State = "harvest"
) -> Section:
    found = cut_through(plan, plan.beds[0], axis, level, state)
    assert found is not None
    return found


def _polygons(drawing: Drawing, style: Style) -> list[shapely.Polygon]:
    return [
        shapely.Polygon([curve.start for curve in mark.curves])
        for mark in marks_of(drawing.groups)
        if isinstance(mark, Path) and mark.style is style and mark.closed
        if all(isinstance(curve, Line) for curve in mark.curves)
    ]


@pytest.mark.parametrize("state", get_args(State))
def test_the_foam_that_is_drawn_floats_by_archimedes(state: State) -> None:
    plan = _plan()
    (raft,) = plan.waters[0].rafts.values()
    afloat = raft.afloat
    assert afloat is not None

    section = _cut(plan, state=state)

    foam = _polygons(draw_section(section, "mm", 8), Style.RAFT)
    under = shapely.box(-1e4, -1e4, 1e4, section.water)
    # The water that the cut foam pushes aside, over the length of the foam: the mean draft.
    whole = sum(part.area for part in foam) / 50
    mean = sum(part.intersection(under).area for part in foam) / whole
    if state == "half picked":
        assert mean < afloat.harvest.floating.draft
        low = min(cut.top + cut.rise(cut.right) for cut in section.rafts)
        assert low == pytest.approx(afloat.along.low, abs=0.01)
    else:
        at = {"planting": afloat.planting, "waterlogged": afloat.waterlogged}.get(
            state, afloat.harvest
        )
        assert mean == pytest.approx(at.floating.draft)
    # True scale: the two rafts and their gaps fill the bed.
    ends = shapely.union_all(foam).bounds
    assert (ends[0], ends[2]) == (pytest.approx(10), pytest.approx(2350))


def test_pots_hang_where_their_measures_say() -> None:
    section = _cut(_plan())
    pots = _polygons(draw_section(section, "mm", 8), Style.POT)

    assert len(pots) == sum(site.pot is not None for cut in section.rafts for site in cut.sites)
    for pot, cut in zip(pots, [c for c in section.rafts for _ in c.sites], strict=True):
        left, foot, right, top = pot.bounds
        assert (right - left, top - foot) == (pytest.approx(56), pytest.approx(72))
        assert foot == pytest.approx(cut.top - 70)


def test_walls_lean_as_they_were_measured() -> None:
    section = _cut(_plan())

    # 2360 long at the working level, 2000 at 180 below it: one in one, from both sides.
    assert section.lean == pytest.approx(1.0)
    (water,) = _polygons(draw_section(section, "mm", 8), Style.WATER)
    assert water.area == pytest.approx((2360 + 2000) / 2 * 180)
    low = _cut(_plan(), "across", "low")
    (lower,) = _polygons(draw_section(low, "mm", 8), Style.WATER)
    # Across: 600 wide, 540 at the floor; 40 lower they are 40 / 180 of the way in.
    assert lower.area == pytest.approx((600 - 60 * 40 / 180 + 540) / 2 * 140)


def test_a_bed_that_runs_dry_holds_its_rafts_up() -> None:
    shallow = replace(WATER, depth=mm(80), low=mm(55), walls=None)
    plan = _plan(shallow)

    afloat, aground = _cut(plan), _cut(plan, level="low")

    assert not any(cut.is_held for cut in afloat.rafts)
    for cut in aground.rafts:
        assert cut.is_held
        feet = [cut.top + site.pot.proud - 70 for site in cut.sites if site.pot is not None]
        assert min(feet) == pytest.approx(-80)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_sizes_say_what_is_drawn(unit: Unit) -> None:
    section = _cut(_plan())
    marks = marks_of(draw_section(section, unit, 8).groups)
    said = " | ".join(mark.text for mark in marks if isinstance(mark, Text))

    for words in ("draft", "freeboard", "in the water", "high water", "low water", "floor"):
        assert words in said
    assert (" mm" in said) is (unit == "mm")


def test_beds_without_foam_holes_or_straight_walls_are_cut_too() -> None:
    assert _cut(_plan(thickness=None)).rafts == ()
    plan = _plan(Water())
    bare = replace(
        plan.project.beds[0],
        planting=None,
        outline=RoundEnded(mm(1800), mm(600)),
        rafts=Split(3, 1),
    )
    cut = _cut(make_plan(replace(plan.project, beds=(bare,))))

    assert len(cut.rafts) == 3
    assert not any(each.sites for each in cut.rafts)
    assert cut.floor is None
    assert draw_section(cut, "mm", 8).groups
