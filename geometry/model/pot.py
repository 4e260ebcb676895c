"""What sits in the holes: net pots and plugs as measured."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Pot:
    """A net pot, or a plug: one without a ``rim``, alone or in a collar.

    ``body`` is the outside just below the rim, ``foot`` that at the lower end, ``depth`` from the
    underside of the rim to there. ``rim`` is the outside of the lip, ``rim_height`` how thick it
    is. ``grams`` is what it weighs wet, with its plug and a seedling; None where nobody weighed
    it. A ``collar`` is a disc of so much outside that lies on the raft and holds a plug in its own
    hole, ``collar_hole`` across; ``depth`` and ``rim_height`` are then those below it and its own.
    """

    name: str
    body: Length
    depth: Length
    foot: Length
    rim: Length = ZERO
    rim_height: Length = ZERO
    grams: Fraction | None = None
    collar: Length = ZERO
    collar_hole: Length = ZERO
