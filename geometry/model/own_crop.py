"""Crops of the grower's own, beside the published table."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.units import Length


@dataclass(frozen=True, slots=True)
class OwnCrop:
    """A crop as the grower knows it. What is None is not known.

    ``days`` are those on the water up to the harvest, ``planted_width`` and ``mature_width`` how
    wide a plant is when it comes onto the water and when it is grown up, ``grams`` what it weighs
    when it is picked. ``note`` says where that comes from.
    """

    name: str
    spacing: Length
    days: int | None = None
    planted_width: Length | None = None
    mature_width: Length | None = None
    grams: Fraction | None = None
    note: str = ""
