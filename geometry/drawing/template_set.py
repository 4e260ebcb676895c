"""One raft design's set of template pages: what its pages have in common."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.crop_marks import hole_lines
from geometry.drawing.figures import size_text
from geometry.drawing.lettering import clipped, name_list
from geometry.drawing.room import outline_points
from geometry.drawing.tiles import Cell, Tiling
from geometry.model.planting import Planting
from geometry.plan import RaftDesign
from geometry.tongue import mark, tr, tr_n
from geometry.units import Unit

PRINT_WORDS = mark("Print at 100 % (actual size, scale none); never fit, shrink or fill")
"""What every page asks of whoever prints it."""


@dataclass(frozen=True)
class TemplateSet:
    """The pages of one raft design: a cover, page ``cover``, then the tiles in order.

    ``rafts`` are the names of the rafts that are drilled alike. Pages are numbered through the
    whole document, which has ``total`` of them, so that a number is also the printer's.
    """

    project: str
    bed: str
    unit: Unit
    design: RaftDesign
    rafts: tuple[str, ...]
    tiling: Tiling
    cover: int
    total: int
    plantings: tuple[Planting, ...] = ()

    @cached_property
    def numbers(self) -> Mapping[Cell, int]:
        """The page number of each cell that is printed."""
        return {cell: self.cover + 1 + n for n, cell in enumerate(self.tiling.cells)}

    @cached_property
    def ring(self) -> NDArray[np.float64]:
        """The outline of the raft as points in raft coordinates, for asking where there is room."""
        return outline_points(self.design.shape.loop)

    @property
    def last(self) -> int:
        """The number of the set's last page."""
        return self.cover + len(self.tiling.cells)

    @property
    def place(self) -> str:
        """Project and bed in words."""
        return tr("{project}, bed {bed}", project=clipped(self.project), bed=clipped(self.bed))

    @cached_property
    def task(self) -> str:
        """How many rafts are drilled with this set, and which."""
        return tr_n(
            "drill {n} of these: {rafts}",
            "drill {n} of these: {rafts}",
            len(self.rafts),
            rafts=name_list(self.rafts),
        )

    @property
    def side(self) -> str:
        """How the drawing lies on the foam."""
        if self.tiling.turned:
            return tr("top face up, datum corner at the lower right")
        return tr("top face up, datum corner at the lower left")

    @cached_property
    def hole_lines(self) -> tuple[str, ...]:
        """How many holes of which diameters, for which crops, and what is plugged for now."""
        return hole_lines(self.design.holes, self.plantings, self.unit)

    @property
    def size(self) -> str:
        """The size of the raft in words."""
        return size_text(self.design.shape, self.unit)
