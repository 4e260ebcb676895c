"""How a pot or plug sits in a drilled hole, and whether its foot reaches the water.

Lengths in mm. A pot is round; between two depths where it was measured it tapers evenly.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal, Self

from geometry.errors import GeometryError
from geometry.model import pot as model
from geometry.tongue import tr
from geometry.units import TOLERANCE_MM

Seat = Literal["falls through", "loose", "slip", "tight", "stands proud", "does not go in"]

TIGHT_MM: Final = 0.5
"""A pot with less room than this around it stays where it is put (common practice, no source)."""

SLIP_MM: Final = 2.0
"""With less room than this it goes in by hand and lets little light past; more is loose
(common practice, no source)."""

LIP_MM: Final = 1.5
"""The least that a rim must lie on the foam all round (common practice, no source)."""

PROUD_MM: Final = 5.0
"""A pot that is caught by its taper may stand so far above the foam
(common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Pot:
    """A pot as measured. ``rim`` is the outside of its lip, 0 where it has none, as a plug.

    ``body`` is its outside just below the rim, ``foot`` at its lower end, ``depth`` from the
    underside of the rim to there. ``rim_height`` is how thick the rim is. A plug in a collar has
    that for a rim; ``bore`` is the hole of the collar, 0 without one.

    Raises:
        GeometryError: No pot is like that.
    """

    body: float
    depth: float
    foot: float
    rim: float = 0.0
    rim_height: float = 0.0
    bore: float = 0.0

    @classmethod
    def of(cls, pot: model.Pot) -> Self:
        """Take the measures of a pot of a project."""
        return cls(
            pot.body.mm,
            pot.depth.mm,
            pot.foot.mm,
            pot.rim.mm or pot.collar.mm,
            pot.rim_height.mm,
            pot.collar_hole.mm,
        )

    def __post_init__(self) -> None:
        if min(self.body, self.depth, self.foot) <= 0:
            raise GeometryError(tr("A pot has a body, a foot and a depth; measure all three."))
        if self.foot > self.body + TOLERANCE_MM:
            raise GeometryError(tr("A pot that widens downwards does not go into a hole."))
        if self.rim and self.rim < self.body - TOLERANCE_MM:
            raise GeometryError(tr("The rim of a pot is no narrower than its body."))

    def width_at(self, down: float) -> float:
        """Return its outside so far below the rim."""
        share = min(max(down / self.depth, 0.0), 1.0)
        return self.body + (self.foot - self.body) * share


@dataclass(frozen=True, slots=True)
class Seated:
    """How a pot sits. ``play`` is what the hole is wider than the pot at the upper face.

    A pot that does not go in, or falls through, has no seat: its ``proud`` is no measure.

    ``proud`` is how far the underside of its rim stands above the foam, ``lip`` how far the rim
    lies on it all round.
    """

    seat: Seat
    play: float
    proud: float
    lip: float

    @property
    def is_good(self) -> bool:
        """Whether it holds and lets next to no light past."""
        return self.seat in {"tight", "slip"}


def seat_of(pot: Pot, hole: float) -> Seated:
    """Return how a pot sits in a hole of this diameter.

    A collar closes the gap around its plug, so the plug may have any play, as long as the collar
    still covers the hole with the plug pushed against one side of it.
    """
    if pot.bore >= pot.body + TIGHT_MM:
        return Seated("falls through", hole - pot.body, 0.0, 0.0)
    if hole < pot.foot - TOLERANCE_MM:
        return Seated("does not go in", hole - pot.foot, pot.depth, 0.0)
    lip = (pot.rim - hole) / 2 if pot.rim else 0.0
    widest = pot.rim or pot.body + TIGHT_MM
    if hole >= widest + TOLERANCE_MM:
        return Seated("falls through", hole - max(pot.rim, pot.body), 0.0, 0.0)
    if hole < pot.body - TOLERANCE_MM:
        proud = pot.depth * (pot.body - hole) / (pot.body - pot.foot)
        return Seated("stands proud" if proud > PROUD_MM else "tight", 0.0, proud, lip)
    play = hole - pot.body
    covers = lip >= play / 2 if pot.bore else play < SLIP_MM
    if not covers or (pot.rim and lip < LIP_MM):
        return Seated("loose", play, 0.0, lip)
    return Seated("tight" if play < TIGHT_MM else "slip", play, 0.0, lip)


def saw_for(pot: Pot, saws: Iterable[float], allowance: float = 0.0) -> float | None:
    """Return the saw whose hole suits a pot best; None if none of them does.

    A hole comes out ``allowance`` wider than the saw, from wobble or melting back. Of the saws that
    suit, the one that leaves the least play is best, then the one after which the pot stands
    proud the least.
    """
    suiting = []
    for saw in saws:
        seated = seat_of(pot, saw + allowance)
        if seated.is_good:
            suiting.append((seated.proud, seated.play, saw))
    return min(suiting)[2] if suiting else None


def immersion(depth: float, freeboard: float, proud: float = 0.0) -> float:
    """Return how far the foot of a pot is under water: negative where it hangs above it.

    ``depth`` is from the upper face of the foam to the foot; a pot that stands proud hangs less.
    """
    return depth - proud - freeboard
