"""What is planted in a bed: crop, pattern, rules, and the holes that were placed by hand."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, get_args

from geometry.units import ZERO, Length

Pattern = Literal[
    "square", "rectangular", "hexagonal", "staggered", "mixed", "rings", "rows", "best"
]
Direction = Literal["along", "across", "best"]
JointRule = Literal["bed-wide", "interchangeable", "separate"]
InUse = Literal["all", "every second"]

PATTERNS: tuple[Pattern, ...] = get_args(Pattern)
DIRECTIONS: tuple[Direction, ...] = get_args(Direction)
JOINT_RULES: tuple[JointRule, ...] = get_args(JointRule)
IN_USE: tuple[InUse, ...] = get_args(InUse)


FINEST_STEP_MM: Final = Fraction(1, 10)
COARSEST_STEP_MM: Final = Fraction(50)
"""The steps that sites may be rounded to: no tape shows finer ones, no raft needs coarser ones."""


@dataclass(frozen=True, slots=True)
class Pin:
    """A hole placed by hand, in raft coordinates of the named raft.

    ``home`` is the place of the pattern's site that this hole took over: the site within half a
    spacing of it (of the pin itself when ``home`` is None) makes room. With ``interchangeable``
    joints a pin belongs to every raft of the same shape.
    """

    raft: str
    x: Length
    y: Length
    home: tuple[Length, Length] | None = None


@dataclass(frozen=True, slots=True)
class Blank:
    """A site left out by hand: the pattern's site within half a spacing of this place."""

    raft: str
    x: Length
    y: Length


@dataclass(frozen=True, slots=True)
class Planting:
    """The rules for the holes of one bed. ``row_spacing`` None means the spacing.

    ``round_to`` is the step of the tape that sites are placed on, measured from the datum corner of
    their raft; None keeps them exact.
    ``in_use`` says which of the drilled holes hold a plant now: with "every second" the others are
    plugged, so that a finishing raft serves as a nursery raft as well. ``pot`` names what sits in
    the holes, one of the project's pots, or nothing.
    """

    spacing: Length
    hole_diameter: Length
    crop: str = ""
    pattern: Pattern = "best"
    rows: Direction = "best"
    row_spacing: Length | None = None
    edge_margin: Length = ZERO
    web: Length = ZERO
    joints: JointRule = "bed-wide"
    spread: bool = True
    round_to: Length | None = None
    in_use: InUse = "all"
    pot: str = ""
    pins: tuple[Pin, ...] = ()
    blanks: tuple[Blank, ...] = ()
