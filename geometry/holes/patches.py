"""A raft of several plantings: each on its own part, away from the others.

Two plants of unlike plantings keep the mean of their spacings. Each keeping half of its own
spacing from the border between them is always right. Where it gives more plants, one planting
goes up to the border instead and the others keep away from its holes.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import pi
from typing import Final

import numpy as np

from geometry.beds.outline import ExactBox, rectangle_loop
from geometry.holes.claims import Claim, Claims
from geometry.holes.joints import seam_margin
from geometry.holes.place import (
    NO_SITES,
    Limits,
    Tried,
    best_first,
    kept_in,
    lay_on_region,
    least_apart,
    limits_of,
    tried_as,
)
from geometry.holes.rectangle import place_on_rectangle
from geometry.holes.region import KeepOut, Part, Region, region_of
from geometry.holes.sites import Placement, Sites
from geometry.model.curves import Arc, Loop, Point
from geometry.model.measure import Gauge, bounds
from geometry.model.planting import Planting
from geometry.rafts.inset import clip, common, inset
from geometry.rafts.layout import RaftShape, Side

SIDES: Final[tuple[Side, ...]] = ("left", "bottom", "right", "top")
_MOST_DISCS: Final = 40
"""Keeping away from single holes is tried up to so many of them: each bends the border."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A raft of one or several plantings, and all that its holes depend on.

    ``joints`` are the sides behind which half a spacing is kept. Behind the sides of ``beyond``
    lie holes of a planting, by its number, so far from the joint. ``keep_outs`` are the obstacles
    by the number of the planting whose holes keep away from them.
    """

    shape: RaftShape
    claims: Claims
    joints: frozenset[Side]
    joint_gap: Fraction
    keep_outs: tuple[tuple[KeepOut, ...], ...]
    beyond: tuple[tuple[Side, int, Fraction], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """The sites of a raft of several plantings, and what was laid on each of its pieces."""

    sites: Sites
    tried: tuple[tuple[int, Tried], ...]


Way = list[tuple[int, list[Placement]]]
"""The number of each planting and its placements, one for each piece of its part of a raft."""


@dataclass(frozen=True, slots=True)
class Laying:
    """The laying of several plantings on one raft."""

    patch: Patch
    plantings: tuple[Planting, ...]

    def best(self, *, opens: bool = True) -> Laid:
        """Lay them in the way that leaves none without plants and gives the most plants.

        The ways are compared before anything is opened up. What is laid first is opened up only if
        that takes no plant from the others. Without ``opens`` as many plants are laid, but what
        takes none from others is left as it is: for counting.
        """
        claims: list[Claim | None] = [*self.patch.claims.over, None]
        plain = self._with_spread(())
        if not opens:
            return self._counted(plain, claims)
        best = plain.half_and_half(claims)
        opened: list[Callable[[], Way | None]] = [partial(self.half_and_half, claims)]
        for order in (claims, claims[::-1]) if len(claims) > 1 else ():
            way = plain.one_after_another(order)
            if way is not None and _rank(way) < _rank(best):
                best = way
                last = self._with_spread({self._number(order[-1])})
                opened = [
                    partial(self.one_after_another, order),
                    partial(last.one_after_another, order),
                ]
        found = (way for lay in opened if (way := lay()) is not None and _rank(way) <= _rank(best))
        best = next(found, best)
        best = [(number, [piece.opened() for piece in pieces]) for number, pieces in best]
        return self._laid(best)

    def _counted(self, plain: "Laying", claims: Sequence[Claim | None]) -> Laid:
        """Do as ``best`` does, but look for nothing that cannot hold more plants."""
        best = plain.half_and_half(claims, 0)
        opened: Callable[[], Way | None] = partial(self.half_and_half, claims, 0)
        for order in (claims, claims[::-1]) if len(claims) > 1 else ():
            way = plain.one_after_another(order, _to_beat(best))
            if way is not None and _rank(way) < _rank(best):
                best, opened = way, partial(self.one_after_another, order, _to_beat(way) - 1)
        way = opened()
        return self._laid(best if way is None or _rank(way) > _rank(best) else way)

    @staticmethod
    def _laid(best: Way) -> Laid:
        tried = tuple(
            (number, tried_as(piece, len(piece))) for number, pieces in best for piece in pieces
        )
        return Laid(_joined(best), tried)

    def _with_spread(self, numbers: Container[int]) -> "Laying":
        """The same, only these plantings are opened up."""
        return Laying(
            self.patch,
            tuple(
                planting if number in numbers else replace(planting, spread=False)
                for number, planting in enumerate(self.plantings)
            ),
        )

    def half_and_half(self, claims: Sequence[Claim | None], more_than: int | None = None) -> Way:
        """Every planting keeps half of its own distance from the borders of its part.

        ``more_than`` as in ``lay_on_region``, for each of them.
        """
        way: Way = []
        for claim in claims:
            number = self._number(claim)
            way.append((number, self._pieces(claim, self._half(number), (), more_than)))
        return way

    def one_after_another(
        self, order: Sequence[Claim | None], more_than: int | None = None
    ) -> Way | None:
        """Each planting goes up to its borders and keeps away from the holes laid before it.

        None where that would mean too many holes to keep away from one by one. With ``more_than``
        only ways that hold more than so many in all matter.
        """
        way: Way = []
        needed: int | None = None
        for claim in order:
            if more_than is not None and claim is order[-1]:
                needed = max(0, more_than - _plants(way))
            discs = [disc for other, pieces in way for disc in self._discs(claim, other, pieces)]
            if len(discs) > _MOST_DISCS:
                return None
            pieces = self._pieces(claim, Fraction(0), discs, needed)
            if claim is not order[-1]:  # where its holes are matters to those that follow
                pieces = [piece.opened() for piece in pieces]
            way.append((self._number(claim), pieces))
        return way

    def _number(self, claim: Claim | None) -> int:
        return self.patch.claims.rest if claim is None else claim.planting

    def _half(self, number: int) -> Fraction:
        """Half of what a planting keeps from its own kind, with the largest web of the raft."""
        numbers = {self.patch.claims.rest, *(claim.planting for claim in self.patch.claims.over)}
        web = max(self.plantings[each].web.exact for each in numbers)
        planting = self.plantings[number]
        return max(planting.spacing.exact, planting.hole_diameter.exact + web) / 2

    def _discs(
        self, claim: Claim | None, other: int, pieces: Iterable[Placement]
    ) -> Iterator[KeepOut]:
        """The holes of another planting so near to this part that they matter to it."""
        planting = self.plantings[self._number(claim)]
        apart = float(least_apart(planting, self.plantings[other]))
        radius = self.plantings[other].hole_diameter.mm / 2
        for piece in pieces:
            xy = piece.sites.xy
            if claim is not None:
                near = Gauge.of(claim.loop).signed_distance(xy) > -apart
            else:
                depths = [Gauge.of(on.loop).signed_distance(xy) for on in self.patch.claims.over]
                near = np.max(depths, axis=0) < apart
            for x, y in xy[near].tolist():
                yield KeepOut(_disc(x, y, radius), apart - radius)

    def _pieces(
        self,
        claim: Claim | None,
        border: Fraction,
        discs: Sequence[KeepOut],
        more_than: int | None,
    ) -> list[Placement]:
        """Lay one planting on its part of the raft, ``border`` mm away from the other parts."""
        ground = self._ground(claim, border, discs)
        boxes = self._boxes(claim, ground.above)
        if boxes is not None:
            return [piece for box in boxes for piece in self._on_box(box, ground)]
        region = self._region(claim, ground)
        if region is None:
            return []
        found: list[Placement] = []
        if claim is None and self.patch.shape.is_rectangle:
            whole = Fraction(0), Fraction(0), self.patch.shape.length, self.patch.shape.width
            found += [kept_in(placed, region) for placed in self._rows_of(whole, ground)]
        if more_than is not None:
            more_than = max([more_than, *map(len, found)])
        found += lay_on_region(region, ground.planting, ground.limits, more_than)
        return list(best_first(found)[:1])

    def _ground(self, claim: Claim | None, border: Fraction, discs: Sequence[KeepOut]) -> "_Ground":
        number, over = self._number(claim), self.patch.claims.over
        limits = limits_of(self.plantings[number])
        seam = max(limits.margin, seam_margin(limits.spacing, self.patch.joint_gap))
        margins = {side: seam if side in self.patch.joints else limits.margin for side in SIDES}
        for side, other, away in self.patch.beyond:
            mean = (self.plantings[number].spacing.exact + self.plantings[other].spacing.exact) / 2
            margins[side] = max(margins[side], mean - self.patch.joint_gap - away)
        return _Ground(
            self.plantings[number],
            limits,
            margins,
            border,
            over if claim is None else over[: over.index(claim)],
            (*self.patch.keep_outs[number], *discs),
        )

    def _boxes(self, claim: Claim | None, above: Sequence[Claim]) -> list[ExactBox] | None:
        """The part as boxes, where it falls into boxes from one side to the other."""
        shape = self.patch.shape
        if not shape.is_rectangle:
            return None
        first = (Fraction(0), Fraction(0), shape.length, shape.width)
        own = first if claim is None else claim.box
        if own is None:
            return None
        boxes = [own]
        for upper in above:
            if upper.box is None:
                return None
            left: list[ExactBox] = []
            for box in boxes:
                rest = _without(box, upper.box)
                if rest is None:
                    return None
                left += rest
            boxes = left
        return boxes

    def _on_box(self, box: ExactBox, ground: "_Ground") -> Sequence[Placement]:
        found = list(self._rows_of(box, ground))
        if not ground.keep_outs:
            return best_first(found)[:1]
        part = Part(rectangle_loop(*map(float, box)), self._margins(box, ground))
        region = region_of([part], ground.keep_outs)
        found = [kept_in(placed, region) for placed in found]
        found += lay_on_region(region, ground.planting, ground.limits)
        return best_first(found)[:1]

    def _rows_of(self, box: ExactBox, ground: "_Ground") -> Iterator[Placement]:
        """Rows on a box of the raft, as on a raft by itself."""
        left, bottom, right, top = box
        planting, limits = ground.planting, ground.limits
        corner = np.array([float(left), float(bottom)])
        for placed in place_on_rectangle(
            right - left,
            top - bottom,
            margins=self._margins(box, ground),
            joints=self.patch.joints & self._at_raft_edge(box),
            joint_gap=self.patch.joint_gap,
            spacing=limits.spacing,
            row_spacing=limits.row_spacing,
            pattern=planting.pattern,
            direction=planting.rows,
            spread=planting.spread,
        ):
            yield replace(placed, sites=replace(placed.sites, xy=placed.sites.xy + corner))

    def _margins(self, box: ExactBox, ground: "_Ground") -> dict[Side, Fraction]:
        """What the raft's own sides leave of their margins, and the border towards other parts."""
        length, width = self.patch.shape.length, self.patch.shape.width
        inwards = (box[0], box[1], length - box[2], width - box[3])
        return {
            side: max(ground.margins[side] - away, ground.border if away else Fraction(0))
            for side, away in zip(SIDES, inwards, strict=True)
        }

    def _at_raft_edge(self, box: ExactBox) -> frozenset[Side]:
        edges = Fraction(0), Fraction(0), self.patch.shape.length, self.patch.shape.width
        return frozenset(
            side for side, at, edge in zip(SIDES, box, edges, strict=True) if at == edge
        )

    def _region(self, claim: Claim | None, ground: "_Ground") -> Region | None:
        shape = self.patch.shape
        border = float(ground.border)
        off = (*(KeepOut(upper.loop, border) for upper in ground.above), *ground.keep_outs)
        if claim is None:
            return region_of([Part(shape.loop, ground.margins, ground.limits.margin)], off)
        nothing: dict[Side, Fraction] = dict.fromkeys(SIDES, Fraction(0))
        parts = tuple(
            Part(loop, nothing, Fraction(0))
            for own in inset(claim.loop, border)
            for inner in _inner(shape, ground)
            for loop in common(own, inner)
        )
        return region_of(parts, off) if parts else None


@dataclass(frozen=True, slots=True, eq=False)
class _Ground:
    """What the holes of one planting keep away from on a raft."""

    planting: Planting
    limits: Limits
    margins: Mapping[Side, Fraction]
    border: Fraction
    above: tuple[Claim, ...]
    keep_outs: tuple[KeepOut, ...]


def _inner(shape: RaftShape, ground: _Ground) -> tuple[Loop, ...]:
    """The raft less the margins of its edges and joints."""
    left, bottom, right, top = bounds(shape.loop)
    margins = {side: float(margin) for side, margin in ground.margins.items()}
    box = (
        left + margins["left"],
        bottom + margins["bottom"],
        right - margins["right"],
        top - margins["top"],
    )
    if box[0] >= box[2] or box[1] >= box[3]:
        return ()
    if shape.is_rectangle:
        return (rectangle_loop(*box),)
    return tuple(
        part for loop in inset(shape.loop, float(ground.limits.margin)) for part in clip(loop, box)
    )


def _without(box: ExactBox, hole: ExactBox) -> list[ExactBox] | None:
    """What is left of a box beside another, as boxes; None where that is no box any more."""
    left, bottom, right, top = box
    low_x, low_y = max(left, hole[0]), max(bottom, hole[1])
    high_x, high_y = min(right, hole[2]), min(top, hole[3])
    if low_x >= high_x or low_y >= high_y:
        return [box]
    if (low_y, high_y) == (bottom, top):
        rest = [(left, bottom, low_x, top), (high_x, bottom, right, top)]
    elif (low_x, high_x) == (left, right):
        rest = [(left, bottom, right, low_y), (left, high_y, right, top)]
    else:
        return None
    return [part for part in rest if part[0] < part[2] and part[1] < part[3]]


def _disc(x: float, y: float, radius: float) -> Loop:
    centre = Point(x, y)
    return Loop((Arc(centre, radius, -pi / 2, pi), Arc(centre, radius, pi / 2, pi)))


def _rank(way: Way) -> tuple[int, int]:
    """How many plantings got no plant at all, and then less the more plants there are."""
    starved = sum(not any(map(len, pieces)) for _, pieces in way)
    return starved, -_plants(way)


def _plants(way: Way) -> int:
    return sum(len(piece) for _, pieces in way for piece in pieces)


def _to_beat(way: Way) -> int:
    """So many plants another way must exceed; any number where a planting got none."""
    starved, _ = _rank(way)
    return 0 if starved else _plants(way)


def _joined(way: Way) -> Sites:
    """Put the pieces together, the planting with the lowest number first; rows count on."""
    pieces = [(number, piece) for number, parts in way for piece in parts if len(piece)]
    if not pieces:
        return NO_SITES
    pieces.sort(key=lambda each: each[0])
    rows, first = [], 0
    for _, piece in pieces:
        rows.append(piece.sites.rows + first)
        first = int(rows[-1].max()) + 1
    numbers = [np.full(len(piece), number, dtype=np.int64) for number, piece in pieces]
    xy = np.vstack([piece.sites.xy for _, piece in pieces])
    return Sites(xy, np.concatenate(rows), np.concatenate(numbers))
