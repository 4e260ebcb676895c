"""Lengths: stored exactly in millimetres, typed and shown in the grower's units."""

import re
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal, NamedTuple

from geometry.errors import LengthError
from geometry.tongue import number as tongue_number
from geometry.tongue import signed, tr

Unit = Literal["mm", "cm", "in"]

TOLERANCE_MM: Final = 1e-6
"""Two lengths closer than this are the same; the one tolerance used everywhere."""

MM_PER: Final[dict[str, Fraction]] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}

LONGEST_MM: Final = 1_000_000
"""No length is longer than 1,000 m."""

MOST_DIGITS: Final = 30
"""Digits that a number may have before or after its decimal mark."""

_LONGEST_TEXT = 100


@dataclass(frozen=True, slots=True)
class Length:
    """An exact length. ``typed`` is how the grower wrote it, unit included ("47 5/8 in").

    ``typed`` is empty for a plain number of millimetres; it takes no part in comparisons.
    """

    exact: Fraction
    typed: str = field(default="", compare=False)

    @property
    def mm(self) -> float:
        """The length as a float, in millimetres."""
        above, below = self.exact.as_integer_ratio()
        return above / below

    @classmethod
    def of(cls, value: float | Fraction | Decimal | str) -> "Length":
        """Make a length from millimetres or from text with a unit.

        A float stands for the shortest decimal that names it: 0.1 is exactly a tenth.
        """
        match value:
            case str():
                return parse_length(value, None)
            case float():
                return cls(Fraction(repr(float(value))))
            case _:
                return cls(Fraction(value))

    @classmethod
    def rounded(cls, mm: float) -> "Length":
        """Make a length of whole micrometres from a place found by calculation or by hand."""
        return cls(Fraction(round(mm * 1000), 1000))


ZERO: Final = Length(Fraction(0))


class _Part(NamedTuple):
    """A number with its unit, as it stands in a typed length. ``sign`` is "", "+" or "-"."""

    sign: str
    number: str
    unit: str


_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_PLAIN = str.maketrans(
    {
        **{sign: f" {text} " for sign, text in _VULGAR.items()},
        **dict.fromkeys("\u2044\u2215", "/"),
        **dict.fromkeys("\u2018\u2019\u2032\u02b9\u02bc", "'"),
        **dict.fromkeys("\u201c\u201d\u2033\u02ba", '"'),
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2212", "-"),
        **dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " "),
    }
)
_UNIT_WORDS = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "''": "in",
    "ft": "ft", "foot": "ft", "feet": "ft", "'": "ft",
}  # fmt: skip
_METRIC = ("mm", "cm", "m")

_PART = re.compile(
    r"""[ ]*(?P<sign>[+-]?)(?P<gap>[ ]*)
        (?P<number>[0-9]+(?:[ ]+|-)[0-9]+[ ]*/[ ]*[0-9]+ | [0-9]+[ ]*/[ ]*[0-9]+
                 | [0-9]+[.,](?![0-9]) | [0-9]*[.,]?[0-9]+)
        [ ]*(?P<unit>''|["'] | [A-Za-z]+\.? | )""",
    re.VERBOSE,
)


def parse_length(text: str, unit: Unit | None) -> Length:
    """Read a length as a grower types it, exactly.

    Takes decimals with point or comma, fractions and mixed numbers ("47 5/8", "47-5/8", "7½"),
    every unit of ``MM_PER`` written out or short, feet and inches, and units that get smaller
    from left to right ("1 m 20 cm"). A single number without a unit is in ``unit``, and one after
    feet is in inches, as it is spoken ("6 ft 3"); with ``unit`` None both are refused. A leading
    minus is read; whether it makes sense is the caller's matter.

    Raises:
        LengthError: the text is no length, or longer than ``LONGEST_MM``; says why.
    """
    shown = _quoted(text)
    parts = _split(text, shown)
    if unit is not None and len(parts) == 1 and not parts[0].unit:
        parts = [parts[0]._replace(unit=unit)]
        typed = "" if unit == "mm" and "/" not in parts[0].number else f"{text.strip()} {unit}"
    elif unit is not None and [part.unit for part in parts] == ["ft", ""]:
        parts = [parts[0], parts[1]._replace(unit="in")]
        typed = f"{text.strip()} in"
    else:
        typed = text.strip()
    total = Fraction(0)
    for before, part in zip([None, *parts], parts, strict=False):
        if not part.unit:
            words = (
                tr('{shown}: the last number has no unit; write one, such as "{number} mm".',
                   shown=shown, number=part.number)
                if before
                else tr('{shown} has no unit; write one, such as "{number} mm".',
                        shown=shown, number=part.number)
            )  # fmt: skip
            raise LengthError(words)
        if before and MM_PER[before.unit] <= MM_PER[part.unit]:
            raise LengthError(
                tr("{shown}: units must get smaller from left to right.", shown=shown)
            )
        amount = _number(part.number, shown) * MM_PER[part.unit]
        total += -amount if before and part.sign == "-" else amount
    if parts[0].sign == "-":
        total = -total
    if abs(total) > LONGEST_MM:
        raise LengthError(
            tr("{shown} is more than 1000 m, the longest length there is here.", shown=shown)
        )
    return Length(total, typed)


def _quoted(text: str) -> str:
    short = text if len(text) <= 40 else text[:39] + "…"
    return (
        "“"
        + "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in short)
        + "”"
    )


def _split(text: str, shown: str) -> list[_Part]:
    """Cut the text into numbers with units; whatever is left over is the reason to refuse."""
    if not text.strip():
        raise LengthError(tr("A length is missing; write a number, such as 200 or 7 1/2 in."))
    if len(text) > _LONGEST_TEXT:
        raise LengthError(tr("{shown} is too long to be a length.", shown=shown))
    plain = text.translate(_PLAIN).strip()
    parts: list[_Part] = []
    at = 0
    while at < len(plain):
        found = _PART.match(plain, at)
        if not found:
            raise LengthError(
                tr("{shown} is no length; write a number, such as 200 or 7 1/2 in.", shown=shown)
            )
        sign, number, word = found["sign"], found["number"], found["unit"]
        unit = _UNIT_WORDS.get(word.lower().rstrip("."), "")
        if parts and not parts[-1].unit:
            raise LengthError(
                tr(
                    "{shown}: two numbers in a row; write no spaces or thousands marks "
                    "in a number.",
                    shown=shown,
                )
            )
        if sign and parts and not (found["gap"] and plain[at].isspace()):
            raise LengthError(
                tr(
                    "{shown}: leave out the “{sign}” or put spaces around it.",
                    shown=shown,
                    sign=sign,
                )
            )
        if sign == "+" and not parts:
            raise LengthError(tr("{shown}: leave out the “+” in front.", shown=shown))
        if word and not unit:
            raise LengthError(
                tr(
                    "{shown}: “{word}” is no unit here; use mm, cm, m, in or ft.",
                    shown=shown,
                    word=word,
                )
            )
        at = found.end()
        _refuse_second_mark(plain, at, shown)
        parts.append(_Part(sign, number, unit))
    return parts


def _refuse_second_mark(plain: str, at: int, shown: str) -> None:
    match plain[at : at + 1]:
        case "." | ",":
            raise LengthError(
                tr(
                    "{shown}: one decimal mark, point or comma, and no thousands marks, please.",
                    shown=shown,
                )
            )
        case "/":
            raise LengthError(
                tr("{shown}: a fraction is one whole number over another.", shown=shown)
            )
        case _:
            pass


def _number(text: str, shown: str) -> Fraction:
    if "/" not in text:
        whole, _, decimals = text.replace(",", ".").partition(".")
        if max(len(whole), len(decimals)) > MOST_DIGITS:
            raise LengthError(tr("{shown} has more digits than a length needs.", shown=shown))
        return Fraction(f"{whole or 0}.{decimals or 0}")
    *whole_part, above, below = map(int, re.findall("[0-9]+", text))
    if below == 0:
        raise LengthError(tr("{shown}: a fraction cannot have 0 below the line.", shown=shown))
    if whole_part and above >= below:
        raise LengthError(
            tr(
                "{shown}: {above}/{below} after a whole number must be below 1.",
                shown=shown,
                above=above,
                below=below,
            )
        )
    return sum(whole_part) + Fraction(above, below)


def format_length(mm: float | Fraction, unit: Unit, *, decimals: int = 1) -> str:
    """Show a length in the grower's unit, to ``decimals`` decimals of a millimetre.

    Inches are shown to the nearest sixteenth; what that leaves over is added in millimetres
    ("7 1/2 in + 0.3 mm"), so that rounding to the tape never hides anything larger than the
    chosen decimals.
    """
    exact = Fraction(mm)
    if unit == "mm":
        return f"{_decimal(exact, decimals)} mm"
    if unit == "cm":
        return f"{_decimal(exact / 10, decimals + 1)} cm"
    sixteenths = round(abs(exact) / MM_PER["in"] * 16)
    over = abs(exact) - Fraction(sixteenths, 16) * MM_PER["in"]
    sign = "-" if exact < 0 else ""
    remainder = _decimal(abs(over), decimals)
    if remainder == "0":
        sign = sign if sixteenths else ""
        return f"{sign}{_mixed(Fraction(sixteenths, 16))} in"
    if not sixteenths:
        return f"{sign}{remainder} mm"
    return f"{sign}{_mixed(Fraction(sixteenths, 16))} in {'-' if over < 0 else '+'} {remainder} mm"


def exact_text(length: Length, unit: Unit) -> str:
    """Write a length in the grower's unit so that reading it back gives the same length.

    As it was typed where that is in the same system; otherwise a fraction of an inch down to
    1/64, or a decimal, or, where neither is exact, millimetres or a fraction of one.
    """
    if length.typed and _is_metric(length.typed) == (unit != "in"):
        return length.typed
    inches = length.exact / MM_PER["in"]
    if unit == "in" and 64 % inches.denominator == 0:
        return f"{_mixed(inches)} in"
    for trial in (unit, "mm"):
        decimal = finite_decimal(length.exact / MM_PER[trial])
        if decimal and len(decimal) <= 12:
            return f"{signed(decimal)} {trial}"
    return f"{signed(finite_decimal(length.exact) or _mixed(length.exact))} mm"


def both_units(length: Length) -> str:
    """Show a length in both systems: "190.5 mm = 7 1/2 in"; "≈" where the tape is not exact."""
    sixteenths = length.exact / MM_PER["in"] * 16
    mm = format_length(length.exact, "mm", decimals=3)
    sign = "=" if sixteenths.denominator == 1 else "≈"
    return f"{mm} {sign} {format_length(length.exact, 'in')}"


def format_area(mm2: float, unit: Unit) -> str:
    """Show an area in square metres, or in square feet for a grower who works in inches."""
    if unit == "in":
        return f"{_grouped(Fraction(mm2) / MM_PER['ft'] ** 2, 2)} ft²"
    return f"{_grouped(Fraction(mm2) / 10**6, 3)} m²"


def format_density(per_m2: float, unit: Unit) -> str:
    """Show plants per area: per square metre, or per square foot for a grower in inches."""
    if unit == "in":
        density = _decimal(Fraction(per_m2) * MM_PER["ft"] ** 2 / 10**6, 2)
        return tr("{density} per ft²", density=density)
    return tr("{density} per m²", density=_decimal(Fraction(per_m2), 1))


def finite_decimal(number: Fraction) -> str | None:
    """Write a number as a decimal if that ends within ``MOST_DIGITS`` places, else None.

    For files and further reckoning: the decimal sign is always a point.
    """
    above, below = number.as_integer_ratio()
    for places in (0, 3, MOST_DIGITS):
        if 10**places % below == 0:
            return _pointed(above * 10**places // below, places)
    return None


def _decimal(number: Fraction, decimals: int) -> str:
    """Write a rounded number for people, with the decimal sign of the spoken tongue."""
    return signed(_pointed(round(number * 10**decimals), decimals))


def _grouped(number: Fraction, decimals: int) -> str:
    """Write a rounded number for people with its digits in groups; never a length.

    A length is shown as it can be typed, and between digits no space is read.
    """
    whole, point, after = _pointed(round(number * 10**decimals), decimals).partition(".")
    return f"{tongue_number(int(whole), 0)}{signed(point)}{after}"


def _pointed(scaled: int, decimals: int) -> str:
    """Write a whole number of decimals with a point and without idle zeros."""
    whole, part = divmod(abs(scaled), 10**decimals)
    after = f"{part:0{decimals}d}".rstrip("0") if part else ""
    sign = "-" if scaled < 0 else ""
    return f"{sign}{whole}.{after}" if after else f"{sign}{whole}"


def _mixed(number: Fraction) -> str:
    sign = "-" if number < 0 else ""
    whole, rest = divmod(abs(number), 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def _is_metric(typed: str) -> bool:
    word = re.search(r"([A-Za-z]+)\.?$", typed.strip())
    return word is not None and _UNIT_WORDS.get(word[1].lower()) in _METRIC
