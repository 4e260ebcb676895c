"""The holes of a bed with zones: every planting on its part of every raft.

Rafts of unlike plantings side by side may each keep half of their own spacing from the joint, which
is always right. Where it gives more plants, the planting with the most rafts is laid as if the bed
were all its own, and the others keep away from what it has at the joints.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from math import floor
from typing import Final

import numpy as np

from geometry.holes.claims import Claims, claims_of
from geometry.holes.pairing import plugged_sites
from geometry.holes.pairs import Indices, near_between, near_pairs
from geometry.holes.patches import SIDES, Laid, Laying, Patch
from geometry.holes.place import (
    BedPattern,
    Tried,
    keep_outs_on,
    place_holes,
)
from geometry.holes.sites import Coordinates, Sites
from geometry.model.bed import Bed
from geometry.model.planting import Planting
from geometry.model.zone import all_plantings
from geometry.rafts.layout import (
    OPPOSITE,
    RaftLayout,
    RaftPlace,
    Side,
    joint_sides,
    neighbour_ways,
)
from geometry.units import TOLERANCE_MM

_MOST_DESIGNS: Final = 6
"""Rafts that may change places are looked at beside each other up to so many designs."""


def lay_holes(bed: Bed, layout: RaftLayout, *, opens: bool = True) -> BedPattern:
    """Lay the plantings of a bed and of its zones on all its rafts; hand edits are not looked at.

    Without ``opens`` for counting, as ``place_holes`` does it.

    Raises:
        OutlineError: The shape of a zone cannot be drawn.
        TooManyError: More sites than a project may have.
    """
    if bed.planting is None:
        return place_holes(bed, layout)
    plantings = all_plantings(bed.planting, bed.zones)
    if bed.zones:
        pattern = _zoned(bed, layout, plantings, opens=opens)
    else:
        pattern = place_holes(bed, layout, opens=opens)
    if not opens or all(planting.in_use == "all" for planting in plantings):
        return pattern
    paired = {
        id(sites): replace(sites, plugged=plugged_sites(sites, plantings))
        for sites in {id(sites): sites for sites in pattern.sites}.values()
    }
    return replace(pattern, sites=tuple(paired[id(sites)] for sites in pattern.sites))


def _zoned(
    bed: Bed, layout: RaftLayout, plantings: tuple[Planting, ...], *, opens: bool
) -> BedPattern:
    work = _Zoned(bed, layout, plantings, claims_of(bed, layout), opens)
    best = work.each_by_itself()
    if work.is_mixed and plantings[0].joints != "separate":
        other = work.beside_the_most()
        if other is not None and _rank(other) < _rank(best):
            best = other
    return best


def _rank(pattern: BedPattern) -> tuple[int, int]:
    """How many plantings have no plant, and then less the more plants there are."""
    starved = sum(tried is None for tried in pattern.by_planting)
    return starved, -sum(map(len, pattern.sites))


@dataclass(frozen=True, slots=True)
class _Zoned:
    """The laying of all plantings on all rafts of a bed."""

    bed: Bed
    layout: RaftLayout
    plantings: tuple[Planting, ...]
    claims: tuple[Claims, ...]
    opens: bool

    @property
    def is_mixed(self) -> bool:
        """Whether there is more than one planting on the rafts."""
        return len(set(self.claims)) > 1 or any(one.over for one in self.claims)

    def each_by_itself(self) -> BedPattern:
        """At joints every raft keeps half of its own spacing."""
        among = self.layout.rafts if self.is_mixed else None
        made = _Made(self.plantings, opens=self.opens)
        for number in sorted({one.rest for one in self.claims if not one.over}):
            at = self._whole(number)
            some = replace(self.layout, rafts=tuple(self.layout.rafts[k] for k in at))
            laid = place_holes(self._planted(number), some, among, opens=self.opens)
            made.put(number, at, laid.sites, laid.tried[:1])
        for k, one in enumerate(self.claims):
            if one.over:
                made.patch(k, self._patch(k, self._joints(k), ()))
        return made.pattern()

    def beside_the_most(self) -> BedPattern | None:
        """Lay the planting of the most rafts as if the bed were its own, and the others beside it.

        None where that comes out too near at some joint, as it may at corners.
        """
        whole = Counter(one.rest for one in self.claims if not one.over)
        if not whole:
            return None
        number = max(whole, key=lambda each: (whole[each], -each))
        laid = place_holes(self._planted(number), self.layout)
        at = self._whole(number)
        made = _Made(self.plantings, opens=self.opens)
        made.put(number, at, [laid.sites[k] for k in at], laid.tried[:1])
        away = {k: _from_sides(self.layout.rafts[k], laid.sites[k]) for k in at}
        cells = {(raft.column, raft.row): k for k, raft in enumerate(self.layout.rafts)}
        for k, raft in enumerate(self.layout.rafts):
            if k in away:
                continue
            beyond: dict[Side, Fraction] = {}
            if self.plantings[0].joints == "interchangeable" and raft.shape.is_rectangle:
                nearest = [min(each[side] for each in away.values()) for side in SIDES]
                upright, across = min(nearest[0], nearest[2]), min(nearest[1], nearest[3])
                joints = self._joints(k)
                beyond = {s: upright if s in {"left", "right"} else across for s in joints}
            else:
                for side in raft.joints:
                    other = cells.get(_beside(raft, side))
                    if other in away:
                        beyond[side] = away[other][OPPOSITE[side]]
                joints = frozenset(_own(raft, side) for side in raft.joints - beyond.keys())
            lying = tuple(sorted((_own(raft, side), number, e) for side, e in beyond.items()))
            made.patch(k, self._patch(k, joints, lying))
        pattern = made.pattern()
        return pattern if self._is_legal(pattern) else None

    def _whole(self, number: int) -> list[int]:
        return [k for k, one in enumerate(self.claims) if not one.over and one.rest == number]

    def _planted(self, number: int) -> Bed:
        return replace(self.bed, planting=self.plantings[number], zones=())

    def _joints(self, k: int) -> frozenset[Side]:
        raft = self.layout.rafts[k]
        match self.plantings[0].joints:
            case "separate":
                return frozenset()
            case "interchangeable" if raft.shape.is_rectangle and len(self.layout.rafts) > 1:
                return joint_sides(neighbour_ways(self.layout.rafts))
            case _:
                return raft.own_joints

    def _patch(
        self, k: int, joints: frozenset[Side], beyond: tuple[tuple[Side, int, Fraction], ...]
    ) -> Patch:
        raft, claims = self.layout.rafts[k], self.claims[k]
        # A raft that a zone covers in part keeps its place; any other may lie in all of its kind.
        places = self.layout if not claims.over else replace(self.layout, rafts=(raft,))
        around = tuple(
            keep_outs_on(self._planted(number), places, raft)
            for number in range(len(self.plantings))
        )
        return Patch(raft.shape, claims, joints, self.bed.joint_gap.exact, around, beyond)

    def _is_legal(self, pattern: BedPattern) -> bool:
        """Whether all plants of two rafts keep the mean of their spacings across joints."""
        spacings = np.array([planting.spacing.mm for planting in self.plantings])
        reach = float(spacings.max()) - TOLERANCE_MM
        own = [spacings[_numbers(sites)] for sites in pattern.sites]
        counts = [len(sites) for sites in pattern.sites]
        owner = np.repeat(np.arange(len(counts)), counts)
        lying = [
            _in_bed(raft, sites.xy)
            for raft, sites in zip(self.layout.rafts, pattern.sites, strict=True)
        ]
        xy, wanted = np.concatenate(lying), np.concatenate(own)
        first, second = near_pairs(xy, reach)
        least = (wanted[first] + wanted[second]) / 2 - TOLERANCE_MM
        close = np.hypot(*(xy[first] - xy[second]).T) < least
        if (close & (owner[first] != owner[second])).any():
            return False
        return self.plantings[0].joints != "interchangeable" or self._may_change(pattern, spacings)

    def _may_change(self, pattern: BedPattern, spacings: Coordinates) -> bool:
        """Whether rafts of unlike designs may lie side by side anywhere, turned or not."""
        designs = {
            id(sites): (raft.shape, sites)
            for raft, sites in zip(self.layout.rafts, pattern.sites, strict=True)
            if raft.shape.is_rectangle
        }
        if len(designs) > _MOST_DESIGNS:
            return False
        reach = float(spacings.max()) - TOLERANCE_MM
        for (shape, here), (other, there) in combinations(designs.values(), 2):
            if shape != other:
                continue
            size = np.array([float(shape.length), float(shape.width)])
            for way in neighbour_ways(self.layout.rafts):
                shift = np.array(way) * (size + float(self.bed.joint_gap.exact))
                for xy in (there.xy, size - there.xy):
                    first, second = near_between(here.xy, xy + shift, reach)
                    least = spacings[_numbers(here)[first]] + spacings[_numbers(there)[second]]
                    gaps = np.hypot(*(here.xy[first] - xy[second] - shift).T)
                    if (gaps < least / 2 - TOLERANCE_MM).any():
                        return False
        return True


class _Made:
    """The sites of each raft while they are made, and what each planting got."""

    def __init__(self, plantings: tuple[Planting, ...], *, opens: bool) -> None:
        self._plantings, self._opens = plantings, opens
        self._sites: dict[int, Sites] = {}
        self._largest: dict[int, Tried] = {}
        self._plants = Counter[int]()
        self._known: dict[Patch, Laid] = {}

    def put(
        self, number: int, at: Sequence[int], sites: Sequence[Sites], tried: Iterable[Tried]
    ) -> None:
        """Put sites of one planting on whole rafts."""
        self._sites |= zip(at, _of_planting(sites, number), strict=True)
        for each in tried:
            self._add(number, replace(each, plants=sum(map(len, sites))))

    def patch(self, k: int, patch: Patch) -> None:
        """Lay a raft of several plantings, or of one that lies beside others."""
        if patch not in self._known:
            self._known[patch] = Laying(patch, self._plantings).best(opens=self._opens)
        laid = self._known[patch]
        self._sites[k] = laid.sites
        for number, tried in laid.tried:
            self._add(number, tried)

    def pattern(self) -> BedPattern:
        """Return all sites in the order of the rafts."""
        by_planting = tuple(
            replace(self._largest[number], plants=self._plants[number])
            if number in self._largest
            else None
            for number in range(len(self._plantings))
        )
        own = tuple(one for one in by_planting if one is not None)[:1]
        sites = tuple(self._sites[k] for k in range(len(self._sites)))
        return BedPattern(sites, own, by_planting=by_planting)

    def _add(self, number: int, tried: Tried) -> None:
        known = self._largest.get(number)
        if tried.plants and (known is None or tried.plants > known.plants):
            self._largest[number] = tried
        self._plants[number] += tried.plants


def _of_planting(all_sites: Iterable[Sites], number: int) -> list[Sites]:
    """Mark sites as those of one planting; equal ones stay one value."""
    listed = list(all_sites)
    if number == 0:
        return listed
    made = {
        id(sites): replace(sites, plantings=np.full(len(sites), number, dtype=np.int64))
        for sites in {id(sites): sites for sites in listed}.values()
    }
    return [made[id(sites)] for sites in listed]


def _numbers(sites: Sites) -> Indices:
    return np.zeros(len(sites), np.int64) if sites.plantings is None else sites.plantings


def _in_bed(raft: RaftPlace, xy: Coordinates) -> Coordinates:
    corner = np.array([float(raft.x), float(raft.y)])
    if raft.turned:
        xy = np.array([float(raft.shape.length), float(raft.shape.width)]) - xy
    lying: Coordinates = xy + corner
    return lying


def _from_sides(raft: RaftPlace, sites: Sites) -> dict[Side, Fraction]:
    """How far the nearest hole is from each side of a raft as it lies, a little less at most."""
    size = np.array([float(raft.shape.length), float(raft.shape.width)])
    xy = _in_bed(raft, sites.xy) - np.array([float(raft.x), float(raft.y)])
    if not len(xy):
        xy = np.array([size])
        low, high = size, size
    else:
        low, high = xy.min(axis=0), size - xy.max(axis=0)
    found = (*low.tolist(), *high.tolist())
    return {side: Fraction(floor(e * 10**9), 10**9) for side, e in zip(SIDES, found, strict=True)}


def _beside(raft: RaftPlace, side: Side) -> tuple[int, int]:
    steps = {"left": (-1, 0), "right": (1, 0), "bottom": (0, -1), "top": (0, 1)}
    right, up = steps[side]
    return raft.column + right, raft.row + up


def _own(raft: RaftPlace, side: Side) -> Side:
    """A side as it lies in the bed, seen from the raft itself."""
    return OPPOSITE[side] if raft.turned else side
