"""The crop table: published spacings, each row with the document it was read in.

Spacing and density of one row need not agree with each other; the sources do not either
(``facts.py`` has all of them side by side). Where a source gives a range, or a density only, the
spacing offered is a choice of ours within it. The grower's own crops go before the table.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from geometry.model.own_crop import OwnCrop
from geometry.tongue import mark, tr
from geometry.units import Length

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Crop:
    """One row. ``spacing`` is what a planting of this crop starts with.

    ``spacing_range`` is the published range; ``chosen`` says in what way the spacing is our own
    choice and is empty where the source gives just this spacing. ``planted_width`` is how wide a
    plant is when it comes onto the water, ``mature_width`` when it is grown up, ``density_per_m2``
    the published plants per square metre, ``nursery`` and ``days`` the days before and on the
    water up to the harvest, ``grams`` what a plant weighs then. None where the source is silent.
    ``kind`` is what all rows of one kind of plant are called in ``facts.py``. ``is_own`` tells the
    grower's own crops, whose ``source`` is their note.
    """

    name: str
    spacing: Length
    source: str
    chosen: str = ""
    spacing_range: tuple[Length, Length] | None = None
    mature_width: tuple[Length, Length] | None = None
    density_per_m2: tuple[float, float] | None = None
    days: tuple[int, int] | None = None
    planted_width: tuple[Length, Length] | None = None
    nursery: tuple[int, int] | None = None
    grams: tuple[Fraction, Fraction] | None = None
    kind: str = ""
    is_own: bool = False


_FAO = (
    "Somerville, Cohen, Pantanella, Stankus, Lovatelli: Small-scale aquaponic food production, "
    "FAO Fisheries and Aquaculture Technical Paper 589 (2014), appendix 1"
)
_RUTGERS = "Rutgers Horticultural Engineering: Lettuce Production (floating system), undated"
_IN_RANGE = mark("our choice within the published range")
_FROM_DENSITY = mark("our choice: a square grid of the published density")
_FROM_BOARD = mark("our reading of the published count on the published board")


def _range(low: str, high: str) -> tuple[Length, Length]:
    return Length.of(low), Length.of(high)


CROPS: tuple[Crop, ...] = (
    Crop(
        name=mark("lettuce, head"),
        spacing=Length.of("20 cm"),
        source=_FAO,
        chosen=_IN_RANGE,
        spacing_range=_range("18 cm", "30 cm"),
        mature_width=_range("25 cm", "35 cm"),
        density_per_m2=(20, 25),
        days=(24, 32),
        kind="lettuce",
    ),
    Crop(
        name=mark("lettuce, head, 8 in"),
        spacing=Length.of("8 in"),
        source="Shuler, Nie, Shuler, Shuler: float-system lettuce, Proceedings of the Florida "
        "State Horticultural Society, about 2008 (36 holes in a sheet of 4 x 4 ft)",
        chosen=_FROM_BOARD,
        kind="lettuce",
    ),
    Crop(
        name=mark("lettuce, head, 12 in"),
        spacing=Length.of("12 in"),
        source="UF/IFAS news of 24 November 1998 (32 heads on a panel of 4 x 8 ft)",
        chosen=_FROM_BOARD,
        days=(40, 60),
        kind="lettuce",
    ),
    Crop(
        name=mark("lettuce, small head"),
        spacing=Length.of("6 in"),
        source="Hernandez, Giacomelli, Lewis, An: Acta Horticulturae 1170 (2017) 619-626 "
        "(43 plants per square metre)",
        chosen=_FROM_DENSITY,
        density_per_m2=(43, 43),
        days=(28, 42),
        kind="lettuce",
        nursery=(14, 14),
        grams=(Fraction(150), Fraction(250)),
    ),
    Crop(
        name=mark("lettuce, first 10 days afloat"),
        spacing=Length.of(100),
        source=f"{_RUTGERS} (60 holes on a board of 2 x 4 ft)",
        chosen=_FROM_BOARD,
        density_per_m2=(81, 81),
        days=(10, 10),
        kind="lettuce",
        nursery=(12, 12),
    ),
    Crop(
        name=mark("lettuce, last 14 days afloat"),
        spacing=Length.of(174),
        source=f"{_RUTGERS} (21 holes on a board of 2 x 4 ft)",
        chosen=_FROM_BOARD,
        density_per_m2=(28, 28),
        days=(14, 14),
        kind="lettuce",
    ),
    Crop(
        name=mark("lettuce, leaf"),
        spacing=Length.of("15 cm"),
        source="Maboko and Du Plooy: South African Journal of Plant and Soil 26 (2009) 195-198",
        chosen=_IN_RANGE,
        spacing_range=_range("10 cm", "20 cm"),
        density_per_m2=(20, 50),
        kind="lettuce",
    ),
    Crop(
        name=mark("lettuce, Batavia"),
        spacing=Length.of("20 cm"),
        source="Cekin and others: preprint, RWTH Aachen (2023), 20 x 25 and 24 x 25 cm",
        chosen=_IN_RANGE,
        spacing_range=_range("20 cm", "24 cm"),
        density_per_m2=(16.7, 20),
        kind="lettuce",
    ),
    Crop(
        name=mark("basil"),
        spacing=Length.of("20 cm"),
        source=_FAO,
        chosen=_IN_RANGE,
        spacing_range=_range("15 cm", "25 cm"),
        mature_width=_range("30 cm", "30 cm"),
        density_per_m2=(8, 40),
        days=(35, 42),
        kind="basil",
    ),
    Crop(
        name=mark("basil, 8 in"),
        spacing=Length.of("8 in"),
        source="Walters and Currey: HortTechnology 25 (2015) 645",
        days=(21, 21),
        kind="basil",
        nursery=(14, 14),
    ),
    Crop(
        name=mark("parsley"),
        spacing=Length.of("25 cm"),
        source=_FAO,
        chosen=_IN_RANGE,
        spacing_range=_range("15 cm", "30 cm"),
        mature_width=_range("30 cm", "40 cm"),
        density_per_m2=(10, 15),
        days=(20, 30),
        kind="parsley",
    ),
    Crop(
        name=mark("cabbage, head"),
        spacing=Length.of("60 cm"),
        source=f"{_FAO} (which finds it heavy for rafts)",
        chosen=_IN_RANGE,
        spacing_range=_range("60 cm", "80 cm"),
        mature_width=_range("30 cm", "60 cm"),
        density_per_m2=(4, 8),
        days=(45, 70),
        kind="cabbage",
    ),
    Crop(
        name=mark("pak choi"),
        spacing=Length.of(140),
        source="Gobilik and others: plant density and root temperature of raft pak choi, "
        "best of 40, 50 and 61 per square metre",
        chosen=_FROM_DENSITY,
        density_per_m2=(50, 50),
        kind="pak choi",
    ),
    Crop(
        name=mark("pak choi, small"),
        spacing=Length.of("10 cm"),
        source="Wiangsamut and Koolpluksee: International Journal of Agricultural Technology 16 "
        "(2020) 1063-1076, 10 x 12 cm",
        density_per_m2=(83, 83),
        kind="pak choi",
    ),
    Crop(
        name=mark("okra"),
        spacing=Length.of("50 cm"),
        source="Rakocy, Bailey, Shultz, Thoman: University of the Virgin Islands, about 2004",
        chosen=_FROM_DENSITY,
        density_per_m2=(4.0, 4.0),
        kind="okra",
    ),
)


def find_crop(name: str, own: Iterable[OwnCrop] = ()) -> Crop | None:
    """Find a crop, the grower's ``own`` ones first, capitals or not; None for an unknown one."""
    wanted = plain_name(name)
    for crop in own:
        if plain_name(crop.name) == wanted:
            return as_row(crop)
    return next((crop for crop in CROPS if plain_name(crop.name) == wanted), None)


def plain_name(name: str) -> str:
    """Return a name by which two of the same crop are known to be the same."""
    return name.strip().casefold()


def all_crops(own: Iterable[OwnCrop] = ()) -> tuple[Crop, ...]:
    """Return every crop there is, the grower's ``own`` ones first; theirs hide equal names."""
    mine = tuple(as_row(crop) for crop in own)
    names = {plain_name(crop.name) for crop in mine}
    return (*mine, *(crop for crop in CROPS if plain_name(crop.name) not in names))


def as_row(crop: OwnCrop) -> Crop:
    """Return an own crop as a row; each figure stands for a range of no width."""
    return Crop(
        crop.name,
        crop.spacing,
        crop.note.strip().rstrip(".") or tr("your own figures"),
        mature_width=_both(crop.mature_width),
        days=_both(crop.days),
        planted_width=_both(crop.planted_width),
        grams=_both(crop.grams),
        is_own=True,
    )


def _both(value: _T | None) -> tuple[_T, _T] | None:
    return None if value is None else (value, value)
