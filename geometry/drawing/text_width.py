"""How wide a line of text is: the advance widths of the bundled fonts, kerning never used."""

import unicodedata
from functools import cache, lru_cache
from typing import Final

from geometry.drawing.font_widths import BOLD, REGULAR

CAP_HEIGHT: Final = 1493 / 2048
"""Height of a capital or a figure above the baseline, as a share of the font size."""

DESCENT: Final = 483 / 2048
"""How far the lowest letters reach below the baseline, as a share of the font size."""

_TAIL: Final = 5
"""So many signs at the end of a name stay when its middle is left out."""

SUBSTITUTE: Final = "?"
"""What stands for a character that the bundled fonts cannot draw."""


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

    A character that the fonts lack is as wide as its substitute.
    """
    return height * _em_width(text, bold)


@lru_cache(maxsize=8192)
def _em_width(text: str, bold: bool) -> float:  # noqa: FBT001 - a key of the cache
    widths = advance_widths(bold=bold)
    missing = widths[SUBSTITUTE]
    return sum([widths.get(sign, missing) for sign in text])


def drawable(text: str) -> str:
    """Return the text as the bundled fonts can draw it, each missing character substituted.

    Characters that need shaping or run from right to left count as missing: drawn one by one
    they would not read as typed.
    """
    widths = advance_widths()
    if widths.keys() >= set(text):
        return text
    composed = unicodedata.normalize("NFC", text)
    return "".join(sign if sign in widths else SUBSTITUTE for sign in composed)


def missing_characters(text: str) -> tuple[str, ...]:
    """Name the characters that ``drawable`` substitutes, each once, in order of appearance."""
    widths = advance_widths()
    composed = unicodedata.normalize("NFC", text)
    return tuple(
        dict.fromkeys(
            unicodedata.name(sign, f"U+{ord(sign):04X}") for sign in composed if sign not in widths
        )
    )


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
