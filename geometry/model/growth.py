"""What a grower has measured of a crop's leaves. Nothing here is published or guessed."""

from dataclasses import dataclass

from geometry.units import Length


@dataclass(frozen=True, slots=True)
class LeafWidth:
    """How wide the leaves of one plant were so many days after it came onto the water."""

    day: int
    width: Length


@dataclass(frozen=True, slots=True)
class Growth:
    """The widths measured of one crop, the earliest day first, no day twice."""

    crop: str
    widths: tuple[LeafWidth, ...]
