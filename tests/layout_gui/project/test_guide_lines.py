"""Guide lines are added, moved, locked and taken out; they belong to a bed and change no plan."""

import pytest
from hypothesis import given

from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.guide_line import GuideLine
from geometry.model.outlines import Rectangle
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.project import edits
from layout_gui.project import edits_guide_lines as lines
from tests.strategies import guide_lines, places


def mm(value: float) -> Length:
    return Length.of(value)


def bench() -> Project:
    return Project("P", beds=(Bed("North", Rectangle(mm(1000), mm(500))),))


LINE = GuideLine("North", "x", mm(250))


def test_a_line_is_there_once() -> None:
    once = lines.add_guide_line(bench(), LINE)
    assert once.guide_lines == (LINE,)
    assert lines.add_guide_line(once, LINE) is once
    other = GuideLine("North", "y", mm(250))
    assert lines.guide_lines_of(lines.add_guide_line(once, other), "North") == (LINE, other)


def test_a_line_moved_onto_another_becomes_one_with_it() -> None:
    two = lines.add_guide_line(
        lines.add_guide_line(bench(), LINE), GuideLine("North", "x", mm(300))
    )
    assert [line.at for line in lines.move_guide_line(two, LINE, mm(20)).guide_lines] == [
        mm(20),
        mm(300),
    ]
    assert lines.move_guide_line(two, LINE, mm(300)).guide_lines == two.guide_lines[1:]
    assert lines.move_guide_line(two, LINE, LINE.at) is two


def test_a_locked_line_stays() -> None:
    project = lines.lock_guide_line(lines.add_guide_line(bench(), LINE), LINE, locked=True)
    (locked,) = project.guide_lines
    assert locked.locked
    for edit in (
        lambda: lines.move_guide_line(project, locked, mm(3)),
        lambda: lines.remove_guide_line(project, locked),
    ):
        with pytest.raises(GeometryError, match="locked"):
            edit()
    assert lines.remove_guide_lines(project, "North").guide_lines == ()
    free = lines.lock_guide_line(project, locked, locked=False)
    assert lines.remove_guide_line(free, LINE).guide_lines == ()


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(GeometryError, match="no bed"):
        lines.add_guide_line(bench(), GuideLine("South", "x", mm(1)))
    with pytest.raises(GeometryError, match="1000 m"):
        lines.add_guide_line(bench(), GuideLine("North", "x", Length.of(2_000_000)))
    with pytest.raises(GeometryError, match="gone"):
        lines.remove_guide_line(bench(), LINE)


def test_lines_follow_their_bed() -> None:
    project = lines.add_guide_line(bench(), LINE)
    assert edits.rename_bed(project, "North", "South").guide_lines[0].bed == "South"
    assert edits.remove_bed(project, "North").guide_lines == ()


def test_a_line_changes_nothing_of_the_plan() -> None:
    before = make_plan(bench())
    after = make_plan(lines.add_guide_line(bench(), LINE), before)
    assert after.beds[0] is before.beds[0]


@given(line=guide_lines, at=places)
def test_a_line_goes_where_it_is_put(line: GuideLine, at: Length) -> None:
    line = GuideLine("North", line.axis, line.at)
    if max(abs(line.at.exact), abs(at.exact)) > 1_000_000:
        return
    moved = lines.move_guide_line(lines.add_guide_line(bench(), line), line, at)
    assert [each.at.exact for each in moved.guide_lines] == [at.exact]
    assert lines.remove_guide_line(moved, moved.guide_lines[0]).guide_lines == ()
