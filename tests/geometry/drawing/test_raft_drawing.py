"""The raft drawing: what stands where, in raft coordinates."""

from math import hypot

import pytest

from geometry.drawing.marks import Circle, Path, Text
from geometry.drawing.raft import draw_raft, hole_group, pilot_mark
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Line, Point
from tests.builders import make_design


def test_each_hole_is_one_group_with_its_rim_where_the_design_has_it() -> None:
    design = make_design()

    groups = {group.id: group for group in draw_raft(design).groups}

    assert list(groups) == ["outline", "datum", *design.holes.names]
    for name, (x, y) in zip(design.holes.names, design.holes.xy, strict=True):
        rim = next(mark for mark in groups[name].marks if isinstance(mark, Circle))
        assert (rim.centre, rim.radius, rim.style) == ((x, y), 25, Style.HOLE)


def test_names_and_size_are_written_only_when_asked_for() -> None:
    bare = draw_raft(make_design(), names=False)
    full = draw_raft(make_design(), unit="in", names=True)

    assert not [m for g in bare.groups for m in g.marks if isinstance(m, Text)]
    texts = [m.text for g in full.groups for m in g.marks if isinstance(m, Text)]
    assert texts[0] == "22 7/8 \N{MULTIPLICATION SIGN} 22 1/16 in"
    assert texts[1:] == list(make_design().holes.names)


@pytest.mark.parametrize("radius", [2, 4, 6, 8, 10, 12.5, 19, 25, 25.4, 40, 75])
@pytest.mark.parametrize("name", ["A1", "AB128"])
def test_a_name_keeps_within_8_mm_of_its_rim_and_off_rim_and_cross(
    radius: float, name: str
) -> None:
    group = hole_group(name, Point(100, 100), radius)
    text = next(mark for mark in group.marks if isinstance(mark, Text))
    strokes = [mark for mark in group.marks if isinstance(mark, Path)]

    half = text_width(name, text.height) / 2
    bottom, top = text.at.y, text.at.y + text.height * CAP_HEIGHT
    corners = [hypot(sign * half, y - 100) for sign in (-1, 1) for y in (bottom, top)]
    assert all(abs(corner - radius) < 8 for corner in corners)
    assert all(corner < radius for corner in corners) or bottom > 100 + radius
    highest = max(line.end.y for path in strokes for line in path.curves if isinstance(line, Line))
    assert bottom > highest


def test_the_strokes_of_a_pilot_mark_point_at_the_centre_and_leave_it_free() -> None:
    *marks, ring = pilot_mark(Point(7, 3), 25)
    assert ring == Circle(Point(7, 3), 1.0, Style.CENTRE)
    strokes = [mark.curves[0] for mark in marks]

    assert len(strokes) == 4
    for line in strokes:
        assert isinstance(line, Line)
        assert hypot(line.start.x - 7, line.start.y - 3) == 1
        assert hypot(line.end.x - 7, line.end.y - 3) == 4
        assert (line.start.x - 7) * (line.end.y - 3) == (line.start.y - 3) * (line.end.x - 7)
