"""What a PDF says, read from its content streams: strokes, circles and words in millimetres.

pypdf finds the objects and inflates the streams; the operators are carried out here, matrices and
forms included, so that everything stands where a printer puts it (ISO 32000-1, 8.3 and annex A).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from io import BytesIO
from math import hypot

from pypdf import PageObject, PdfReader
from pypdf.generic import DictionaryObject, StreamObject

MM = 25.4 / 72

Matrix = tuple[float, float, float, float, float, float]
Place = tuple[float, float]

_TOKEN = re.compile(
    rb"\((?:\\.|[^\\()])*\)|<<|>>|<[0-9A-Fa-f\s]*>|/[^\s/<>\[\]()]*|[\[\]]|[^\s/<>\[\]()]+",
    re.DOTALL,
)
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.DOTALL)
_SIGNS = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_STROKED = {b"S", b"s"}
_PAINTED = _STROKED | {b"f", b"f*", b"B"}


@dataclass
class Seen:
    """``strokes`` from end to end, ``circles`` by centre and radius, ``words`` by their start.

    ``bends`` are open paths of two lines: both ends, the corner between them, the width of the pen.
    """

    strokes: list[tuple[float, float, float, float]] = field(default_factory=list)
    circles: list[tuple[float, float, float]] = field(default_factory=list)
    words: list[tuple[str, float, float]] = field(default_factory=list)
    bends: list[tuple[Place, Place, Place, float]] = field(default_factory=list)
    widths: set[float] = field(default_factory=set)


def read(data: bytes) -> PdfReader:
    return PdfReader(BytesIO(data))


def look(page: PageObject, printer: tuple[float, float] = (1.0, 1.0)) -> Seen:
    """Read a page as it comes out of a printer that is wrong by these factors."""
    across, along = printer
    sight = _Sight(Seen(), page["/Resources"].get_object())
    sight.carry_out(page.get_contents().get_data(), (across * MM, 0, 0, along * MM, 0, 0))
    return sight.seen


@dataclass
class _Sight:
    seen: Seen
    resources: DictionaryObject

    def carry_out(self, content: bytes, base: Matrix) -> None:
        """Carry out the operators of a page or a form."""
        matrix, width, saved = base, 1.0, []
        points: list[Place] = []
        curves = 0
        letters: list[str] = []
        meant = ""
        decode: dict[int, str] = {}
        text_matrix: Matrix = (1, 0, 0, 1, 0, 0)
        operands: list[bytes] = []
        for token in _TOKEN.findall(content):
            if token[:1] in b"/(<[]>+-.0123456789":
                operands.append(token)
                continue
            match token:
                case b"m":
                    points, curves = [_at(matrix, *_numbers(operands))], 0
                case b"l":
                    points.append(_at(matrix, *_numbers(operands)))
                case b"c":
                    points.append(_at(matrix, *_numbers(operands[4:])))
                    curves += 1
                case b"cm":
                    matrix = _times(tuple(_numbers(operands)), matrix)
                case b"q":
                    saved.append((matrix, width))
                case b"Q":
                    matrix, width = saved.pop()
                case b"w":
                    width = float(operands[0]) * hypot(*matrix[:2])
                    self.seen.widths.add(width)
                case b"Tm":
                    text_matrix = tuple(_numbers(operands))
                case b"Tf":
                    decode = self._letters(operands[0].decode())
                case b"Tj":
                    letters += [decode[code] for code in _string(operands[0])]
                case b"ET":
                    if text := meant or "".join(letters).strip():
                        self.seen.words.append((text, *_at(matrix, *text_matrix[4:])))
                    letters, meant = [], ""
                case b"BDC":
                    meant = _utf16(operands[-2][5:-1])
                case b"Do":
                    self._form(operands[0].decode(), matrix)
                case b"TJ" | b"'" | b'"' | b"Td" | b"TD" | b"BI" | b"y" | b"v":
                    raise NotImplementedError(token)
                case _ if token in _PAINTED:
                    self._finish(points, curves, width if token in _STROKED else 0.0)
            operands = []

    def _finish(self, points: list[Place], curves: int, pen: float) -> None:
        if curves == 4 and len(points) == 5:
            x, y = (sum(way) / 4 for way in zip(*points[1:], strict=True))
            radii = [hypot(px - x, py - y) for px, py in points[1:]]
            if max(radii) - min(radii) < 1e-3:
                self.seen.circles.append((x, y, sum(radii) / 4))
        elif not curves and len(points) == 2 and pen:
            self.seen.strokes.append((*points[0], *points[1]))
        elif not curves and len(points) == 3 and pen:
            self.seen.bends.append((*points, pen))

    def _form(self, name: str, matrix: Matrix) -> None:
        form: StreamObject = self.resources["/XObject"][name].get_object()
        own = tuple(float(number) for number in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
        inner = _Sight(self.seen, form.get("/Resources", self.resources).get_object())
        inner.carry_out(form.get_data(), _times(own, matrix))

    def _letters(self, name: str) -> dict[int, str]:
        return _map(self.resources["/Font"][name]["/ToUnicode"].get_object().get_data())


def _numbers(operands: list[bytes]) -> Iterator[float]:
    """Read numbers; PDF knows no exponents (ISO 32000-1, 7.3.3), though some readers do."""
    assert all(b"e" not in operand for operand in operands), operands
    return map(float, operands)


def _at(matrix: Matrix, x: float, y: float) -> Place:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    origin = _at((*then[:4], 0, 0), a, b), _at((*then[:4], 0, 0), c, d)
    return (*origin[0], *origin[1], *_at(then, e, f))


def _string(token: bytes) -> bytes:
    """Read a literal or hexadecimal string."""
    if token.startswith(b"<"):
        return bytes.fromhex(token[1:-1].decode())
    return _ESCAPE.sub(_unescaped, token[1:-1])


def _unescaped(found: re.Match[bytes]) -> bytes:
    sign = found[1]
    return bytes([int(sign, 8)]) if sign.isdigit() else _SIGNS.get(sign, sign)


@cache
def _map(cmap: bytes) -> dict[int, str]:
    """Read which sign each code of a font stands for (ISO 32000-1, 9.10.3)."""
    signs: dict[int, str] = {}
    for block in re.findall(rb"beginbfchar(.*?)endbfchar", cmap, re.DOTALL):
        for code, text in re.findall(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", block):
            signs[int(code, 16)] = _utf16(text)
    for block in re.findall(rb"beginbfrange(.*?)endbfrange", cmap, re.DOTALL):
        for low, texts in re.findall(
            rb"<([0-9A-Fa-f]+)>\s*<[0-9A-Fa-f]+>\s*\[(.*?)\]", block, re.DOTALL
        ):
            for number, text in enumerate(re.findall(rb"<([0-9A-Fa-f]+)>", texts)):
                signs[int(low, 16) + number] = _utf16(text)
        runs = re.findall(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", block)
        for low, high, text in runs:
            for number in range(int(high, 16) - int(low, 16) + 1):
                signs[int(low, 16) + number] = chr(int(text, 16) + number)
    return signs


def _utf16(digits: bytes) -> str:
    return bytes.fromhex(digits.decode()).decode("utf-16-be")
