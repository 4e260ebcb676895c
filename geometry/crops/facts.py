"""What sources say of each kind of crop, figure by figure, also where they say different things.

Nothing is averaged. A figure that was reckoned from a count on a board, or that nobody read again,
says so.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from math import sqrt
from typing import Final, Literal, get_args

from geometry.crops.table import Crop
from geometry.tongue import mark, tr
from geometry.units import MM_PER, Length

Topic = Literal["spacing", "density", "nursery", "days", "width", "grams"]
"""Spacing and ``width`` (of a grown plant) in mm, density in plants per m², days in the nursery
and on the water up to the harvest, mass of a plant when it is picked in g."""

Standing = Literal["read", "abstract", "copy", "reckoned", "memory"]
"""How far a figure can be trusted: read in the source, in its abstract, in a copy of it, reckoned
from figures read there, or recalled and not read."""

TOPICS: Final[tuple[Topic, ...]] = get_args(Topic)

STANDING_WORDS: Final[dict[Standing, str]] = {
    "read": mark("read in the source"),
    "abstract": mark("read in its abstract"),
    "copy": mark("read in a copy"),
    "reckoned": mark("reckoned from its figures"),
    "memory": mark("from memory, not read again"),
}


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure of a source: from ``low`` to ``high``, in the unit of its topic.

    ``note`` (marked) says of what it holds, where that matters. An ``oblong`` spacing is the lesser
    side of a grid of two pitches; no density follows from it alone.
    """

    kind: str
    topic: Topic
    low: Fraction
    high: Fraction
    source: str
    standing: Standing
    note: str = ""
    oblong: bool = False

    def meets(self, other: "Fact") -> bool:
        """Whether two figures have a value in common."""
        return self.low <= other.high and other.low <= self.high


def facts_of(kind: str, topic: Topic | None = None) -> tuple[Fact, ...]:
    """Return what is published of a kind of crop, by topic; empty for an unknown kind."""
    return tuple(
        fact
        for wanted in TOPICS
        for fact in FACTS
        if fact.kind == kind and fact.topic == wanted and topic in {None, wanted}
    )


def row_of(kind: str) -> Crop | None:
    """Return a kind as a row of the table, from what is published of it; None without a spacing.

    Its figures are those of the first source; where that was not read again, the row says so.
    """
    found = {fact.topic: fact for fact in reversed(facts_of(kind))}
    spacing = found.get("spacing")
    if spacing is None:
        return None
    told = {topic: fact for topic, fact in found.items() if fact.source == spacing.source}
    words = tr(STANDING_WORDS[spacing.standing])
    return Crop(
        tr(KINDS[kind]),
        Length((spacing.low + spacing.high) / 2),
        tr("{source} ({standing})", source=spacing.source, standing=words),
        spacing_range=_lengths(spacing),
        mature_width=_lengths(told["width"]) if "width" in told else None,
        density_per_m2=_numbers(told["density"]) if "density" in told else None,
        days=_days(told["days"]) if "days" in told else None,
        kind=kind,
    )


def _lengths(fact: Fact) -> tuple[Length, Length]:
    return Length(fact.low), Length(fact.high)


def _numbers(fact: Fact) -> tuple[float, float]:
    return float(fact.low), float(fact.high)


def _days(fact: Fact) -> tuple[int, int]:
    return int(fact.low), int(fact.high)


def apart(facts: Sequence[Fact]) -> tuple[tuple[Fact, Fact], ...]:
    """Return the pairs of figures of one topic and one kind that have no value in common."""
    return tuple(
        (one, other)
        for one, other in combinations(facts, 2)
        if (one.kind, one.topic) == (other.kind, other.topic) and not one.meets(other)
    )


def square_grid(low: Fraction, high: Fraction) -> tuple[float, float]:
    """Return the plants per m² on square grids of these spacings (mm), the wider one first."""
    return float(10**6 / high**2), float(10**6 / low**2)


def square_spacing(low: float, high: float) -> tuple[float, float]:
    """Return the spacings (mm) of square grids of these densities (per m²), the least first."""
    return 1000 / sqrt(high), 1000 / sqrt(low)


def unlike(facts: Iterable[Fact]) -> Iterator[tuple[Fact, Fact]]:
    """Yield spacing and density of one source that do not follow from each other.

    They do if the square grids of the spacings hold as many plants, to a twentieth at both ends.
    """
    found = tuple(facts)
    for spacing, density in product(found, found):
        if (spacing.topic, density.topic) != ("spacing", "density") or spacing.oblong:
            continue
        about = [(each.kind, each.source, each.note) for each in (spacing, density)]
        if about[0] != about[1]:
            continue
        grids = square_grid(spacing.low, spacing.high)
        ends = zip(grids, (float(density.low), float(density.high)), strict=True)
        if any(abs(grid / per_m2 - 1) > _AS_GOOD_AS for grid, per_m2 in ends):
            yield spacing, density


_AS_GOOD_AS: Final = 0.05

_FAO = (
    "Somerville, Cohen, Pantanella, Stankus, Lovatelli: Small-scale aquaponic food production, "
    "FAO Fisheries and Aquaculture Technical Paper 589 (2014), appendix 1"
)
_TEACH = "Aqu@teach: plant varieties (teaching material after FAO 589)"
_RUTGERS = "Rutgers Horticultural Engineering: Lettuce Production (floating system), undated"
_CORNELL = "Brechner and Both: Hydroponic Lettuce Handbook, Cornell University"
_SHULER = (
    "Shuler, Nie, Shuler, Shuler: float-system lettuce, Proceedings of the Florida State "
    "Horticultural Society, about 2008"
)
_UF = "UF/IFAS news of 24 November 1998 (Tyson)"
_HAWAII = "Ako and Baker: SA-2, University of Hawaii CTAHR (2009)"
_ARIZONA = "Hernandez, Giacomelli, Lewis, An: Acta Horticulturae 1170 (2017) 619-626"
_CROATIA = "Toth and others: Acta Horticulturae 1142 (2016), paper 16"
_MABOKO = "Maboko and Du Plooy: South African Journal of Plant and Soil 26 (2009) 195-198"
_CEKIN = "Cekin and others: preprint, RWTH Aachen (2023)"
_RESH = "Resh: Hobby Hydroponics, chapter 3"
_SRAC = "Rakocy, Masser, Losordo: SRAC publication 454 (2006)"
_BASIL = "Walters and Currey: HortTechnology 25 (2015) 645, with the authors' trade summary"
_PAK_CHOI = "Gobilik and others: Transactions on Science and Technology 8 (2021) 1-7"
_PAK_CHOI_ROOTS = "Gobilik and others: plant density and root temperature of raft pak choi"
_PAK_CHOI_CLOSE = (
    "Wiangsamut and Koolpluksee: International Journal of Agricultural Technology 16 (2020) "
    "1063-1076"
)
_ISLANDS = "Rakocy, Bailey, Shultz, Thoman: University of the Virgin Islands, about 2004"

_SQUARE_FOOT: Final = MM_PER["ft"] ** 2 / 10**6
_FIRST: Final = mark("first 10 days on the water")
_LAST: Final = mark("last 14 days on the water")
_TRIED: Final = mark("the densities tried")
_RESPACED: Final = mark("after the plants were moved apart")


def _mm(
    kind: str, topic: Topic, low: str, high: str, source: str, standing: Standing, note: str = ""
) -> Fact:
    least, most = (Length.of(end).exact for end in (low, high))
    return Fact(kind, topic, least, most, source, standing, note)


def _of(
    kind: str,
    topic: Topic,
    low: float,
    high: float,
    source: str,
    standing: Standing,
    note: str = "",
    *,
    oblong: bool = False,
) -> Fact:
    least, most = Fraction(str(low)), Fraction(str(high))
    return Fact(kind, topic, least, most, source, standing, note, oblong)


def _board(kind: str, holes: int, square_feet: int, source: str, note: str = "") -> Fact:
    per_m2 = holes / (square_feet * _SQUARE_FOOT)
    return Fact(kind, "density", per_m2, per_m2, source, "reckoned", note)


def _fao(
    kind: str,
    spacing: tuple[int, int],
    density: tuple[int, int],
    days: tuple[int, int],
    width: tuple[int, int] | None,
    standing: Standing = "copy",
    note: str = "",
) -> Iterator[Fact]:
    """Spacing and width in cm, as FAO has them."""
    yield _of(kind, "spacing", spacing[0] * 10, spacing[1] * 10, _FAO, standing)
    yield _of(kind, "density", *density, _FAO, standing)
    yield _of(kind, "days", *days, _FAO, standing, note)
    if width is not None:
        yield _of(kind, "width", width[0] * 10, width[1] * 10, _FAO, standing)


FACTS: Final[tuple[Fact, ...]] = (
    *_fao("lettuce", (18, 30), (20, 25), (24, 32), (25, 35), note=mark("longer for some types")),
    _of("lettuce", "density", 20, 25, _TEACH, "copy"),
    _of("lettuce", "nursery", 21, 21, _TEACH, "copy", mark("about three weeks")),
    _of("lettuce", "days", 35, 42, _TEACH, "copy"),
    _of("lettuce", "density", 81, 81, _RUTGERS, "read", _FIRST),
    _of("lettuce", "density", 28, 28, _RUTGERS, "read", _LAST),
    _of("lettuce", "nursery", 12, 12, _RUTGERS, "read"),
    _of("lettuce", "days", 24, 24, _RUTGERS, "read", mark("10 and 14 at two densities")),
    _mm("lettuce", "spacing", "8 in", "8 in", _SHULER, "reckoned", mark("36 holes in 4 x 4 ft")),
    _board("lettuce", 36, 16, _SHULER, mark("36 holes in 4 x 4 ft")),
    _mm("lettuce", "spacing", "12 in", "12 in", _UF, "reckoned", mark("32 heads on 4 x 8 ft")),
    _board("lettuce", 32, 32, _UF, mark("32 heads on 4 x 8 ft")),
    _of("lettuce", "days", 40, 60, _UF, "read"),
    _board("lettuce", 48, 32, _HAWAII, mark("48 holes in 4 x 8 ft")),
    _of("lettuce", "days", 35, 42, _HAWAII, "copy"),
    _mm("lettuce", "spacing", "6 in", "6 in", _ARIZONA, "reckoned"),
    _of("lettuce", "density", 43, 43, _ARIZONA, "abstract"),
    _of("lettuce", "nursery", 14, 14, _ARIZONA, "abstract"),
    _of("lettuce", "days", 28, 42, _ARIZONA, "abstract"),
    _of("lettuce", "grams", 150, 250, _ARIZONA, "abstract"),
    _of("lettuce", "density", 100, 100, _CROATIA, "abstract", mark("before they were moved apart")),
    _of("lettuce", "density", 13, 21, _CROATIA, "abstract", _RESPACED),
    _of("lettuce", "nursery", 18, 18, _CROATIA, "abstract"),
    _of("lettuce", "days", 33, 33, _CROATIA, "reckoned", mark("day 18 to day 51")),
    _of("lettuce", "grams", 276, 321, _CROATIA, "abstract", mark("17 and 13 plants per m²")),
    _of(
        "lettuce",
        "spacing",
        100,
        200,
        _MABOKO,
        "abstract",
        mark("10 x 20 to 20 x 25 cm, tried"),
        oblong=True,
    ),
    _of("lettuce", "density", 20, 50, _MABOKO, "abstract", _TRIED),
    _of(
        "lettuce",
        "spacing",
        200,
        240,
        _CEKIN,
        "abstract",
        mark("20 x 25 and 24 x 25 cm"),
        oblong=True,
    ),
    _of("lettuce", "density", 16.7, 20, _CEKIN, "abstract", mark("20 x 25 and 24 x 25 cm")),
    _mm("lettuce", "spacing", "6 in", "7 in", _RESH, "copy", mark("6 x 6, 7 x 7 or 6 x 8 in")),
    _of("lettuce", "density", 32, 43, _RESH, "copy", mark("6 x 6, 7 x 7 or 6 x 8 in")),
    _of("lettuce", "grams", 142, 142, _CORNELL, "read", mark("5 oz, 35 days from seed")),
    _of("lettuce", "density", 97, 97, _CORNELL, "memory", mark("from day 11 to day 21")),
    _of("lettuce", "density", 38, 38, _CORNELL, "memory", mark("from day 21 to day 35")),
    _of("lettuce", "density", 16, 30, _SRAC, "memory", mark("romaine 16, leaf 20, Bibb 30")),
    _of("lettuce", "nursery", 21, 21, _SRAC, "memory"),
    _of("lettuce", "days", 28, 28, _SRAC, "memory"),
    *_fao("basil", (15, 25), (8, 40), (35, 42), (30, 30), note=mark("to the first cut")),
    _mm("basil", "spacing", "8 in", "8 in", _BASIL, "copy"),
    _of("basil", "nursery", 14, 14, _BASIL, "copy"),
    _of("basil", "days", 21, 21, _BASIL, "copy"),
    _of("basil", "density", 8, 8, _ISLANDS, "memory"),
    *_fao("parsley", (15, 30), (10, 15), (20, 30), (30, 40)),
    _of("parsley", "nursery", 35, 42, _FAO, "copy", mark("seedlings of five to six weeks")),
    *_fao("cabbage", (60, 80), (4, 8), (45, 70), (30, 60), note=mark("heavy for rafts")),
    _of("pak choi", "density", 63, 63, _PAK_CHOI, "abstract"),
    _of("pak choi", "grams", 82.1, 82.1, _PAK_CHOI, "abstract", mark("63 plants per m²")),
    _of("pak choi", "density", 40, 61, _PAK_CHOI_ROOTS, "abstract", mark("tried, best at 50")),
    _of(
        "pak choi",
        "spacing",
        100,
        100,
        _PAK_CHOI_CLOSE,
        "abstract",
        mark("10 x 12 cm"),
        oblong=True,
    ),
    _of("pak choi", "density", 83, 83, _PAK_CHOI_CLOSE, "abstract", mark("10 x 12 cm")),
    _of("okra", "density", 2.7, 4, _ISLANDS, "abstract", mark("tried, best at 4")),
    *_fao("Swiss chard", (30, 30), (15, 20), (25, 35), (30, 40), "memory"),
    *_fao("cauliflower", (45, 60), (3, 5), (60, 90), None, "memory"),
    *_fao("broccoli", (40, 70), (3, 5), (60, 100), None, "memory"),
    *_fao("tomato", (40, 60), (3, 5), (50, 70), None, "memory", mark("to the first harvest")),
    *_fao("pepper", (30, 60), (3, 4), (60, 95), None, "memory"),
    *_fao("cucumber", (30, 60), (2, 5), (55, 65), None, "memory"),
    *_fao("aubergine", (40, 60), (3, 5), (90, 120), None, "memory"),
)
"""Every figure, in the order of the kinds. Where rows are a board, the density is its holes over
its area."""

KINDS: Final = {
    "lettuce": mark("lettuce"),
    "basil": mark("basil"),
    "parsley": mark("parsley"),
    "cabbage": mark("cabbage"),
    "pak choi": mark("pak choi"),
    "okra": mark("okra"),
    "Swiss chard": mark("Swiss chard"),
    "cauliflower": mark("cauliflower"),
    "broccoli": mark("broccoli"),
    "tomato": mark("tomato"),
    "pepper": mark("pepper"),
    "cucumber": mark("cucumber"),
    "aubergine": mark("aubergine"),
}
"""What the kinds are called, in the order they are listed."""
