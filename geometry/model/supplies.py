"""What the grower has in the workshop, and how the things to buy are sold."""

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import signed, tr
from geometry.units import MM_PER, MOST_DIGITS, Length, Unit, finite_decimal

LITRES_PER_GALLON: Final = 231 * (MM_PER["in"] / 100) ** 3
"""The US gallon is 231 cubic inches by definition (NIST Handbook 44, appendix C)."""

_M2_PER_FT2: Final = (MM_PER["ft"] / 1000) ** 2

MOST_AMOUNT: Final = 1_000_000
"""The most litres in a tin, and square metres to a litre, that are taken for what was meant."""


@dataclass(frozen=True, slots=True)
class Coverage:
    """How far paint goes, exact. ``typed`` is how the grower wrote it ("350 ft2/gal").

    ``typed`` takes no part in comparisons; it is empty for a plain number per litre.
    """

    m2_per_litre: Fraction
    typed: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Volume:
    """An amount of paint, exact; ``typed`` as in ``Coverage`` ("1 gal")."""

    litres: Fraction
    typed: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Packed:
    """A thing sold by the piece or by the ``pack`` of so many, at a ``price`` for one of them."""

    pack: int | None = None
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Strip:
    """Seal strip, sold in a ``roll`` of so much length at a ``price``."""

    roll: Length | None = None
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Paint:
    """Paint: how far it goes, how many ``coats`` (0: not painted), the ``tin`` and its ``price``.

    Two coats of white outdoor paint are common practice, no source; so is a litre for 8 m², which
    every tin says of itself.
    """

    coverage: Coverage = Coverage(Fraction(8))
    coats: int = 2
    tin: Volume | None = None
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Supplies:
    """What the shopping list cannot know from the plan.

    ``saws`` are the hole saws that the grower owns. ``spares`` are percent added to pots, hole
    plugs and seal strip; 5 is common practice, no source. None of this changes the plan.
    """

    saws: tuple[Length, ...] = ()
    spares: int = 5
    pots: Packed = Packed()
    plugs: Packed = Packed()
    strip: Strip = Strip()
    paint: Paint = Paint()


_AMOUNT = re.compile(r"(?P<number>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*(?P<unit>.*)", re.DOTALL)
_VOLUMES: Final[dict[str, Fraction]] = {
    **dict.fromkeys(("l", "lt", "ltr", "litre", "litres", "liter", "liters", "litros", "litro"),
                    Fraction(1)),
    **dict.fromkeys(("gal", "gallon", "gallons", "galón", "galones", "usgal"), LITRES_PER_GALLON),
    **dict.fromkeys(("qt", "quart", "quarts"), LITRES_PER_GALLON / 4),
    "ml": Fraction(1, 1000),
}  # fmt: skip
_AREAS: Final[dict[str, Fraction]] = {
    **dict.fromkeys(("m2", "m²", "m^2", "sqm"), Fraction(1)),
    **dict.fromkeys(("ft2", "ft²", "ft^2", "sqft"), _M2_PER_FT2),
}


def parse_volume(text: str, unit: Unit | None) -> Volume:
    """Read "2.5 L", "750 ml" or "1 gal"; a bare number is litres, or gallons with inches.

    Raises:
        GeometryError: the text is none of these; says what to write.
    """
    number, words = _split(text, tr("write 2.5 L, or 1 gal"))
    if not words and unit is not None:
        words = "gal" if unit == "in" else "l"
        text = f"{text.strip()} {'gal' if unit == 'in' else 'L'}"
    if words not in _VOLUMES:
        raise GeometryError(tr("{shown} is no volume; write 2.5 L, or 1 gal.", shown=_quoted(text)))
    return Volume(_bounded(number * _VOLUMES[words], text), text.strip())


def parse_coverage(text: str, unit: Unit | None) -> Coverage:
    """Read "8 m2/L" or "350 ft2/gal"; a bare number is the first, or the second with inches.

    Raises:
        GeometryError: the text is neither; says what to write.
    """
    number, words = _split(text, tr("write 8 m2/L, or 350 ft2/gal"))
    if not words and unit is not None:
        words = "ft2/gal" if unit == "in" else "m2/l"
        text = f"{text.strip()} {'ft2/gal' if unit == 'in' else 'm2/L'}"
    area, _, volume = words.replace("per", "/").partition("/")
    if area not in _AREAS or volume not in _VOLUMES:
        raise GeometryError(
            tr(
                "{shown} does not say how far paint goes; write 8 m2/L, or 350 ft2/gal.",
                shown=_quoted(text),
            )
        )
    return Coverage(_bounded(number * _AREAS[area] / _VOLUMES[volume], text), text.strip())


def volume_text(volume: Volume, unit: Unit) -> str:
    """Write a volume so that reading it back gives the same."""
    per = {"gal": LITRES_PER_GALLON, "L": Fraction(1)}
    return volume.typed or _text(volume.litres, per, "gal" if unit == "in" else "L")


def coverage_text(coverage: Coverage, unit: Unit) -> str:
    """Write how far paint goes so that reading it back gives the same."""
    per = {"ft2/gal": _M2_PER_FT2 / LITRES_PER_GALLON, "m2/L": Fraction(1)}
    first = "ft2/gal" if unit == "in" else "m2/L"
    return coverage.typed or _text(coverage.m2_per_litre, per, first)


def _text(amount: Fraction, per: dict[str, Fraction], first: str) -> str:
    for name in sorted(per, key=lambda each: each != first):
        if decimal := finite_decimal(amount / per[name]):
            return f"{signed(decimal)} {name}"
    metric = next(name for name, size in per.items() if size == 1)
    return f"{signed(str(float(amount)))} {metric}"


def _split(text: str, cure: str) -> tuple[Fraction, str]:
    found = _AMOUNT.fullmatch(text.strip())
    if not found or len(found["number"]) > MOST_DIGITS:
        raise GeometryError(tr("{shown} is no amount; {cure}.", shown=_quoted(text), cure=cure))
    words = re.sub(r"[ .]", "", found["unit"].lower())
    return Fraction(found["number"].replace(",", ".")), words


def _bounded(amount: Fraction, text: str) -> Fraction:
    if not 0 < amount <= MOST_AMOUNT:
        raise GeometryError(tr("{shown} is nothing, or too much.", shown=_quoted(text)))
    return amount


def _quoted(text: str) -> str:
    short = text.strip()
    short = short if len(short) <= 40 else f"{short[:39]}…"
    return f"“{''.join(sign if sign.isprintable() else '?' for sign in short)}”"
