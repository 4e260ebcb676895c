"""DXF: one drawing in millimetres for a machine, its origin at the datum corner."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from math import degrees, pi

from ezdxf._options import options
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace
from ezdxf.units import MM

from geometry.drawing.marks import Anchor, Circle, Drawing, Mark, Path, Text, stroke
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import CAP_HEIGHT
from geometry.model.curves import Arc, Curve, Line, Point
from geometry.model.edges import end_of, start_of

_BELOW_MM = -15.0
_REFERENCE_MM = 100.0
_ALIGNMENTS: dict[Anchor, TextEntityAlignment] = {
    "left": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def render_dxf(drawing: Drawing) -> bytes:
    """Write a drawing for machines: millimetres, y up, the origin where the drawing has it.

    Each meaning has its layer, holes one layer for each diameter. A rim is a CIRCLE with a POINT
    at its centre, which stands for the strokes of the centre mark; outlines are closed polylines
    or, where they bend, LINE and ARC; text is TEXT. A line of exactly 100 mm below the drawing
    shows whether another program reads the size as meant.
    """
    with _fixed_dates():
        document = Document.new("R2010")
        document.units = MM
        return _render(drawing, document)


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Keep the day and hour out of the file."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _render(drawing: Drawing, document: Document) -> bytes:
    space = document.modelspace()
    for group in drawing.groups:
        for mark in group.marks:
            _add(mark, document, space)
    start, end = Point(0, _BELOW_MM), Point(_REFERENCE_MM, _BELOW_MM)
    _add(stroke(start, end, Style.REFERENCE), document, space)
    label = Text(Point(0, _BELOW_MM + 1.5), "100 mm", 3.5, Style.REFERENCE)
    _add(label, document, space)
    return _written(document)


def _add(mark: Mark, document: Document, space: Modelspace) -> None:
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
        case Text(at, text, height, style, anchor, angle):
            entity = space.add_text(
                text,
                height=height * CAP_HEIGHT,
                rotation=angle,
                dxfattribs=_on(PENS[style].layer, document),
            )
            entity.set_placement(at, align=_ALIGNMENTS[anchor])


def _add_path(
    curves: tuple[Curve, ...], attributes: dict[str, str], space: Modelspace, *, closed: bool
) -> None:
    lines = [curve for curve in curves if isinstance(curve, Line)]
    if closed and len(lines) == len(curves):
        space.add_lwpolyline([line.start for line in lines], close=True, dxfattribs=attributes)
        return
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
