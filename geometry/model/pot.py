"""What sits in the holes: net pots and plugs as measured."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Pot:
    """A net pot, or a plug: one without a ``rim``.

    ``body`` is the outside just below the rim, ``foot`` that at the lower end, ``depth`` from the
    underside of the rim to there. ``rim`` is the outside of the lip, ``rim_height`` how thick it
    is. ``grams`` is what it weighs wet, with its plug and a seedling; None where nobody weighed
    it.
    """

    name: str
    body: Length
    depth: Length
    foot: Length
    rim: Length = ZERO
    rim_height: Length = ZERO
    grams: Fraction | None = None
