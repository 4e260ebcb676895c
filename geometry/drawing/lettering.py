"""Words on paper: lines, wrapped paragraphs and lists of names that say no more than they must."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import cos, radians, sin

from geometry.drawing.marks import Anchor, Box, Mark, Text
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import CAP_HEIGHT, DESCENT, drawable, shortened, text_width
from geometry.model.curves import Point

_MOST_NAMES = 8
_LONGEST_NAME = 40
_LOW_SIGNS = frozenset("gjpqyQ,;()[]{}|_")

_BREAK = re.compile(r"(?<!\d)\s+|\s+(?!\s|\d+/\d|(?:mm|cm|in|kg|lb)(?:\W|$))")

LEADING = 1.4
"""Distance of two lines of a paragraph, as a share of the font size."""


def line(
    x: float,
    y: float,
    text: str,
    height: float,
    *,
    style: Style = Style.LABEL,
    anchor: Anchor = "left",
    angle: float = 0.0,
    room: float | None = None,
) -> Text:
    """Write one line with the bundled fonts; what does not fit into ``room`` is left out."""
    words = drawable(text)
    if room is not None:
        words = shortened(words, height, room, bold=PENS[style].bold)
    return Text(Point(x, y), words, height, style, anchor, angle)


def text_box(mark: Mark) -> Box | None:
    """Return the box of what a text covers on the page; None for other marks and for no text.

    A text at any angle is held by the upright box around it.
    """
    if not isinstance(mark, Text) or not mark.text.strip():
        return None
    width = text_width(mark.text, mark.height, bold=PENS[mark.style].bold)
    left = {"left": 0.0, "middle": -width / 2, "right": -width}[mark.anchor]
    low = -DESCENT * mark.height if _LOW_SIGNS.intersection(mark.text) else 0.0
    turn = radians(mark.angle)
    corners = [
        (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn))
        for x in (left, left + width)
        for y in (low, CAP_HEIGHT * mark.height)
    ]
    xs, ys = zip(*corners, strict=True)
    return Box(mark.at.x + min(xs), mark.at.y + min(ys), mark.at.x + max(xs), mark.at.y + max(ys))


def paragraph(
    x: float, top: float, text: str, height: float, room: float, *, style: Style = Style.LABEL
) -> tuple[tuple[Text, ...], float]:
    """Write a paragraph below ``top``; return its lines and where it ends."""
    rows = wrapped(text, height, room, bold=PENS[style].bold)
    step = height * LEADING
    lines = tuple(
        line(x, top - height - row * step, words, height, style=style)
        for row, words in enumerate(rows)
    )
    return lines, top - len(rows) * step


def wrapped(text: str, height: float, room: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break a text between its words so that no line is wider than ``room``.

    A figure keeps its fraction and its unit.
    """
    space = text_width(" ", height, bold=bold)
    rows: list[str] = []
    row, width = "", 0.0
    for word in _BREAK.split(drawable(text).strip()):
        wide = text_width(word, height, bold=bold)
        if row and width + space + wide > room:
            rows.append(row)
            row, width = "", 0.0
        width += wide + (space if row else 0)
        row = f"{row} {word}" if row else word
    rows.append(row)
    return tuple(shortened(row, height, room, bold=bold) for row in _isolated_again(rows))


def _isolated_again(rows: Sequence[str]) -> Iterator[str]:
    """End an isolate that runs on to the next row, and begin it there anew."""
    depth = 0
    for row in rows:
        begun = "\u2068" * depth + row
        depth = max(0, begun.count("\u2068") - begun.count("\u2069"))
        yield begun + "\u2069" * depth


def fitting_height(text: str, height: float, room: float, *, bold: bool = False) -> float:
    """The height, or two thirds of it at the least, at which a text fits into its room."""
    share = room / max(text_width(text, height, bold=bold), 1e-9)
    return height * min(1.0, max(2 / 3, share * (1 - 1e-9)))


def name_list(names: Sequence[str]) -> str:
    """List names, consecutive numbers as ranges: "R1-R4, R7"; of very many the first and last."""
    texts = name_ranges(names)
    if len(texts) > _MOST_NAMES:
        texts = [*texts[:3], f"… {texts[-1]}"]
    return ", ".join(texts)


def name_ranges(names: Sequence[str]) -> list[str]:
    """Return names with three or more consecutive numbers put together: "R1-R4" and "R7"."""
    parts = [_parts(name) for name in names]
    texts: list[str] = []
    first = 0
    for number, (part, following) in enumerate(pairwise([*parts, ("", None)])):
        stem, count = part
        if count is None or following != (stem, count + 1):
            run = names[first : number + 1]
            texts += [f"{run[0]}-{run[-1]}"] if len(run) > 2 else run
            first = number + 1
    return texts


def in_number_order(names: Iterable[str]) -> list[str]:
    """Sort names, those that end in numbers by these: R2 before R10."""
    return sorted(names, key=lambda name: (_parts(name)[0], _parts(name)[1] or 0))


def clipped(name: str) -> str:
    """Return a name, its end left out where it is longer than a line can bear."""
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1].rstrip()}…"


def _parts(name: str) -> tuple[str, int | None]:
    found = re.fullmatch(r"(.*?)(0|[1-9][0-9]{0,8})", name)
    return (found[1], int(found[2])) if found else (name, None)
