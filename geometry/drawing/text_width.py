"""How wide a line of text is: the advance widths of the bundled fonts, kerning never used."""

import unicodedata
from functools import cache, lru_cache
from typing import Final

from geometry.drawing.font_widths import BOLD, REGULAR
from geometry.drawing.outlining import Outlined, outlined

CAP_HEIGHT: Final = 1493 / 2048
"""Height of a capital or a figure above the baseline, as a share of the font size."""

DESCENT: Final = 483 / 2048
"""How far the lowest letters reach below the baseline, as a share of the font size."""

_TAIL: Final = 5
"""So many signs at the end of a name stay when its middle is left out."""

SUBSTITUTE: Final = "\N{WHITE SQUARE}"
"""What stands for a character that no font here can draw."""

_ORDERS: Final = frozenset("\u202a\u202b\u202c\u202d\u202e")
"""Signs that turn the reading order of what follows; a name must not turn its neighbours."""


@cache
def advance_widths(*, bold: bool = False) -> dict[str, float]:
    """Return the width of each character that can be drawn, as a share of the font size."""
    widths: dict[str, float] = {}
    for word in (BOLD if bold else REGULAR).split():
        width, _, runs = word.partition(":")
        for run in runs.split(","):
            first, _, last = run.partition("-")
            for code in range(int(first, 16), int(last or first, 16) + 1):
                widths[chr(code)] = int(width) / 2048
    return widths


def text_width(text: str, height: float, *, bold: bool = False) -> float:
    """Return the width in millimetres of a line of text of this font size.

    A character that no font has is as wide as its substitute.
    """
    return height * _em_width(text, bold)


def _em_width(text: str, bold: bool) -> float:  # noqa: FBT001 - a key of the cache
    outline = None if is_set(text) else outlined(text, bold=bold)
    return _set_width(text, bold) if outline is None else outline.width


@lru_cache(maxsize=8192)
def _set_width(text: str, bold: bool) -> float:  # noqa: FBT001 - a key of the cache
    widths = advance_widths(bold=bold)
    missing = widths[SUBSTITUTE]
    return sum([widths.get(sign, missing) for sign in text])


def is_set(text: str) -> bool:
    """Tell whether the bundled fonts can set a text, letter by letter."""
    return text.isascii() or advance_widths().keys() >= set(text)


def text_outline(text: str, *, bold: bool = False) -> Outlined | None:
    """Return the outlines of a text that the bundled fonts cannot set; None of what they can."""
    return None if is_set(text) else outlined(text, bold=bold)


def drawable(text: str) -> str:
    """Return the text as it can be drawn, each character that no font has substituted.

    Characters that need shaping or run from right to left are beyond the bundled fonts: drawn one
    by one they would not read as typed. They stay where outlines can be had (``outlining``).
    """
    return _drawable(text)[0]


def missing_characters(text: str) -> tuple[str, ...]:
    """Name the characters that ``drawable`` substitutes, each once, in order of appearance."""
    return tuple(unicodedata.name(sign, f"U+{ord(sign):04X}") for sign in missing_signs(text))


def missing_signs(text: str) -> str:
    """Return the characters that ``drawable`` substitutes, each once, in order of appearance."""
    return _drawable(text)[1]


def _drawable(text: str) -> tuple[str, str]:
    """Return a text as it can be drawn, and the characters of it that no font has."""
    if text.isascii() and text.isprintable():
        return text, ""
    widths = advance_widths()
    composed = unicodedata.normalize("NFC", harmless(text))
    visible = "".join(sign for sign in composed if unicodedata.category(sign) != "Cf")
    if widths.keys() >= set(visible):
        return visible, ""
    outline = outlined(composed)
    if outline is None:
        missing = "".join(dict.fromkeys(sign for sign in visible if sign not in widths))
        composed = visible
    else:
        missing = outline.missing
    return composed.translate(dict.fromkeys(map(ord, missing), SUBSTITUTE)), missing


def harmless(text: str) -> str:
    """Return the text without what turns the reading order of its neighbours.

    A control character becomes a space, half a character a box. Every letter stays as typed.
    """
    if text.isprintable():
        return text
    return "".join(map(_harmless, text))


def _harmless(sign: str) -> str:
    if sign in _ORDERS:
        return ""
    kind = unicodedata.category(sign)
    if kind in {"Cc", "Zl", "Zp"}:
        return " "
    return SUBSTITUTE if kind == "Cs" else sign


def shortened_within(text: str, height: float, room: float, *, bold: bool = False) -> str:
    """Return the text, its middle left out where it is wider than ``room``: its end tells it apart.

    So are raft designs of one bed, whose names differ in their last figures only.
    """
    if text_width(text, height, bold=bold) <= room:
        return text
    tail = text[-_TAIL:]
    left = room - text_width(tail, height, bold=bold)
    return shortened(text[:-_TAIL], height, left, bold=bold) + tail


def shortened(text: str, height: float, room: float, *, bold: bool = False) -> str:
    """Return the text, its end left out behind "…" where it is wider than ``room``."""
    if text_width(text, height, bold=bold) <= room:
        return text
    while text and text_width(text + "…", height, bold=bold) > room:
        text = text[:-1]
    return text.rstrip() + "…"
