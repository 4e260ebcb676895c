"""How far a hole can end beside its place: small slips, and how they add up.

Every slip is a most, not a mean; errors are the sum of all slips at their worst, each way by
itself. What the drill wanders comes on top and is the same whatever the template.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from geometry.units import MM_PER, Unit

Floats = NDArray[np.float64]
Place = tuple[float, float]

PRINT_SHARE: Final = 0.005
"""What the bars of the first page let pass: 99.5 to 100.5 mm of 100."""

SET_MM: Final = 0.5
"""A mark laid on a line, an edge or a corner (common practice, no source)."""

PIN_MM: Final = 0.3
"""A mark laid on a hole with a nail through both (common practice, no source)."""

JOIN_MM: Final = 0.3
"""Two pieces of paper joined cross on cross (common practice, no source)."""

PROOF_MM: Final = 1.0
"""What the proof by tape lets pass from the first mark of a strip to any other."""

_READ_MM: Final = 0.5


def tape_mm(unit: Unit) -> float:
    """A line set by tape: half a millimetre to read it, and half the last figure on the page."""
    last = float(MM_PER["in"]) / 16 if unit == "in" else 0.1
    return _READ_MM + last / 2


class Error(NamedTuple):
    """The largest error of any hole, along the rows and across them, in millimetres."""

    along: float
    across: float

    @property
    def worst(self) -> float:
        """The larger of the two: the one figure that is stated."""
        return max(self)


@dataclass(frozen=True, slots=True)
class Laying:
    """A template laid so that two of its marks lie on places marked in an earlier laying.

    ``at`` is where its origin then is. ``marks`` are two places on the template, ``onto`` the two
    places of the template in the laying number ``before`` that they lie on.
    """

    at: Place
    before: int
    marks: tuple[Place, Place]
    onto: tuple[Place, Place]


@dataclass(frozen=True, slots=True)
class First:
    """The first laying: on a line through the origin along the template, ``span`` mm long.

    ``along`` and ``across`` are how far the start and each end of the line can be off.
    """

    span: float
    along: float
    across: float


PaperError = Callable[[Place], tuple[Floats, Floats]]
"""Share of each slip of the template itself in the place of a mark, each way."""


def paper_error(length: float, joins: Sequence[float]) -> tuple[Floats, PaperError]:
    """Return the slips of a printed strip of such a length, and their shares in a place.

    ``joins`` are the places along the strip where two pieces meet.
    """
    stretch = min(PRINT_SHARE, PROOF_MM / length) if length else PRINT_SHARE
    sizes = np.array([stretch, PRINT_SHARE, *[JOIN_MM] * len(joins)])
    places = np.array(joins, dtype=np.float64)

    def shares(place: Place) -> tuple[Floats, Floats]:
        x, y = place
        along = np.concatenate([[x, 0.0], (places < x).astype(np.float64)])
        return along, np.concatenate([[0.0, y], np.zeros(len(places))])

    return sizes, shares


def board_error(places: Sequence[Place], slip: float) -> tuple[Floats, PaperError]:
    """Return the slips of a board whose holes were each marked by tape, and their shares."""
    numbers = {place: number for number, place in enumerate(places)}
    sizes = np.full(2 * len(places), slip)

    def shares(place: Place) -> tuple[Floats, Floats]:
        along, across = np.zeros((2, 2 * len(places)))
        along[2 * numbers[place]] = across[2 * numbers[place] + 1] = 1.0
        return along, across

    return sizes, shares


def stepped_error(
    first: First,
    layings: Sequence[Laying],
    holes: Sequence[Sequence[Place]],
    paper: tuple[Floats, PaperError],
) -> Error:
    """Return the largest error after a template was laid from mark to mark.

    ``holes`` are the places on the template that each laying marks, the first one included. Small
    angles are taken as such: a place moves square to the arm that turns.
    """
    own, shares = paper
    start = len(own)
    sizes = np.concatenate(
        [own, [first.along, first.across, first.across], [PIN_MM] * (3 * len(layings))]
    )

    def slip(number: int) -> Floats:
        share = np.zeros(len(sizes))
        share[number] = 1.0
        return share

    def printed(place: Place) -> tuple[Floats, Floats]:
        along, across = shares(place)
        rest = np.zeros(len(sizes) - len(own))
        return np.concatenate([along, rest]), np.concatenate([across, rest])

    turn = (slip(start + 2) - slip(start + 1)) / first.span if first.span else np.zeros(len(sizes))
    poses = [(slip(start), slip(start + 1), turn)]

    def moved(pose: int, place: Place) -> tuple[Floats, Floats]:
        x, y, angle = poses[pose]
        along, across = printed(place)
        return x - angle * place[1] + along, y + angle * place[0] + across

    for number, laying in enumerate(layings):
        (x1, y1), (x2, y2) = laying.marks
        far = float(np.hypot(x2 - x1, y2 - y1))
        normal = (-(y2 - y1) / far, (x2 - x1) / far)
        pins = start + 3 + 3 * number
        one, two = moved(laying.before, laying.onto[0]), moved(laying.before, laying.onto[1])
        along, across = one[0] + slip(pins), one[1] + slip(pins + 1)
        ink_1, ink_2 = printed(laying.marks[0]), printed(laying.marks[1])
        aside = (
            normal[0] * (two[0] - along - ink_2[0] + ink_1[0])
            + normal[1] * (two[1] - across - ink_2[1] + ink_1[1])
            + slip(pins + 2)
        )
        angle = aside / far
        poses.append((along - ink_1[0] + angle * y1, across - ink_1[1] - angle * x1, angle))

    @cache
    def inks(places: tuple[Place, ...]) -> tuple[Floats, Floats]:
        pairs = [printed(place) for place in places]
        return np.array([pair[0] for pair in pairs]), np.array([pair[1] for pair in pairs])

    worst = np.zeros(2)
    for (x, y, angle), places in zip(poses, holes, strict=True):
        arms = np.array(places)
        along, across = inks(tuple(places))
        along = x - angle * arms[:, 1:] + along
        across = y + angle * arms[:, :1] + across
        found = [float((np.abs(part) @ sizes).max()) for part in (along, across)]
        worst = np.maximum(worst, found)
    return Error(float(worst[0]), float(worst[1]))
