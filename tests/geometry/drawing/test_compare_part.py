"""The pages that compare: what stands there is what a plan with those rules really holds."""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.drawing.compare_part import compare_part
from geometry.drawing.flow import Part
from geometry.drawing.marks import Path, Text
from geometry.drawing.paper import COMMON
from geometry.drawing.styles import Style
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Disc, Outline, Rectangle
from geometry.model.planting import Pin, Planting
from geometry.model.project import Choice, Project
from geometry.plan import Plan, make_plan
from geometry.units import Length, Unit, parse_length

mm = Length.of


def _project(
    outline: Outline | None = None, *, units: Unit = "mm", choices: tuple[Choice, ...] = ()
) -> Project:
    bed = Bed(
        "Bench",
        outline or Rectangle(mm(1250), mm(800)),
        clearance=mm(10),
        planting=Planting(mm(200), mm(50), pattern="square", edge_margin=mm(60), web=mm(25)),
    )
    return Project("Trial", units, (bed,), choices=choices)


def _part(plan: Plan) -> Part:
    part = compare_part(plan, COMMON)
    assert part is not None
    return part


def _lines(plan: Plan) -> list[list[str]]:
    """The words of every row, in the order in which they are drawn."""
    rows = [row.draw(0, 0) for row in _part(plan).rows]
    return [[mark.text for mark in marks if isinstance(mark, Text)] for marks in map(list, rows)]


def _plants(project: Project, **changes: object) -> int:
    (bed,) = project.beds
    assert bed.planting is not None
    planting = replace(bed.planting, **changes)  # type: ignore[arg-type]
    return make_plan(replace(project, beds=(replace(bed, planting=planting),))).plants


@pytest.mark.parametrize("units", ["mm", "cm", "in"])
def test_the_threshold_of_the_spacing_is_where_the_plan_really_loses_plants(units: Unit) -> None:
    project = _project(units=units)
    plan = make_plan(project)
    (row,) = (line for line in _lines(plan) if line[:1] == ["spacing"])
    step = Fraction(254, 320) if units == "in" else Fraction(1, 10)

    same, more = (parse_length(text, units).exact for text in row[2:4])

    assert _plants(project, spacing=Length(same)) == plan.plants
    assert _plants(project, spacing=Length(same + step)) < plan.plants
    assert _plants(project, spacing=Length(more)) == plan.plants + int(row[4])
    assert _plants(project, spacing=Length(more + step)) == plan.plants


def test_every_choice_holds_what_its_plan_holds() -> None:
    plan = make_plan(_project(choices=(Choice("narrow", "Bench", spacing=mm(150)),)))
    found = {line[0]: line for line in _lines(plan) if len(line) >= 6}

    assert found["as it stands"][4] == f"{plan.plants}"
    for name, changes in (
        ("narrow", {"spacing": mm(150)}),
        ("hexagonal rows", {"pattern": "hexagonal"}),
        ("best of all patterns", {"pattern": "best"}),
        ("spacing 180 mm", {"spacing": mm(180)}),
        ("spacing 220 mm", {"spacing": mm(220)}),
        ("edge margin 0 mm", {"edge_margin": mm(0)}),
    ):
        plants = _plants(plan.project, **changes)
        assert found[name][4] == f"{plants}"
        gain = plants - plan.plants
        assert found[name][5] == (f"{gain:+d}" if gain else found[name][-1])


def test_a_kept_choice_that_wants_a_number_stands_with_the_spacing_found() -> None:
    plan = make_plan(_project(choices=(Choice("24 heads", "Bench", count=24),)))
    (row,) = (line for line in _lines(plan) if line[:1] == ["24 heads"])

    assert int(row[4]) >= 24
    assert _plants(plan.project, spacing=mm(float(row[2]))) == int(row[4])


def test_the_curve_goes_down_to_the_right_and_names_its_steps() -> None:
    marks = [mark for row in _part(make_plan(_project())).rows for mark in row.draw(0, 0)]

    (curve,) = (mark for mark in marks if isinstance(mark, Path) and mark.style is Style.CUT)
    heights = [line.end.y for line in curve.curves]
    assert heights == sorted(heights, reverse=True)
    assert "Plants by spacing" in [mark.text for mark in marks if isinstance(mark, Text)]


def test_an_odd_bed_lists_only_what_is_soon_counted_and_says_so() -> None:
    kept = tuple(Choice(f"kept {n}", "Bench", spacing=mm(150 + n)) for n in range(5))
    lines = _lines(make_plan(_project(Disc(mm(900)), choices=kept)))

    names = [line[0] for line in lines if line]
    assert names[2] == "as it stands"
    assert [name for name in names if name.startswith("kept")] == ["kept 0", "kept 1"]
    assert "3 more kept choices not counted here." in names
    assert any("look under What if" in name for name in names)
    assert not any(name == "Plants by spacing" for name in names)


def test_hand_edits_are_said_to_be_left_aside() -> None:
    project = _project()
    (bed,) = project.beds
    assert bed.planting is not None
    pinned = replace(bed.planting, pins=(Pin("R1", mm(100), mm(100)),))
    plan = make_plan(replace(project, beds=(replace(bed, planting=pinned),)))

    assert any("Counted without the holes placed" in line[0] for line in _lines(plan) if line)


def test_a_plan_without_plants_has_nothing_to_compare() -> None:
    project = _project()
    bare = replace(project, beds=(replace(project.beds[0], planting=None),))

    assert compare_part(make_plan(bare), COMMON) is None


def test_a_large_bed_is_not_counted_again() -> None:
    bed = replace(
        _project().beds[0], outline=Rectangle(mm("60 m"), mm("40 m")), rafts=Split(30, 20)
    )
    assert bed.planting is not None
    planting = replace(bed.planting, pattern="best", joints="interchangeable")

    lines = _lines(make_plan(Project("Farm", beds=(replace(bed, planting=planting),))))

    assert [line[0] for line in lines if line][2:3] == ["as it stands"]
    assert not any(line[:1] == ["spacing"] for line in lines)
    assert any("look under What if" in line[0] for line in lines if line)


def test_other_patterns_of_an_odd_bed_stand_beside_it_as_the_plan_tried_them() -> None:
    project = _project(Disc(mm(900)))
    (bed,) = project.beds
    assert bed.planting is not None
    bed = replace(bed, planting=replace(bed.planting, pattern="best"))
    plan = make_plan(replace(project, beds=(bed,)))

    found = {line[0]: line for line in _lines(plan) if len(line) >= 6}

    for pattern, name in (("square", "square rows"), ("hexagonal", "hexagonal rows")):
        most = max(each.plants for each in plan.beds[0].tried if each.pattern == pattern)
        assert found[name][4] == f"{most}"


def test_an_odd_bed_with_one_pattern_and_no_kept_choice_has_nothing_beside_it() -> None:
    assert compare_part(make_plan(_project(Disc(mm(900)))), COMMON) is None
