"""Zoom as people write it: a share of true size ("150 %") or a ratio ("1:5")."""

import re
from math import isfinite
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import number, tr

_RATIO: Final = re.compile(r"([0-9]+(?:[.,][0-9]+)?) *[:/] *([0-9]+(?:[.,][0-9]+)?)")
_SHARE: Final = re.compile(r"([0-9]+(?:[.,][0-9]+)?) *%?")


def zoom_text(share: float) -> str:
    """Write a zoom, where 1 is true size: "62 %", and with a decimal below 10 %."""
    percent = 100 * share
    return tr("{percent} %", percent=number(percent, 0 if percent >= 9.95 else 1))


def read_zoom(text: str) -> float:
    """Read a zoom as typed: "150 %", "150", "1:5" or "2:1"; 1 is true size.

    Raises:
        GeometryError: the text is no zoom; says what one looks like.
    """
    plain = text.strip().replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", "")
    share = 0.0
    if found := _RATIO.fullmatch(plain):
        drawn, real = map(_decimal, found.groups())
        share = drawn / real if real else 0.0
    elif found := _SHARE.fullmatch(plain):
        share = _decimal(found[1]) / 100
    if not isfinite(share) or share <= 0:
        raise GeometryError(tr("“{text}” is no zoom; write 150 % or 1:5.", text=text.strip()[:40]))
    return share


def _decimal(text: str) -> float:
    return float(text.replace(",", "."))
