"""PDF: pages at true size, every font embedded, the same bytes on any day."""

import io
from collections.abc import Iterable
from functools import cache
from math import ceil, cos, pi, radians, sin, tan
from typing import Final

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from geometry.drawing.marks import Box, Circle, Mark, Path, Text
from geometry.drawing.paper import Page, Picture
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import drawable, text_width
from geometry.model.curves import Arc, Line
from layout_gui.output.fonts import FILES, REGULAR, font_name

PT: Final = 72 / 25.4
"""Points in a millimetre: the one place where millimetres become points."""

_SHARES: Final = {"left": 0.0, "middle": 0.5, "right": 1.0}


def render_pdf(pages: Iterable[Page], *, title: str) -> bytes:
    """Write pages as PDF 1.7 that asks viewers to print at true size on one side.

    A page with a ``bookmark`` is found in the outline of the document. Text is real text. The
    bytes depend on nothing but the pages and the title.
    """
    _register_fonts()
    stream = io.BytesIO()
    canvas = Canvas(
        stream,
        invariant=1,
        pdfVersion=(1, 7),
        initialFontName=REGULAR,  # type: ignore[arg-type]  # a name, whatever the stub says
        lang="en",
        pageCompression=1,
    )
    canvas.setTitle(title)
    canvas.setCreator("Raftwright")
    for preference, value in (
        ("PrintScaling", "None"),
        ("Duplex", "Simplex"),
        ("DisplayDocTitle", "true"),
    ):
        canvas.setViewerPreference(preference, value)
    for number, page in enumerate(pages):
        _draw_page(canvas, page, number)
    canvas.save()
    return stream.getvalue()


@cache
def _register_fonts() -> None:
    for name, file in FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(file)))


def _draw_page(canvas: Canvas, page: Page, number: int) -> None:
    canvas.setPageSize((page.width_mm * PT, page.height_mm * PT))
    canvas.setTrimBox(_points(page.trim or Box(0, 0, page.width_mm, page.height_mm)))
    if page.bookmark:
        key = f"page-{number}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(drawable(page.bookmark), key)
        canvas.showOutline()
    for picture in page.pictures:
        _draw_picture(canvas, picture)
    canvas.showPage()


def _points(box: Box) -> tuple[float, float, float, float]:
    left, bottom, right, top = box
    return left * PT, bottom * PT, right * PT, top * PT


def _draw_picture(canvas: Canvas, picture: Picture) -> None:
    canvas.saveState()
    if picture.clip is not None:
        left, bottom, right, top = _points(picture.clip)
        window = canvas.beginPath()
        window.rect(left, bottom, right - left, top - bottom)
        canvas.clipPath(window, stroke=0, fill=0)
    style: Style | None = None
    for group in picture.drawing.groups:
        for mark in group.marks:
            if mark.style is not style:
                style = mark.style
                _take_pen(canvas, style)
            _draw_mark(canvas, mark)
    canvas.restoreState()


def _take_pen(canvas: Canvas, style: Style) -> None:
    pen = PENS[style]
    canvas.setLineWidth(pen.width_mm * PT)
    canvas.setStrokeGray(pen.grey)
    canvas.setFillGray(pen.grey)
    canvas.setDash([dash * PT for dash in pen.dash_mm])


def _draw_mark(canvas: Canvas, mark: Mark) -> None:
    filled = PENS[mark.style].filled
    match mark:
        case Circle(centre, radius):
            x, y = centre
            canvas.circle(x * PT, y * PT, radius * PT, stroke=not filled, fill=filled)
        case Path((Line(start, end),)):
            canvas.line(start.x * PT, start.y * PT, end.x * PT, end.y * PT)
        case Path():
            canvas.drawPath(_path(canvas, mark), stroke=not filled, fill=filled)
        case Text():
            _write(canvas, mark)


def _path(canvas: Canvas, mark: Path) -> PDFPathObject:
    path = canvas.beginPath()
    for number, curve in enumerate(mark.curves):
        match curve:
            case Line(start, end):
                if not number:
                    path.moveTo(start.x * PT, start.y * PT)
                path.lineTo(end.x * PT, end.y * PT)
            case Arc():
                _add_arc(path, curve, starts=not number)
    if mark.closed:
        path.close()
    return path


def _add_arc(path: PDFPathObject, arc: Arc, *, starts: bool) -> None:
    """Add curves of at most an eighth of a circle: off by 4e-6 of the radius."""
    pieces = max(1, ceil(abs(arc.sweep) / (pi / 4) - 1e-9))
    step = arc.sweep / pieces
    pull = 4 / 3 * tan(step / 4)

    def at(angle: float, aside: float) -> tuple[float, float]:
        return (
            (arc.centre.x + arc.radius * (cos(angle) - aside * sin(angle))) * PT,
            (arc.centre.y + arc.radius * (sin(angle) + aside * cos(angle))) * PT,
        )

    if starts:
        path.moveTo(*at(arc.angle, 0))
    for piece in range(pieces):
        start, end = arc.angle + piece * step, arc.angle + (piece + 1) * step
        path.curveTo(*at(start, pull), *at(end, -pull), *at(end, 0))


def _write(canvas: Canvas, mark: Text) -> None:
    bold = PENS[mark.style].bold
    words = drawable(mark.text)
    back = _SHARES[mark.anchor] * text_width(words, mark.height, bold=bold)
    cosine, sine = cos(radians(mark.angle)), sin(radians(mark.angle))
    x, y = mark.at.x - back * cosine, mark.at.y - back * sine
    text = canvas.beginText()
    text.setTextTransform(cosine, sine, -sine, cosine, x * PT, y * PT)
    text.setFont(font_name(bold=bold), mark.height * PT)
    text.textOut(words)
    canvas.drawText(text)
