"""Lines that a grower draws across a bed to line things up with; they are never cut or drilled."""

from dataclasses import dataclass
from typing import Literal

from geometry.units import Length

Axis = Literal["x", "y"]


@dataclass(frozen=True, slots=True)
class GuideLine:
    """The line x = ``at`` or y = ``at`` across the named bed, in bed coordinates.

    A ``locked`` one stays where it is until it is unlocked.
    """

    bed: str
    axis: Axis
    at: Length
    locked: bool = False
