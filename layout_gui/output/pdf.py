"""PDF: pages at true size, every font embedded, the same bytes on any day."""

import io
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from math import ceil, cos, pi, radians, sin, tan
from typing import Any, Final

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from geometry.drawing.marks import Box, Circle, Path, Text
from geometry.drawing.outlining import Outlined
from geometry.drawing.paper import Page, Picture
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import drawable, harmless, text_outline, text_width
from geometry.model.curves import Arc, Line
from geometry.tongue import spoken
from layout_gui.output.fonts import FILES, REGULAR, font_name

PT: Final = 72 / 25.4
"""Points in a millimetre: the one place where millimetres become points."""

_QUARTER_PULL: Final = 4 / 3 * tan(pi / 8)
_SHARES: Final = {"left": 0.0, "middle": 0.5, "right": 1.0}
_OPERATORS: Final = {"move": "m", "line": "l", "curve": "c"}
_ESCAPES: Final = {
    code: f"\\{code:03o}" for code in (*range(32), *range(127, 256), *map(ord, "()\\"))
}
"""What a string of a PDF cannot hold as it is (ISO 32000-1, 7.3.4.2), and what streams cannot."""

_ISOLATES: Final = dict.fromkeys(range(0x2066, 0x206A))
"""The signs around names that run the other way; no part of what was typed."""


def render_pdf(pages: Iterable[Page], *, title: str, author: str = "", subject: str = "") -> bytes:
    """Write pages as PDF 1.7 that asks viewers to print at true size on one side.

    A page with a ``bookmark`` is found in the outline of the document. Text is real text where the
    bundled fonts can set it, and else outlines under which it can be found by searching. The bytes
    depend on nothing but the pages, these words and the fonts that the outlines come from.
    """
    _fonts()
    canvas = Canvas(
        io.BytesIO(),  # no file is written: the bytes are asked for
        invariant=1,
        pdfVersion=(1, 7),
        initialFontName=REGULAR,  # type: ignore[arg-type]  # a name, whatever the stub says
        lang=spoken().language,
        pageCompression=1,
    )
    canvas.setTitle(harmless(title))
    canvas.setCreator("Raftwright")
    if author:
        canvas.setAuthor(harmless(author))
    if subject:
        canvas.setSubject(harmless(subject))
    for preference, value in (
        ("PrintScaling", "None"),
        ("Duplex", "Simplex"),
        ("DisplayDocTitle", "true"),
    ):
        canvas.setViewerPreference(preference, value)
    with _compact_streams():
        for number, page in enumerate(pages):
            _draw_page(canvas, page, number)
        data: bytes = canvas.getpdfdata()  # type: ignore[no-untyped-call]
    return data


@contextmanager
def _compact_streams() -> Iterator[None]:
    """Keep streams binary: no fifth of their size and time for an encoding of old mail."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


@cache
def _fonts() -> dict[str, TTFont]:
    """Return the bundled fonts by their names, made known to the library."""
    fonts = {name: TTFont(name, str(file)) for name, file in FILES.items()}
    for font in fonts.values():
        pdfmetrics.registerFont(font)
    return fonts


def _draw_page(canvas: Canvas, page: Page, number: int) -> None:
    across, along = page.stretch
    canvas.setPageSize((page.width_mm * across * PT, page.height_mm * along * PT))
    left, bottom, right, top = page.trim or Box(0, 0, page.width_mm, page.height_mm)
    trim = Box(left * across, bottom * along, right * across, top * along)
    canvas.setTrimBox(_points(trim))
    if page.bookmark:
        key = f"page-{number}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(harmless(page.bookmark), key)
        canvas.showOutline()
    if page.stretch != (1.0, 1.0):
        canvas.scale(across, along)
    setter = _Setter(_document(canvas))
    for picture in page.pictures:
        canvas.addLiteral("\n".join(_picture(picture, setter)))
    canvas.showPage()
    _press_page(canvas)


def _press_page(canvas: Canvas) -> None:
    """Compress the page that was just finished; the canvas would keep its text until the end."""
    page = _document(canvas).Pages.pages[-1]
    filters = PDFArray([PDFName("FlateDecode")])
    page.Contents = PDFStream(
        PDFDictionary({"Filter": filters}), zlib.compress(page.stream.encode())
    )
    page.stream = None


def _document(canvas: Canvas) -> Any:
    """Return what the canvas writes to: the only door to its pages and to parts of fonts."""
    return canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001 - as said


def _points(box: Box) -> tuple[float, float, float, float]:
    left, bottom, right, top = box
    return left * PT, bottom * PT, right * PT, top * PT


@dataclass(frozen=True, slots=True)
class _Setter:
    """Sets words in the bundled fonts; the document decides which part of a font holds a sign."""

    document: Any

    def set(self, words: str, height: float, *, bold: bool) -> str:
        """Write words at the place that the text is at, as PDF operators."""
        font = _fonts()[font_name(bold=bold)]
        return " ".join(
            f"{font.getSubsetInternalName(subset, self.document)} {_number(height * PT)} Tf "
            f"({codes.decode('latin-1').translate(_ESCAPES)}) Tj"
            for subset, codes in font.splitString(words, self.document)
        )


def _picture(picture: Picture, setter: _Setter) -> Iterator[str]:
    """Draw a picture, as PDF operators."""
    yield "q"
    if picture.clip is not None:
        left, bottom, right, top = _points(picture.clip)
        sides = (left, bottom, right - left, top - bottom)
        yield f"{' '.join(map(_number, sides))} re W n"
    style: Style | None = None
    for group in picture.drawing.groups:
        for mark in group.marks:
            if mark.style is not style:
                style = mark.style
                yield _pen(style)
            yield _text(mark, setter) if isinstance(mark, Text) else _shape(mark)
    yield "Q"


@cache
def _pen(style: Style) -> str:
    """Line width, dashes and the grey of lines and fills, as PDF operators."""
    pen = PENS[style]
    dashes = " ".join(_number(dash * PT) for dash in pen.dash_mm)
    return f"{_number(pen.width_mm * PT)} w [{dashes}] 0 d {pen.grey:g} G {pen.grey:g} g"


def _shape(mark: Circle | Path) -> str:
    """Draw a circle or a path, as PDF operators."""
    finish = "f" if PENS[mark.style].filled else "S"
    match mark:
        case Circle(centre, radius):
            return f"{_circle(centre.x * PT, centre.y * PT, radius * PT)} {finish}"
        case Path((Line(start, end),)):
            return (
                f"{_number(start.x * PT)} {_number(start.y * PT)} m "
                f"{_number(end.x * PT)} {_number(end.y * PT)} l {finish}"
            )
        case Path():
            return f"{_path(mark)} {finish}"


def _circle(x: float, y: float, radius: float) -> str:
    """Draw four curves: off by 0.027 % of the radius at most, 0.007 mm on a hole of 50 mm."""
    pull = radius * _QUARTER_PULL
    near_x, far_x = x - pull, x + pull
    left, right, low, high = x - radius, x + radius, y - radius, y + radius
    return (
        f"{right:.4f} {y:.4f} m "
        f"{right:.4f} {y + pull:.4f} {far_x:.4f} {high:.4f} {x:.4f} {high:.4f} c "
        f"{near_x:.4f} {high:.4f} {left:.4f} {y + pull:.4f} {left:.4f} {y:.4f} c "
        f"{left:.4f} {y - pull:.4f} {near_x:.4f} {low:.4f} {x:.4f} {low:.4f} c "
        f"{far_x:.4f} {low:.4f} {right:.4f} {y - pull:.4f} {right:.4f} {y:.4f} c h"
    )


def _path(mark: Path) -> str:
    steps: list[str] = []
    for number, curve in enumerate(mark.curves):
        match curve:
            case Line(start, end):
                if not number:
                    steps.append(f"{start.x * PT:.4f} {start.y * PT:.4f} m")
                steps.append(f"{end.x * PT:.4f} {end.y * PT:.4f} l")
            case Arc():
                steps.extend(_arc(curve, starts=not number))
    return " ".join([*steps, "h"] if mark.closed else steps)


def _arc(arc: Arc, *, starts: bool) -> Iterator[str]:
    """Draw curves of at most an eighth of a circle: off by 4e-6 of the radius."""
    pieces = max(1, ceil(abs(arc.sweep) / (pi / 4) - 1e-9))
    step = arc.sweep / pieces
    pull = 4 / 3 * tan(step / 4)

    def at(angle: float, aside: float) -> str:
        x = arc.centre.x + arc.radius * (cos(angle) - aside * sin(angle))
        y = arc.centre.y + arc.radius * (sin(angle) + aside * cos(angle))
        return f"{x * PT:.4f} {y * PT:.4f}"

    if starts:
        yield f"{at(arc.angle, 0)} m"
    for piece in range(pieces):
        start, end = arc.angle + piece * step, arc.angle + (piece + 1) * step
        yield f"{at(start, pull)} {at(end, -pull)} {at(end, 0)} c"


def _number(value: float) -> str:
    return f"{value:.4f}"


def _text(mark: Text, setter: _Setter) -> str:
    """Write a line of text, as PDF operators."""
    bold = PENS[mark.style].bold
    words = drawable(mark.text)
    outline = text_outline(words, bold=bold)
    back = _SHARES[mark.anchor] * text_width(words, mark.height, bold=bold)
    cosine, sine = (cos(radians(mark.angle)), sin(radians(mark.angle))) if mark.angle else (1, 0)
    x, y = mark.at.x - back * cosine, mark.at.y - back * sine
    place = f"{cosine:.4f} {sine:.4f} {-sine:.4f} {cosine:.4f} {x * PT:.4f} {y * PT:.4f} Tm"
    if outline is None:
        return f"BT {place} {setter.set(words, mark.height, bold=bold)} ET"
    # What is searched for and copied is the text of the span. It needs something that is written
    # within: one space that cannot be seen. The way of writing outlives the text, so it is set
    # back at once.
    spoken_as = harmless(words).translate(_ISOLATES).encode("utf-16-be").hex().upper()
    space = setter.set(" ", mark.height, bold=bold)
    return (
        f"/Span <</ActualText <FEFF{spoken_as}>>> BDC\n"
        f"{_letters(outline, x, y, mark.height, cosine, sine)}\n"
        f"BT {place} 3 Tr {space} 0 Tr ET\n"
        "EMC"
    )


def _letters(
    outline: Outlined, x: float, y: float, height: float, cosine: float, sine: float
) -> str:
    """Fill outlines whose baseline begins at a point, as PDF operators."""
    across, up = height * cosine * PT, height * sine * PT
    parts: list[str] = []
    for kind, points in outline.steps:
        parts += [
            f"{x * PT + px * across - py * up:.4f} {y * PT + px * up + py * across:.4f}"
            for px, py in points
        ]
        parts.append(_OPERATORS[kind])
    return " ".join([*parts, "f"]) if parts else ""
