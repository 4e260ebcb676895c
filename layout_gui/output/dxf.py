"""DXF: one drawing in millimetres for a machine, its origin at the datum corner."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from math import ceil, degrees, hypot, pi, sqrt

from ezdxf._options import options
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace
from ezdxf.units import MM

from geometry.drawing.marks import Anchor, Circle, Drawing, Mark, Path, Text, stroke
from geometry.drawing.outlining import subpaths
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import CAP_HEIGHT, harmless
from geometry.drawing.whole_bed import extent_of
from geometry.model.curves import Arc, Curve, Line, Point
from geometry.model.edges import end_of, start_of
from geometry.watch import look_up
from layout_gui.output.letters import Letters, placed

_BELOW_MM = -15.0
_REFERENCE_MM = 100.0
_BESIDE_MM = 0.01
"""How far a line along a letter may lie beside its bend."""

_ALIGNMENTS: dict[Anchor, TextEntityAlignment] = {
    "left": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def render_dxf(drawing: Drawing, letters: Letters = "text") -> bytes:
    """Write a drawing for machines: millimetres, y up, the origin where the drawing has it.

    Each meaning has its layer, holes one layer for each diameter. A rim is a CIRCLE with a POINT
    at its centre, which stands for the strokes of the centre mark; outlines are LINE and ARC, which
    every machine takes; words are TEXT or closed polylines along their letters. A line of exactly
    100 mm below the drawing shows whether another program reads the size as meant.
    """
    with _fixed_dates():
        document = Document.new("R2010")
        document.units = MM
        document.styles.get("Standard").dxf.font = "DejaVuSans.ttf"
        return _render(drawing, document, letters)


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Keep the day and hour out of the file."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _render(drawing: Drawing, document: Document, letters: Letters) -> bytes:
    space = document.modelspace()
    left, bottom, right, top = extent_of(drawing)
    for number, group in enumerate(drawing.groups):
        look_up(number / len(drawing.groups))
        for mark in group.marks:
            _add(mark, document, space, letters)
    below = min(0.0, bottom) + _BELOW_MM
    line = stroke(Point(0, below), Point(_REFERENCE_MM, below), Style.REFERENCE)
    label = Text(Point(0, below + 1.5), "100 mm", 3.5, Style.REFERENCE)
    for mark in (line, label):
        _add(mark, document, space, letters)
    _show_all(document, space, (min(0.0, left), below), (max(_REFERENCE_MM, right), max(0.0, top)))
    return _written(document)


def _show_all(
    document: Document, space: Modelspace, low: tuple[float, float], high: tuple[float, float]
) -> None:
    """Say how far the drawing reaches, and open it so that all of it is seen."""
    space.reset_extents((*low, 0), (*high, 0))
    space.reset_limits(low, high)
    wide, tall = high[0] - low[0], high[1] - low[1]
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(max(tall, wide / 1.5) * 1.1, middle)


def _add(mark: Mark, document: Document, space: Modelspace, letters: Letters) -> None:
    match mark:
        case Circle(centre, radius, Style.HOLE):
            size = f"{2 * radius:.3f}".rstrip("0").rstrip(".")
            layer = f"{PENS[Style.HOLE].layer}-{size}mm"
            space.add_circle(centre, radius, dxfattribs=_on(layer, document))
            centres = PENS[Style.CENTRE].layer
            space.add_point(centre, dxfattribs=_on(centres, document))
        case Circle(centre, radius, style):
            space.add_circle(centre, radius, dxfattribs=_on(PENS[style].layer, document))
        case Path(_, Style.CENTRE):
            pass
        case Path(curves, style, closed):
            _add_path(curves, _on(PENS[style].layer, document), space, closed=closed)
        case Text(_, _, _, style) if letters == "outlines":
            for loop in _loops(mark):
                attributes = _on(PENS[style].layer, document)
                space.add_lwpolyline(loop, close=True, dxfattribs=attributes)
        case Text(at, text, height, style, anchor, angle):
            entity = space.add_text(
                _plain(text),
                height=height * CAP_HEIGHT,
                rotation=angle,
                dxfattribs=_on(PENS[style].layer, document),
            )
            entity.set_placement(at, align=_ALIGNMENTS[anchor])


def _plain(text: str) -> str:
    """Write a text so that readers find no orders in it: %%d is a degree sign, ^I a tab."""
    return re.sub(r"\^(?=.)", "^ ", harmless(text).replace("%%", "%%%%%%"))


def _loops(mark: Text) -> Iterator[list[Point]]:
    """Give the closed lines along the letters of a text; they bend by no more than can be seen."""
    from layout_gui.output.glyphs import lettered  # noqa: PLC0415 - fonts, where they are wanted

    outline = lettered(mark.text, bold=PENS[mark.style].bold)
    for shape in subpaths(placed(mark, outline)):
        corners: list[Point] = []
        for kind, points in shape:
            if kind == "curve":
                corners += _bent(corners[-1], *points)
            else:
                corners.append(points[0])
        if len(corners) > 1 and corners[0] == corners[-1]:
            corners.pop()
        yield corners


def _bent(start: Point, first: Point, second: Point, end: Point) -> Iterator[Point]:
    """Give the corners of a cubic curve after its start.

    So many lines that none is farther beside it than allowed: Wang's bound, from the bends of the
    control polygon (G. Wang, 1984; from memory, the tests measure it).
    """
    corners = (start, first, second, end)
    bends = (
        hypot(one.x - 2 * two.x + three.x, one.y - 2 * two.y + three.y)
        for one, two, three in (corners[:3], corners[1:])
    )
    parts = max(1, ceil(sqrt(0.75 * max(bends) / _BESIDE_MM)))
    for number in range(1, parts + 1):
        t = number / parts
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        yield Point(
            a * start.x + b * first.x + c * second.x + d * end.x,
            a * start.y + b * first.y + c * second.y + d * end.y,
        )


def _add_path(
    curves: tuple[Curve, ...], attributes: dict[str, str], space: Modelspace, *, closed: bool
) -> None:
    for curve in curves:
        match curve:
            case Line(start, end):
                space.add_line(start, end, dxfattribs=attributes)
            case Arc(centre, radius, angle, sweep) if abs(sweep) < 2 * pi - 1e-9:
                first, last = sorted((angle, angle + sweep))
                space.add_arc(centre, radius, degrees(first), degrees(last), dxfattribs=attributes)
            case Arc(centre, radius, _, _):
                space.add_circle(centre, radius, dxfattribs=attributes)
    if closed:
        _close(curves, attributes, space)


def _close(curves: tuple[Curve, ...], attributes: dict[str, str], space: Modelspace) -> None:
    start, end = start_of(curves[0]), end_of(curves[-1])
    if abs(start.x - end.x) + abs(start.y - end.y) > 1e-6:
        space.add_line(end, start, dxfattribs=attributes)


def _on(layer: str, document: Document) -> dict[str, str]:
    if layer not in document.layers:
        document.layers.add(layer)
    return {"layer": layer}


def _written(document: Document) -> bytes:
    """Write the document, its list of classes in a fixed order."""
    classes = document.classes
    classes.add_required_classes(document.dxfversion)
    in_order = sorted(classes.classes.items())
    classes.classes.clear()
    classes.classes.update(in_order)
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())
