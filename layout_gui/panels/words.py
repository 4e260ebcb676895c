"""Numbers as the panels write them: short enough for a figure in large type."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final, TypeVar  # noqa: TID251  loaded after the window is shown

from geometry.tongue import mark, plural, tr
from geometry.units import MM_PER, Unit, format_length

if TYPE_CHECKING:
    from geometry.model.planting import Direction, InUse, JointRule, Pattern

TIMES: Final = "\N{MULTIPLICATION SIGN}"
DASH: Final = "\N{EN DASH}"

Option = TypeVar("Option")

PATTERN_WORDS: Final[dict[Pattern, str]] = {
    "best": mark("best of all"),
    "square": mark("square"),
    "rectangular": mark("rectangular"),
    "hexagonal": mark("hexagonal"),
    "staggered": mark("staggered rows"),
    "mixed": mark("mixed rows"),
    "rings": mark("rings"),
    "rows": mark("rows filled one by one"),
}
DIRECTION_WORDS: Final[dict[Direction, str]] = {
    "best": mark("the better way"),
    "along": mark("along the bed"),
    "across": mark("across the bed"),
}
JOINT_WORDS: Final[dict[JointRule, str]] = {
    "bed-wide": mark("stay in place"),
    "interchangeable": mark("may change places"),
    "separate": mark("never lie side by side"),
}


IN_USE_WORDS: Final[dict[InUse, str]] = {
    "all": mark("every hole"),
    "every second": mark("every second hole"),
}


def pattern_options() -> tuple[tuple[Pattern, str], ...]:
    """Return every pattern with its words, the best of all first."""
    return options_of(PATTERN_WORDS)


def options_of(words: Mapping[Option, str]) -> tuple[tuple[Option, str], ...]:
    """Return options with their words in the spoken tongue."""
    return tuple((option, tr(text)) for option, text in words.items())


def short_length(mm: float | Fraction, unit: Unit) -> str:
    """Write a length to 1 mm or the nearest 1/16 in, with "≈" where that is not the length."""
    if unit == "in":
        sixteenths = round(Fraction(mm) / MM_PER["in"] * 16)
        exact = Fraction(sixteenths, 16) * MM_PER["in"]
        return _marked(format_length(exact, "in"), exact, mm)
    whole = Fraction(round(mm))
    return _marked(format_length(whole, unit), whole, mm)


def _marked(text: str, shown: Fraction, meant: float | Fraction) -> str:
    return text if abs(float(shown) - float(meant)) < 0.05 else f"≈ {text}"


def size_words(sizes: Sequence[float | Fraction], unit: Unit) -> str:
    """Write sizes for a figure, to 1 mm or 1/16 in, with one unit at the end."""
    texts = [bare_length(size, unit) for size in sizes]
    return f"{f' {TIMES} '.join(texts)} {unit}"


def exact_size_words(sizes: Sequence[float | Fraction], unit: Unit, *, decimals: int = 2) -> str:
    """Write sizes to so many decimals of a millimetre, with one unit at the end if that is all."""
    texts = [format_length(size, unit, decimals=decimals) for size in sizes]
    if all(text.endswith(f" {unit}") for text in texts):
        texts[:-1] = [text.removesuffix(f" {unit}") for text in texts[:-1]]
    return f" {TIMES} ".join(texts)


def bare_length(mm: float | Fraction, unit: Unit) -> str:
    """Write a length to 1 mm or 1/16 in without its unit, for a place that names the unit."""
    return short_length(mm, unit).removeprefix("≈ ").removesuffix(f" {unit}")


def counted(number: int, one: str, many: str = "") -> str:
    """Write a count with its noun: "1 sheet", "2 sheets"."""
    return plural(number, one, many)


def free_name(wanted: str, taken: Sequence[str]) -> str:
    """Return ``wanted``, or it with the least number that makes it a name nobody has yet."""
    stem = wanted.rstrip("0123456789 ") or wanted
    candidates = (f"{stem} {number}" for number in range(2, len(taken) + 3))
    return wanted if wanted not in taken else next(n for n in candidates if n not in taken)
