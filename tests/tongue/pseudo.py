"""A made-up tongue: accented, two fifths longer, in brackets. What has no brackets escaped it."""

import re
from dataclasses import dataclass
from typing import Final

from geometry.tongue import Tongue

OPEN: Final = "\N{MATHEMATICAL LEFT WHITE SQUARE BRACKET}"
CLOSE: Final = "\N{MATHEMATICAL RIGHT WHITE SQUARE BRACKET}"
_ACCENTS: Final = str.maketrans("aeiounAEIOUN", "áéíóúñÁÉÍÓÚÑ")
_HELD: Final = re.compile(r"(\{\w+\}|&.)")
_LONGER: Final = 0.4


@dataclass(frozen=True, slots=True)
class Pseudo(Tongue):
    """Every text says that it was looked up."""

    language: str = "pseudo"
    decimal_sign: str = ","
    group_sign: str = "\N{NO-BREAK SPACE}"

    def text(self, english: str) -> str:
        return pseudo(english) if english else ""

    def plural(self, one: str, many: str, count: int) -> str:
        return pseudo(one if count == 1 else many)


PSEUDO: Final = Pseudo()


def pseudo(text: str) -> str:
    """Write a text in the made-up tongue; its names and its mnemonic stay."""
    parts = _HELD.split(text)
    accented = "".join(
        part if _HELD.fullmatch(part) else part.translate(_ACCENTS) for part in parts
    )
    bare = len("".join(part for part in parts if not _HELD.fullmatch(part)))
    # Words of five letters: as long as those of a language with long sentences.
    longer = ("nu ñandé " * 40)[: round(bare * _LONGER)].rstrip()
    return f"{OPEN}{accented}{' ' if longer else ''}{longer}{CLOSE}"


def outside(text: str) -> str:
    """Return what of a text stands outside all brackets."""
    depth, left = 0, []
    for sign in text:
        depth += (sign == OPEN) - (sign == CLOSE)
        if depth == 0 and sign != CLOSE:
            left.append(sign)
    return "".join(left)
