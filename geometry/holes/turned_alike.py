"""One pattern for rafts that are each other turned half round, legal across the joint between them.

A lattice over the whole bed that is its own image when the bed is turned half round gives such
rafts the same holes. So does laying what one of them got on all of them, where that is legal.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import islice, product
from math import sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.pairs import near_pairs
from geometry.holes.region import Region
from geometry.holes.sites import Coordinates, Placement, Sites
from geometry.model.measure import bounds
from geometry.model.planting import Direction, Pattern
from geometry.rafts.layout import RaftLayout, RaftPlace
from geometry.units import TOLERANCE_MM

Floats = NDArray[np.float64]

_MOST_WAYS: Final = 16
_HALVINGS: Final = 12
_WIDEST: Final = 1.25
_WAYS: Final[dict[Direction, tuple[str, ...]]] = {
    "along": ("along",),
    "across": ("across",),
    "best": ("along", "across"),
}
_GAPS: Final = {"square": 1.0, "hexagonal": sqrt(0.75)}
"""Row gaps in pitches; those of rectangular rows are given."""
_KINDS: Final[dict[Pattern, tuple[str, ...]]] = {
    "square": ("square",),
    "rectangular": ("rectangular",),
    "hexagonal": ("hexagonal",),
    "staggered": ("hexagonal",),
    "mixed": ("square", "hexagonal"),
    "best": ("square", "hexagonal"),
}


def lattices_turned_alike(
    region: Region,
    layout: RaftLayout,
    *,
    spacing: float,
    row_spacing: float | None,
    pattern: Pattern,
    direction: Direction,
    spread: bool,
) -> Iterator[Placement]:
    """Lattices that stay themselves when the bed is turned half round about its middle.

    There are four places for each lattice: a plant in the middle, or the middle halfway between
    two plants, in one of three ways. With ``spread`` each is opened as far as its count allows.
    """
    left, bottom, right, top = bounds(layout.outline)
    middle = np.array([(left + right) / 2, (bottom + top) / 2])
    for kind, way in product(_KINDS.get(pattern, ()), _WAYS[direction]):
        pitch, gap = spacing, _GAPS.get(kind, (row_spacing or spacing) / spacing) * spacing
        cell = np.array([(pitch, 0.0), (pitch / 2 if kind == "hexagonal" else 0.0, gap)])
        cell = cell if way == "along" else cell[:, ::-1]
        for shares in product((0.0, 0.5), (0.0, 0.5)):
            xy = _points(region, cell, middle, shares)
            if not len(xy):
                continue
            low, high = 1.0, _WIDEST
            for _ in range(_HALVINGS if spread else 0):
                ratio = (low + high) / 2
                wider = _points(region, cell * ratio, middle, shares)
                low, high, xy = (ratio, high, wider) if len(wider) >= len(xy) else (low, ratio, xy)
            yield Placement(_in_rows(xy, way), kind, way, pitch * low, gap * low)


def _points(
    region: Region, cell: Floats, middle: Floats, shares: tuple[float, float]
) -> Coordinates:
    """The points of a lattice in a region; the middle lies at these shares of one of its cells."""
    box = region.bounds()
    if box is None:
        return np.empty((0, 2))
    reach = np.hypot(box[2] - box[0], box[3] - box[1])
    count = int(2 * reach / np.abs(cell).sum(axis=0).min()) + 2
    numbers = np.stack(np.meshgrid(*[np.arange(-count, count + 1)] * 2), axis=-1).reshape(-1, 2)
    xy = middle + (numbers - np.array(shares)) @ cell
    near = ((xy >= np.array(box[:2]) - 1) & (xy <= np.array(box[2:]) + 1)).all(axis=1)
    held: Coordinates = xy[near][region.allows(xy[near])]
    return held


def _in_rows(xy: Coordinates, way: str) -> Sites:
    along, up = (xy[:, 0], xy[:, 1]) if way == "along" else (xy[:, 1], xy[:, 0])
    _, rows = np.unique(np.round(up, 3), return_inverse=True)
    order = np.lexsort((along, rows))
    return Sites(xy[order], rows[order].astype(np.int64))


def laid_alike(
    layout: RaftLayout, sites: Sequence[Sites], region: Region, spacing: float
) -> Iterator[tuple[Sites, ...]]:
    """Lay what one raft got on all rafts of its kind, in every way that is legal in this bed.

    Of one kind are rafts with the same shape and the same joints, seen from the raft.
    """
    kinds: dict[tuple[int, frozenset[str]], list[int]] = defaultdict(list)
    for k, raft in enumerate(layout.rafts):
        kinds[id(raft.shape), frozenset[str](raft.own_joints)].append(k)
    if all(len(rafts) == 1 for rafts in kinds.values()):
        return
    for sources in islice(product(*kinds.values()), _MOST_WAYS):
        made = list(sites)
        for source, rafts in zip(sources, kinds.values(), strict=True):
            for k in rafts:
                made[k] = sites[source]
        xy = np.concatenate(
            [_in_bed(raft, own.xy) for raft, own in zip(layout.rafts, made, strict=True)]
        )
        if not len(xy) or not region.allows(xy).all():
            continue
        if not len(near_pairs(xy, spacing - TOLERANCE_MM)[0]):
            yield tuple(made)


def _in_bed(raft: RaftPlace, xy: Coordinates) -> Coordinates:
    corner = np.array([float(raft.x), float(raft.y)])
    size = np.array([float(raft.shape.length), float(raft.shape.width)])
    return corner + (size - xy if raft.turned else xy)
