"""What is measured once on a raft with its holes, wherever rafts like it lie."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.checks.rules import Rules
from geometry.holes.pairs import Floats, Indices, near_pairs
from geometry.holes.sites import Coordinates, Holes
from geometry.model.measure import gauge_of
from geometry.rafts.layout import RaftShape
from geometry.units import TOLERANCE_MM
from geometry.watch import look_up

_AT_ONCE: Final = 20_000
"""About so many holes are measured between two looks up."""


@dataclass(frozen=True, slots=True, eq=False)
class Measures:
    """Pairs of holes that are near enough to matter, and how far every centre is from the edge.

    ``gap`` is from centre to centre, ``foam`` from rim to rim; ``spacing`` and ``web`` are what
    they should be at least; ``edge`` is negative for a centre off the raft. ``least_web`` is the
    least foam between two rims or from a rim to the edge, infinite without holes. ``sound`` says
    that no rule is broken on the raft by itself.
    """

    first: Indices
    second: Indices
    gap: Floats
    foam: Floats
    spacing: Floats
    web: Floats
    edge: Floats
    least_web: float
    sound: bool


def measure(shape: RaftShape, holes: Holes, rules: Rules) -> Measures:
    """Measure a raft with its holes against the rules."""
    (found,) = measure_all([(shape, holes)], rules)
    return found


def measure_all(rafts: Sequence[tuple[RaftShape, Holes]], rules: Rules) -> list[Measures]:
    """Measure many rafts, each by itself: the same as one by one, and sooner."""
    found: list[Measures] = []
    part: list[tuple[RaftShape, Holes]] = []
    for raft in rafts:
        part.append(raft)
        if sum(len(holes) for _, holes in part) >= _AT_ONCE:
            look_up()
            found += _measure_part(part, rules)
            part = []
    return found + _measure_part(part, rules) if part else found


def _measure_part(rafts: Sequence[tuple[RaftShape, Holes]], rules: Rules) -> list[Measures]:
    every = [holes for _, holes in rafts]
    counts = np.array([len(holes) for holes in every])
    starts = np.cumsum(counts) - counts
    owner = np.repeat(np.arange(len(rafts)), counts)
    xy = np.concatenate([holes.xy for holes in every])
    radii = np.concatenate([holes.diameters for holes in every]) / 2
    spacings = np.concatenate([rules.spacings(holes) for holes in every])
    webs = np.concatenate([rules.webs(holes) for holes in every])
    margins = np.concatenate([rules.edge_margins(holes) for holes in every])
    edge = _from_edge([shape for shape, _ in rafts], owner, xy)
    least_web = np.full(len(rafts), np.inf)
    np.minimum.at(least_web, owner, edge - radii)
    # Holes that follow each other are as good a first guess as any.
    steps = np.hypot(*np.diff(xy, axis=0).T) - radii[1:] - radii[:-1]
    beside = owner[1:] == owner[:-1]
    np.minimum.at(least_web, owner[1:][beside], steps[beside])
    widest = np.zeros(len(rafts))
    np.maximum.at(widest, owner, 2 * radii)
    most = np.maximum(rules.widest_web, np.where(counts > 0, least_web, 0.0))
    # A tolerance less, so that plants exactly as far apart as they should be never come up.
    reaches = np.maximum(rules.widest, widest + most) - TOLERANCE_MM
    first, second = _pairs(xy, owner, reaches)
    apart = xy[first] - xy[second]
    gap = np.hypot(apart[:, 0], apart[:, 1])
    foam = gap - radii[first] - radii[second]
    spacing = (spacings[first] + spacings[second]) / 2
    web = np.maximum(webs[first], webs[second])
    np.minimum.at(least_web, owner[first], foam)
    close = (gap < spacing - TOLERANCE_MM) | (foam < web - TOLERANCE_MM)
    outside = edge < np.maximum(margins, webs + radii) - TOLERANCE_MM
    unsound = {*owner[first[close]].tolist(), *owner[outside].tolist()}
    ends = np.searchsorted(first, [*starts, len(xy)])
    return [
        Measures(
            first[pairs] - start,
            second[pairs] - start,
            gap[pairs],
            foam[pairs],
            spacing[pairs],
            web[pairs],
            edge[start : start + count],
            float(least_web[k]),
            k not in unsound,
        )
        for k, (start, count) in enumerate(zip(starts.tolist(), counts.tolist(), strict=True))
        for pairs in [slice(ends[k], ends[k + 1])]
    ]


def _from_edge(shapes: Sequence[RaftShape], owner: Indices, xy: Coordinates) -> Floats:
    """How far each hole is from the edge of its raft; rafts of one shape in one go."""
    kinds = {id(shape): shape for shape in shapes}
    kind_of = np.array([id(shape) for shape in shapes])[owner]
    edge = np.empty(len(xy))
    for kind, shape in kinds.items():
        own = np.flatnonzero(kind_of == kind)
        edge[own] = gauge_of(shape.loop).signed_distance(xy[own])
    return edge


def _pairs(xy: Coordinates, owner: Indices, reaches: Floats) -> tuple[Indices, Indices]:
    """All pairs of holes of one raft nearer than the reach of that raft, or a little farther off.

    The rafts lie side by side for this, too far apart for holes of two of them to meet; those of
    wide reach each by themselves, for they would find too much on the others.
    """
    usual = 2 * float(reaches.min())
    together = np.flatnonzero(reaches[owner] <= usual)
    alone = [np.flatnonzero(owner == k) for k in np.flatnonzero(reaches > usual).tolist()]
    found = []
    for own in (together, *alone):
        if len(own) > 1:
            reach = float(reaches[owner[own]].max())
            lying = xy[own].copy()
            lying[:, 0] += owner[own] * (np.ptp(lying[:, 0]) + 2 * reach)
            one, other = near_pairs(lying, reach)
            found.append((own[one], own[other]))
    if not found:
        return near_pairs(xy[:0], 0.0)
    first, second = (np.concatenate(indices) for indices in zip(*found, strict=True))
    order = np.argsort(first, kind="stable")
    return first[order], second[order]
