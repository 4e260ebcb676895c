"""The bed as it measures: outline, things in the water, and how it is split into rafts."""

from dataclasses import dataclass, field
from typing import Literal

from geometry.model.outlines import Outline
from geometry.model.planting import Planting
from geometry.model.water import Water
from geometry.model.zone import Zone
from geometry.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in bed coordinates, as typed."""

    x: Length
    y: Length


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something in the water or above it that every hole's rim keeps away from.

    ``shape`` stands at ``centre`` (the middle of its box) or with its lower left box corner at
    ``corner``; exactly one of the two is given. A brace or a bar lies ``above`` the water: so far
    is its lower side over the working level, and rafts swim under it. None stands in the water.
    """

    name: str
    shape: Outline
    centre: Spot | None = None
    corner: Spot | None = None
    clearance: Length = ZERO
    above: Length | None = None


@dataclass(frozen=True, slots=True)
class Split:
    """Equal rafts: ``along`` the bed's length times ``across`` its width.

    ``shift_along`` moves all joints along the bed, ``shift_across`` those across it (back when
    negative): the first rafts grow by so much and the last ones shrink. Without joints that way
    there is nothing to move.
    """

    along: int = 1
    across: int = 1
    shift_along: Length = ZERO
    shift_across: Length = ZERO


@dataclass(frozen=True, slots=True)
class Fit:
    """As few equal rafts as possible, none longer or wider than this."""

    length: Length
    width: Length


@dataclass(frozen=True, slots=True)
class One:
    """One raft that fills the bed."""


RaftRule = Split | Fit | One
Pushed = Literal["no", "far", "near"]


@dataclass(frozen=True, slots=True)
class Bed:
    """One body of water. Bed coordinates start at the lower left of the outline's box, y up.

    ``zones`` lie on the bed's planting and on each other, the later ones on top.
    With an ``edge_seal`` a strip closes the clearance against light. Rafts stay where they are set
    unless they are ``pushed`` along the bed, in at one end and out at the other: the ``far`` one,
    or the ``near`` one, where the bed's datum corner is.
    """

    name: str
    outline: Outline
    clearance: Length = ZERO
    joint_gap: Length = ZERO
    obstacles: tuple[Obstacle, ...] = ()
    rafts: RaftRule = field(default_factory=One)
    planting: Planting | None = None
    zones: tuple[Zone, ...] = ()
    water: Water = field(default_factory=Water)
    edge_seal: bool = False
    pushed: Pushed = "no"
