"""How a raft of odd shape is cut out of its rectangle: corners from the datum, arcs by offsets."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import ceil, cos, dist, floor, hypot, pi, sin, sqrt
from typing import Final

import numpy as np

from geometry.drawing.clearance import bearing
from geometry.drawing.figures import by_text, figure
from geometry.drawing.flow import Column, Row, gap, heading, side_by_side, table, words
from geometry.drawing.lettering import line, text_box
from geometry.drawing.marks import Box, Mark, frame
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT
from geometry.drawing.transforms import Shift
from geometry.model.curves import Arc, Curve, Line
from geometry.model.edges import start_of
from geometry.model.measure import bounds_of, distance
from geometry.rafts.layout import RaftShape, Side
from geometry.tongue import mark, tr
from geometry.units import MM_PER, TOLERANCE_MM, Unit

SIDE_WORDS: Final[dict[Side, str]] = {
    "left": mark("left"), "right": mark("right"),
    "bottom": mark("lower"), "top": mark("upper"),
}  # fmt: skip

_OUTWARDS: Final[tuple[Side, ...]] = ("right", "top", "left", "bottom")
"""The side that a quarter of a circle faces, counted from the positive x axis."""

_INWARDS: Final[tuple[Side, ...]] = ("left", "bottom", "right", "top")
_NUMBER_MM = 3.4
_NUMBER_IN_MM = 3.6
_TURNS: Final = (0.0, 0.35, -0.35, 0.7, -0.7)
"""How far aside of the middle of its corner a number may stand, in radians, the middle first."""

_MOST_SETS = 3
_BESIDE = 2
_TABLE_MM = 4.0
_WORDS_MM = 3.8


@dataclass(frozen=True, slots=True)
class Offsets:
    """How far an arc lies in from one side of the rectangle.

    ``stations`` are pairs in mm: along the side, from its lower or left end, and in from the side.
    """

    arc: int
    side: Side
    stations: tuple[tuple[float, float], ...]


def station_step(unit: Unit) -> Fraction:
    """Return the distance of two stations along a side: 50 mm or 2 in."""
    return 2 * MM_PER["in"] if unit == "in" else Fraction(50)


def arcs_of(shape: RaftShape) -> tuple[Arc, ...]:
    """Return the arcs of an outline in its order; those that run on along one circle are one."""
    return tuple(curve for curve in _in_order(shape) if isinstance(curve, Arc))


def arc_offsets(shape: RaftShape, step: Fraction) -> tuple[Offsets, ...]:
    """Return where every arc lies, station by station, in from the side that it faces most.

    Stations are whole steps from the lower or left end of the side, and both ends of the stretch.
    An arc within less than a step is left out: its centre and radius say all.
    """
    found: list[Offsets] = []
    for number, arc in enumerate(arcs_of(shape), start=1):
        left, bottom, right, top = bounds_of((arc,))
        if max(right - left, top - bottom) < float(step):
            continue
        found += [
            Offsets(number, side, _stations(arc, quarter, side, span, shape, step))
            for quarter, side, span in _quarters(arc)
        ]
    return tuple(found)


def shaping_rows(shape: RaftShape, unit: Unit, room: float) -> tuple[Row, ...]:
    """Say how to cut a raft to its shape; nothing for a rectangle."""
    if shape.is_rectangle:
        return ()
    arcs = arcs_of(shape)
    rows = [
        gap(),
        heading(
            tr(
                "Cut to shape out of a rectangle of {size} {unit}",
                size=by_text(shape.length, shape.width, unit),
                unit=unit,
            )
        ),
        words(_order_of_work(shape), room, height=_WORDS_MM),
        *_corner_table(shape, unit),
    ]
    if arcs:
        rows += [gap(2), *_arc_table(arcs, unit)]
    if offsets := arc_offsets(shape, station_step(unit)):
        rows += [
            gap(),
            heading(
                tr(
                    "Arcs by offsets, every {step} {unit}",
                    step=figure(station_step(unit), unit),
                    unit=unit,
                )
            ),
            words(
                tr(
                    "Measure along a side of the rectangle, from its left or lower end, to the "
                    "station, then straight in from that side by the offset. Join the points "
                    "with a bent lath, or swing the radius where the centre lies on the "
                    "rectangle."
                ),
                room,
                height=_WORDS_MM,
            ),
            *_offset_tables(offsets, unit),
        ]
    return tuple(rows)


def shape_proof(shape: RaftShape) -> tuple[int, int, float] | None:
    """Return the two corners that lie farthest apart, by number, and how far in mm.

    None for a rectangle, whose diagonals say it, and for an outline with fewer than two corners.
    """
    corners = [start_of(curve) for curve in _in_order(shape)]
    if shape.is_rectangle or len(corners) < 2:
        return None
    first, second = max(
        combinations(range(len(corners)), 2),
        key=lambda pair: round(dist(corners[pair[0]], corners[pair[1]]), 6),
    )
    return first + 1, second + 1, dist(corners[first], corners[second])


def shaping_marks(shape: RaftShape, shift: Shift, keep_off: Sequence[Box] = ()) -> Iterator[Mark]:
    """Draw the rectangle that a raft of odd shape is cut from, and number its corners.

    Numbers stand inside, off these boxes where they can.
    """
    if shape.is_rectangle:
        return
    far = shift.point(float(shape.length), float(shape.width))
    yield frame(Box(*shift.point(0, 0), *far), Style.HINT)
    curves = _in_order(shape)
    taken: list[Box] = []
    for number, curve in enumerate(curves, start=1):
        corner = shift.point(*start_of(curve))
        before, after = bearing(curves[number - 2], at_end=True), bearing(curve, at_end=False)
        middle = before + ((after - before + pi) % (2 * pi) - pi) / 2 + pi / 2
        places = [
            line(
                corner.x + away * cos(middle + turn),
                corner.y + away * sin(middle + turn) - _NUMBER_MM * CAP_HEIGHT / 2,
                f"{number}",
                _NUMBER_MM,
                style=Style.TITLE,
                anchor="middle",
            )
            for away in (_NUMBER_IN_MM * steps for steps in (1, 1.8, 2.6, 3.4, 4.2, 5.0))
            for turn in _TURNS
        ]
        boxes = [box for place in places if (box := text_box(place)) is not None]
        near = [box for box in (*keep_off, *taken) if box.meets(boxes[0].grown(_NUMBER_IN_MM * 5))]
        free = [
            index for index, box in enumerate(boxes) if not any(box.meets(other) for other in near)
        ]
        chosen = free[0] if free else 0
        taken.append(boxes[chosen])
        yield places[chosen]


def _in_order(shape: RaftShape) -> tuple[Curve, ...]:
    """The curves of an outline, the one that begins nearest to the datum corner first.

    Arcs that run on along one circle are one; a whole circle begins where its loop does.
    """
    curves = shape.loop.curves
    breaks = [k for k in range(len(curves)) if not _runs_on(curves[k - 1], curves[k])] or [0]
    first = min(breaks, key=lambda k: round(sum(start_of(curves[k])), 6))
    joined: list[Curve] = []
    for curve in (*curves[first:], *curves[:first]):
        last = joined[-1] if joined else None
        if isinstance(last, Arc) and isinstance(curve, Arc) and _runs_on(last, curve):
            joined[-1] = Arc(last.centre, last.radius, last.angle, last.sweep + curve.sweep)
        else:
            joined.append(curve)
    return tuple(joined)


def _runs_on(arc: Curve, following: Curve) -> bool:
    if not isinstance(arc, Arc) or not isinstance(following, Arc) or arc is following:
        return False
    if (arc.sweep > 0) != (following.sweep > 0):
        return False
    away = hypot(arc.centre.x - following.centre.x, arc.centre.y - following.centre.y)
    turn = (following.angle - arc.angle - arc.sweep + pi) % (2 * pi) - pi
    return (
        away <= TOLERANCE_MM
        and abs(arc.radius - following.radius) <= TOLERANCE_MM
        and abs(turn) * arc.radius <= TOLERANCE_MM
    )


def _quarters(arc: Arc) -> Iterator[tuple[int, Side, tuple[float, float]]]:
    """Cut an arc where it faces two sides alike; give the quarter, the side and the angles."""
    low, high = sorted((arc.angle, arc.angle + arc.sweep))
    sides = _OUTWARDS if arc.sweep > 0 else _INWARDS
    spans: dict[int, list[tuple[float, float]]] = {}
    first = floor((low + pi / 4) / (pi / 2))
    for quarter in range(first, ceil((high + pi / 4) / (pi / 2))):
        start, end = (max(low, quarter * pi / 2 - pi / 4), min(high, quarter * pi / 2 + pi / 4))
        if (end - start) * arc.radius > TOLERANCE_MM:
            turn = 2 * pi * (quarter // 4)
            spans.setdefault(quarter % 4, []).append((start - turn, end - turn))
    for quarter, parts in spans.items():
        # A full circle that begins within a quarter comes back to it at its end.
        parts.sort()
        whole = len(parts) > 1 and abs(parts[0][1] - parts[1][0]) < 1e-9
        for span in [(parts[0][0], parts[1][1])] if whole else parts:
            yield quarter, sides[quarter], span


def _stations(
    arc: Arc, quarter: int, side: Side, span: tuple[float, float], shape: RaftShape, step: Fraction
) -> tuple[tuple[float, float], ...]:
    upright = quarter % 2 == 0  # it faces left or right, so the stations run up the side
    along_centre, in_centre = (arc.centre.y, arc.centre.x) if upright else arc.centre
    ends = sorted(
        along_centre + arc.radius * float(np.sin(at) if upright else np.cos(at)) for at in span
    )
    apart = float(step)
    first, last = floor(ends[0] / apart + 0.01) + 1, ceil(ends[1] / apart - 0.01)
    places = [ends[0], *(number * apart for number in range(first, last)), ends[1]]
    far = float(shape.length if upright else shape.width)
    bulge = 1 if quarter < 2 else -1
    stations = []
    for place in places:
        reach = sqrt(max(0.0, arc.radius**2 - (place - along_centre) ** 2))
        from_datum = in_centre + bulge * reach
        inwards = far - from_datum if side in {"right", "top"} else from_datum
        stations.append((place, inwards))
    return tuple(stations)


def _order_of_work(shape: RaftShape) -> str:
    lost = distance(np.zeros((1, 2)), shape.loop)[0] > TOLERANCE_MM
    if lost:
        return tr(
            "Cut the rectangle first; its lower left corner is the datum corner. Mark all holes "
            "and the corners below before anything is cut off, for the datum corner goes with the "
            "waste. Then cut from corner to corner."
        )
    return tr(
        "Cut the rectangle first; its lower left corner is the datum corner. Mark all holes and "
        "the corners below before anything is cut off. Then cut from corner to corner."
    )


def _corner_table(shape: RaftShape, unit: Unit) -> tuple[Row, ...]:
    columns = (
        Column(tr("corner"), 14),
        Column(f"x ({unit})", 20, "right"),
        Column(f"y ({unit})", 21, "right"),
        Column(tr("to the next"), 38),
    )
    return side_by_side(columns, list(_corner_cells(shape, unit)), _BESIDE, height=_TABLE_MM)


def _corner_cells(shape: RaftShape, unit: Unit) -> Iterator[tuple[str, ...]]:
    arcs = 0
    for corner, curve in enumerate(_in_order(shape), start=1):
        x, y = start_of(curve)
        if isinstance(curve, Arc):
            arcs += 1
            way = tr("arc {arcs}", arcs=arcs)
        else:
            way = tr("rectangle's side") if _on_box(curve, shape) else tr("straight cut")
        yield f"{corner}", figure(x, unit), figure(y, unit), way


def _on_box(curve: Line, shape: RaftShape) -> bool:
    (x0, y0), (x1, y1) = curve.start, curve.end
    return any(
        abs(first - side) <= TOLERANCE_MM and abs(last - side) <= TOLERANCE_MM
        for first, last, sides in (
            (x0, x1, (0.0, float(shape.length))),
            (y0, y1, (0.0, float(shape.width))),
        )
        for side in sides
    )


def _arc_table(arcs: Sequence[Arc], unit: Unit) -> tuple[Row, ...]:
    cells = [
        (
            f"{number}",
            figure(arc.radius, unit),
            figure(arc.centre.x, unit),
            figure(arc.centre.y, unit),
            tr("bulges out") if arc.sweep > 0 else tr("hollow"),
        )
        for number, arc in enumerate(arcs, start=1)
    ]
    columns = (
        Column(tr("arc"), 14),
        Column(tr("radius ({unit})", unit=unit), 30, "right"),
        Column(tr("centre x"), 28, "right"),
        Column(tr("centre y"), 28, "right"),
        Column("", 30),
    )
    return table(columns, cells, height=_TABLE_MM)


def _offset_tables(offsets: Sequence[Offsets], unit: Unit) -> Iterator[Row]:
    """Set the offsets of several sides beside each other."""
    for first in range(0, len(offsets), _MOST_SETS):
        some = offsets[first : first + _MOST_SETS]
        columns: list[Column] = []
        for number, one in enumerate(some):
            columns += [Column("", 4)] if number else []
            columns += [
                Column(
                    tr("arc {arc}, {side}", arc=one.arc, side=tr(SIDE_WORDS[one.side])),
                    34,
                    "right",
                ),
                Column(tr("offset"), 22, "right"),
            ]
        rows: list[list[str]] = []
        for row in range(max(len(one.stations) for one in some)):
            cells: list[str] = []
            for number, one in enumerate(some):
                pair = one.stations[row] if row < len(one.stations) else None
                cells += [""] if number else []
                cells += [figure(mm, unit) for mm in pair] if pair else ["", ""]
            rows.append(cells)
        yield from table(columns, rows, height=_TABLE_MM)
        yield gap(2)
