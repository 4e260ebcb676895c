"""What squeezing would win on a raft of a plan: the question, and what an answer is worth."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np

from geometry.checks.raft_in_bed import RaftInBed
from geometry.errors import GeometryError
from geometry.holes.any_outline import place_on_any_outline
from geometry.holes.bed_ceiling import raft_ceiling
from geometry.holes.place import free_region, keep_outs, limits_of, near_raft
from geometry.holes.records import best_known_in_disc, best_known_in_square
from geometry.holes.region import KeepOut, Region
from geometry.holes.room import MOST_POINTS, Room, Squeezed
from geometry.holes.sites import Coordinates
from geometry.model.measure import bounds, full_circle
from geometry.plan import BedPlan, PlacedRaft
from geometry.rafts.layout import RaftPlace, RaftShape
from geometry.tongue import tr
from geometry.units import TOLERANCE_MM, Unit

_TAPE_MM: Final[dict[Unit, float]] = {"mm": 1.0, "cm": 1.0, "in": 1.5875}
"""The finest step that is easy to read on a tape: a millimetre, a sixteenth of an inch."""


@dataclass(frozen=True, slots=True, eq=False)
class Question:
    """One raft to squeeze more holes into; a frozen value that can be worked on elsewhere.

    ``rafts`` are all that would get the same holes, the named one first. ``begin`` are the holes
    there are, ``sites`` those of the pattern. ``ceiling`` is a proved bound for what the rules
    leave to this raft; ``best_known`` what the best known layout holds, where a list knows.
    ``step_mm`` is the step of the grower's tape; ``is_best`` says that the pattern is the best of
    all rows already.
    """

    bed: str
    raft: str
    rafts: tuple[str, ...]
    room: Room
    begin: Coordinates
    sites: Coordinates
    ceiling: int
    best_known: int | None
    step_mm: float
    is_best: bool

    @property
    def can_win(self) -> bool:
        """Whether there is anything to look for."""
        return self.ceiling > len(self.begin)

    def generator(self) -> np.random.Generator:
        """Return the generator that belongs to this question: the same one every time."""
        return np.random.default_rng([len(self.begin), round(self.room.spacing * 1000)])


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """What a search came to: the places found, None when they won nothing.

    ``rows`` is what rows of another pattern would hold, where that is more than there is now.
    """

    found: Squeezed | None
    rows: int | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Offer:
    """Holes that were found, and the question that they answer; only made when they win.

    ``rows`` is what rows of another pattern would hold, where that is more than there is now.
    """

    question: Question
    found: Squeezed
    rows: int | None = None

    @property
    def gain(self) -> int:
        """How many holes the raft wins."""
        return len(self.found) - len(self.question.begin)

    @property
    def whole_gain(self) -> int:
        """How many holes the bed wins."""
        return self.gain * len(self.question.rafts)


def other_rows(question: Question) -> Coordinates | None:
    """The best rows of any pattern on this raft by itself, where they hold more than there is."""
    room = question.room
    if question.is_best or room.region.bounds() is None:
        return None
    laid = place_on_any_outline(
        room.region,
        spacing=room.spacing,
        row_spacing=None,
        pattern="best",
        direction="best",
        spread=False,
    )
    legal = (each.sites.xy for each in laid if room.is_legal(each.sites.xy, TOLERANCE_MM))
    best = max(legal, key=len, default=question.begin)
    return best if len(best) > len(question.begin) else None


def question_of(plan: BedPlan, raft: str, unit: Unit = "mm") -> Question:
    """Make ready what it takes to squeeze more holes into a raft.

    ``unit`` says which tape the places are for, where the planting does not.

    Raises GeometryError, with a sentence, where that can't be done: no such raft, nothing
    planted, too many holes.
    """
    at = next((at for at, each in enumerate(plan.rafts) if each.name == raft), None)
    if at is None:
        raise GeometryError(
            tr("There is no raft {raft} in “{name}”.", raft=raft, name=plan.bed.name)
        )
    planting = plan.bed.planting
    if planting is None or plan.steps is None:
        raise GeometryError(
            tr("“{name}” is not planted yet; plant the bed first.", name=plan.bed.name)
        )
    if plan.bed.zones:
        raise GeometryError(
            tr(
                "“{name}” has zones, and squeezing knows one crop a bed; take them out first.",
                name=plan.bed.name,
            )
        )
    if planting.in_use != "all":
        raise GeometryError(
            tr(
                "In “{name}” every second hole is in use, which takes rows; free places "
                "have none. Use all holes first.",
                name=plan.bed.name,
            )
        )
    placed, place = plan.rafts[at], plan.layout.rafts[at]
    begin = placed.design.holes.xy
    if len(begin) >= MOST_POINTS:
        raise GeometryError(
            tr(
                "Raft {raft} has {holes} holes; squeezing takes rafts of fewer than "
                "{most_points}. Split the bed into smaller rafts.",
                raft=raft,
                holes=len(begin),
                most_points=MOST_POINTS,
            )
        )
    region = free_region(plan.bed, plan.layout, place)
    fixed = np.empty((0, 2))
    rafts: tuple[str, ...] = (raft,)
    match planting.joints:
        case "bed-wide":
            fixed = _plants_around(plan, placed, region, float(limits_of(planting).spacing))
        case "interchangeable":
            rafts += tuple(
                other.name
                for other in plan.rafts
                if other is not placed and other.design.shape is placed.design.shape
            )
        case "separate":
            rafts += _alike(plan, at)
    spacing = limits_of(planting).spacing
    margins = region.parts[0].margins
    ceiling = raft_ceiling(place.shape, limits_of(planting), region.keep_outs, margins)
    if plan.ceiling is not None and len(rafts) == len(plan.rafts):
        ceiling = min(ceiling, plan.ceiling // len(rafts))
    return Question(
        plan.bed.name,
        raft,
        rafts,
        Room(region, float(spacing), fixed),
        begin,
        plan.steps.pattern.sites[at].xy,
        ceiling,
        _best_known(place.shape, region, spacing),
        planting.round_to.mm if planting.round_to is not None else _TAPE_MM[unit],
        planting.pattern == "best" and planting.rows == "best",
    )


def _alike(plan: BedPlan, at: int) -> tuple[str, ...]:
    """The other rafts that have the same holes and the same things to keep away from."""
    placed, around = plan.rafts[at], keep_outs(plan.bed)
    boxes = [(bounds(each.loop), each.distance) for each in around]

    def near(place: RaftPlace) -> tuple[KeepOut, ...]:
        x, y = float(place.x), float(place.y)
        far_x, far_y = x + float(place.shape.length), y + float(place.shape.width)
        reached = any(
            left - away < far_x and right + away > x and bottom - away < far_y and top + away > y
            for (left, bottom, right, top), away in boxes
        )
        return near_raft(place, around) if reached else ()

    own = near(plan.layout.rafts[at])
    return tuple(
        other.name
        for other, there in zip(plan.rafts, plan.layout.rafts, strict=True)
        if other is not placed and other.design is placed.design and near(there) == own
    )


def _plants_around(
    plan: BedPlan, placed: PlacedRaft, region: Region, spacing: float
) -> Coordinates:
    """The plants of other rafts that this raft's holes have to keep away from, on this raft."""
    here = _lying(plan, placed)
    box = region.bounds()
    around = [
        here.on_raft(_lying(plan, other).in_bed(other.design.holes.xy))
        for other in plan.rafts
        if other is not placed and len(other.design.holes)
    ]
    if box is None or not around:
        return np.empty((0, 2))
    xy = np.vstack(around)
    near = (xy > np.array(box[:2]) - spacing).all(axis=1)
    near &= (xy < np.array(box[2:]) + spacing).all(axis=1)
    return xy[near]


def _lying(plan: BedPlan, raft: PlacedRaft) -> RaftInBed:
    design = raft.design
    return RaftInBed(
        plan.bed.name, raft.name, design.shape, design.holes, raft.x, raft.y, raft.turned
    )


def _best_known(shape: RaftShape, region: Region, spacing: Fraction) -> int | None:
    """What the best known layout of such a square or disc holds; None where no list tells."""
    margins = region.parts[0].margins
    if region.keep_outs or len(set(margins.values())) > 1:
        return None
    if shape.is_rectangle and shape.length == shape.width:
        return best_known_in_square(shape.length - 2 * margins["left"], spacing)
    radius = None if shape.is_rectangle else full_circle(shape.loop)
    return (
        None if radius is None else best_known_in_disc(Fraction(radius) - margins["left"], spacing)
    )
