"""A small drawing of what a choice gives: foam and holes, where they truly are."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from geometry.drawing.marks import Circle, Drawing, Group, Mark, Path
from geometry.drawing.styles import Style
from geometry.holes.sites import Coordinates
from geometry.model.curves import Point
from geometry.plan import BedPlan, PlacedRaft, RaftDesign

MOST_IN_BED: Final = 400
"""A bed with more holes is pictured by one of its rafts."""
MOST_IN_RAFT: Final = 1500
"""Of a raft with more holes those nearest to the datum corner are pictured."""
_MOST_RAFTS: Final = 60
_LONGEST: Final = 6.0
"""A bed so many times longer than wide is pictured by one of its rafts."""


def draw_choice(planned: BedPlan) -> Drawing | None:
    """Draw a planned bed, or its fullest raft where the bed is large or long; None without rafts.

    Groups: "water" and "rafts" in bed coordinates for a bed, "rafts" alone in raft coordinates
    for a raft; then "holes".
    """
    if not planned.rafts:
        return None
    if _is_small(planned):
        curves = planned.layout.outline.curves
        return Drawing(
            (
                Group("water", (Path(curves, Style.WATER, closed=True),) if curves else ()),
                Group("rafts", tuple(_foam(planned))),
                Group("holes", tuple(_holes_in_bed(planned))),
            )
        )
    design = max(planned.designs, key=lambda design: len(design.holes))
    outline = Path(design.shape.loop.curves, Style.RAFT, closed=True)
    return Drawing((Group("rafts", (outline,)), Group("holes", tuple(_holes(design)))))


def _is_small(planned: BedPlan) -> bool:
    if planned.plants > MOST_IN_BED or len(planned.rafts) > _MOST_RAFTS:
        return False
    lows = np.array([(raft.x, raft.y) for raft in planned.rafts])
    sizes = np.array(
        [(raft.design.shape.length, raft.design.shape.width) for raft in planned.rafts], dtype=float
    )
    sides = (lows + sizes).max(axis=0) - lows.min(axis=0)
    return bool(sides.max() <= _LONGEST * sides.min())


def _foam(planned: BedPlan) -> Iterator[Mark]:
    for place in planned.layout.rafts:
        yield Path(place.loop_in_bed.curves, Style.RAFT, closed=True)


def _holes_in_bed(planned: BedPlan) -> Iterator[Mark]:
    for raft in planned.rafts:
        xy = _in_bed(raft)
        for (x, y), diameter in zip(xy.tolist(), raft.design.holes.diameters.tolist(), strict=True):
            yield Circle(Point(x, y), diameter / 2, Style.HOLE)


def _in_bed(raft: PlacedRaft) -> Coordinates:
    shape, xy = raft.design.shape, raft.design.holes.xy
    if raft.turned:
        xy = np.array([float(shape.length), float(shape.width)]) - xy
    places: Coordinates = xy + np.array([raft.x, raft.y])
    return places


def _holes(design: RaftDesign) -> Iterator[Mark]:
    holes = design.holes
    near = np.argsort(holes.xy.max(axis=1), kind="stable")[:MOST_IN_RAFT]
    for (x, y), diameter in zip(
        holes.xy[near].tolist(), holes.diameters[near].tolist(), strict=True
    ):
        yield Circle(Point(x, y), diameter / 2, Style.HOLE)
