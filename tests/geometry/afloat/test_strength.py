"""The weakest line, against the sum a grower does by hand and against all lines there are."""

from itertools import combinations
from math import hypot, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from geometry.afloat.corners import corners_of
from geometry.afloat.strength import ALL_PAIRS, weakest_line
from geometry.holes.sites import Holes
from geometry.model.curves import Loop
from tests.builders import make_grid, make_holes, make_loop, make_shape

INCH = 25.4


# By hand: (width of the raft - widths of the holes on the line) / width of the raft.
@pytest.mark.parametrize(("holes", "sound"), [(3, 0.75), (6, 0.5)])
def test_two_inch_holes_across_24_inches(holes: int, sound: float) -> None:
    shape = make_shape(1219.2, 609.6)
    # In the other direction the holes stand far apart.
    drilled = make_grid(1219.2, 609.6, columns=2, rows=holes, diameter=2 * INCH)

    line = weakest_line(shape.loop, drilled)

    assert line is not None
    assert line.sound == pytest.approx(sound)
    assert line.holes == holes
    assert line.start[0] == line.end[0]


def test_a_diagonal_through_staggered_holes_is_found() -> None:
    # Rows half a pitch aside: the diagonal meets a hole where the row has a gap.
    centres = [(100 * k + 50 * (row % 2), 87 * row) for row in range(1, 5) for k in range(1, 5)]
    outline = make_loop((0, 0), (700, 0), (700, 440), (0, 440))

    line = weakest_line(outline, make_holes(centres, diameter=40))

    assert line is not None
    assert line.sound == pytest.approx(
        _weakest_by_trying(outline, make_holes(centres, diameter=40))
    )


def test_a_hollow_outline_has_a_line_for_each_of_its_arms() -> None:
    # Across the left arm of an L, 200 wide, one hole of 80; the rest of the line is water.
    outline = make_loop((0, 0), (900, 0), (900, 200), (200, 200), (200, 700), (0, 700))

    line = weakest_line(outline, make_holes([(100, 500)], diameter=80))

    assert line is not None
    assert line.sound == pytest.approx(1 - 80 / 200)
    assert (line.start, line.end) == (pytest.approx((0, 500)), pytest.approx((200, 500)))


def test_a_raft_without_holes_has_no_weak_line() -> None:
    assert weakest_line(make_shape().loop, make_holes([])) is None


def test_holes_that_come_out_wider_leave_less() -> None:
    shape = make_shape(609.6, 1219.2)
    drilled = make_grid(609.6, 1219.2, columns=3, rows=2, diameter=2 * INCH)

    line = weakest_line(shape.loop, drilled, wobble=2.0)

    assert line is not None
    assert line.sound == pytest.approx(1 - 3 * (2 * INCH + 2) / 609.6)


_places = st.tuples(st.floats(40, 560), st.floats(40, 360))


@settings(max_examples=12, deadline=None)
@given(st.lists(_places, min_size=2, max_size=9), st.floats(15, 60), st.booleans())
def test_no_line_through_two_centres_is_weaker(
    centres: list[tuple[float, float]], diameter: float, hollow: bool
) -> None:
    corners = [(0, 0), (600, 0), (600, 400), (0, 400)]
    outline = make_loop(*(corners if not hollow else [*corners[:3], (300, 250), corners[3]]))
    holes = make_holes(centres, diameter=diameter)

    line = weakest_line(outline, holes)

    assert line is not None
    assert line.sound <= _weakest_by_trying(outline, holes) + 1e-6


@settings(max_examples=6, deadline=None)
@given(st.integers(7, 9), st.integers(7, 8), st.floats(60, 220), st.floats(60, 220))
def test_on_a_lattice_of_many_holes_no_line_through_two_centres_is_weaker(
    columns: int, rows: int, pitch: float, gap: float
) -> None:
    holes = make_holes(
        [(40 + pitch * k, 40 + gap * row) for k in range(columns) for row in range(rows)],
        diameter=35,
    )
    shape = make_shape(80 + pitch * (columns - 1), 80 + gap * (rows - 1))
    assert len(holes) > ALL_PAIRS

    line = weakest_line(shape.loop, holes)

    assert line is not None
    length, width = float(shape.length), float(shape.width)
    assert line.sound <= _weakest_in_a_box(length, width, holes) + 1e-6


def _weakest_in_a_box(length: float, width: float, holes: Holes) -> float:
    """Every line through two centres, clipped to the box."""
    best = 1.0
    radius = holes.diameters[0] / 2
    for (ax, ay), (bx, by) in combinations(holes.xy.tolist(), 2):
        far = hypot(bx - ax, by - ay)
        x, y = (bx - ax) / far, (by - ay) / far
        steps = [
            ((low - at) / way, (high - at) / way)
            for at, way, low, high in ((ax, x, 0, length), (ay, y, 0, width))
            if abs(way) > 1e-12
        ]
        chord = min(max(step) for step in steps) - max(min(step) for step in steps)
        off = np.abs((holes.xy[:, 0] - ax) * y - (holes.xy[:, 1] - ay) * x)
        taken = 2 * np.sqrt(np.clip(radius**2 - off**2, 0, None)).sum()
        best = min(best, 1 - taken / chord)
    return best


def _weakest_by_trying(outline: Loop, holes: Holes) -> float:
    """Every line through two centres, cut by an independent library."""
    raft = Polygon(corners_of(outline))
    drilled = [Point(x, y) for x, y in holes.xy.tolist()]
    best = 1.0
    for first, second in combinations(range(len(holes)), 2):
        a, b = holes.xy[first], holes.xy[second]
        far = hypot(*(b - a))
        if far < 1e-6:
            continue
        way = (b - a) / far
        whole = raft.intersection(LineString([a - 3000 * way, a + 3000 * way]))
        for part in getattr(whole, "geoms", [whole]):
            if part.length < 1e-6:
                continue
            taken = 0.0
            for hole, diameter in zip(drilled, holes.diameters.tolist(), strict=True):
                off = LineString([a - 3000 * way, a + 3000 * way]).distance(hole)
                if off < diameter / 2:
                    # Clipped to the part: a hole may reach over the edge.
                    half = sqrt((diameter / 2) ** 2 - off**2)
                    at = float((np.array(hole.coords[0]) - a) @ way)
                    ends = sorted(float((np.array(end) - a) @ way) for end in part.coords)
                    taken += max(0.0, min(at + half, ends[1]) - max(at - half, ends[0]))
            best = min(best, max(0.0, 1 - taken / part.length))
    return best
