"""One raft design's set of template pages: what its pages have in common."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.crop_marks import hole_lines
from geometry.drawing.figures import size_text
from geometry.drawing.lettering import clipped, name_list
from geometry.drawing.paper import COMMON, LONGEST_MM, ROLL_EDGE_MM, PageSetup
from geometry.drawing.room import outline_points
from geometry.drawing.tiles import Cell, Tiling
from geometry.model.planting import Planting
from geometry.plan import RaftDesign
from geometry.tongue import mark, number, tr, tr_n
from geometry.units import Unit

_WIDEST_ROLL_MM: Final = 1600.0
"""Wider rolls are hard to find: common practice, no source."""

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
    stamp: tuple[str, ...] = ()
    """Code, revision and date of what is drawn."""

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
        if self.tiling.mirrored:
            if self.tiling.turned:
                return tr("seen from below, datum corner at the upper right")
            return tr("seen from below, datum corner at the lower right")
        if self.tiling.turned:
            return tr("top face up, datum corner at the lower right")
        return tr("top face up, datum corner at the lower left")

    @property
    def cover_setup(self) -> PageSetup:
        """How the cover is put on paper: as its tiles, or on a common page where they are long."""
        setup = self.tiling.setup
        return setup if setup.paper.roll_mm is None else replace(setup, paper=COMMON)

    @property
    def paper(self) -> str:
        """The paper of the tiles, and the correction, in words."""
        return self.tiling.setup.words

    @cached_property
    def roll_words(self) -> tuple[str, ...]:
        """What to say at the copy shop, and why there is more than one piece; empty off a roll."""
        tiling = self.tiling
        roll = tiling.setup.paper.roll_mm
        if roll is None:
            return ()
        words = [
            tr_n(
                "At the copy shop say: print at 100 %, no fitting, on a roll {roll} mm wide. "
                "It is {n} page of {size}.",
                "At the copy shop say: print at 100 %, no fitting, on a roll {roll} mm wide. "
                "They are {n} pages of {size}.",
                len(tiling.cells),
                roll=number(roll),
                size=tiling.setup.paper.size,
            )
        ]
        words.append(
            tr(
                "Measure the bars of the long page before you pay: it is they that count, not "
                "those of this page from another printer."
            )
        )
        if tiling.columns > 1:
            words.append(self.roll_note)
        if tiling.rows > 1:
            words.append(
                tr(
                    "Readers show no page longer than {most} mm, so there are {n} lengths.",
                    most=number(LONGEST_MM),
                    n=tiling.rows,
                )
            )
        return tuple(words)

    @property
    def roll_note(self) -> str:
        """Why the raft does not come off the roll in one breadth, and what helps; else empty."""
        tiling = self.tiling
        roll = tiling.setup.paper.roll_mm
        if roll is None or tiling.columns == 1:
            return ""
        words = tr(
            "{raft} is wider than the roll of {roll} mm: it comes in {n} strips, to be put "
            "together cross on cross.",
            raft=self.design.name,
            roll=number(roll),
            n=tiling.columns,
        )
        needed = ceil((min(tiling.raft_size) + 2 * ROLL_EDGE_MM) * tiling.setup.across)
        if needed > _WIDEST_ROLL_MM:
            return words
        return " ".join(
            (words, tr("A roll {needed} mm wide takes it in one.", needed=number(needed)))
        )

    @property
    def face(self) -> str:
        """Which face of the foam the template lies on, in large words."""
        return tr("MIRRORED, SEEN FROM BELOW") if self.tiling.mirrored else tr("TOP FACE")

    @cached_property
    def hole_lines(self) -> tuple[str, ...]:
        """How many holes of which diameters, for which crops, and what is plugged for now."""
        return hole_lines(self.design.holes, self.plantings, self.unit)

    @property
    def size(self) -> str:
        """The size of the raft in words."""
        return size_text(self.design.shape, self.unit)
