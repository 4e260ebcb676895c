"""Cutting a raft's template into pages: which grid takes the fewest and spares every centre."""

from dataclasses import dataclass, replace
from math import ceil
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.drawing.marks import Box
from geometry.drawing.paper import PageSetup
from geometry.drawing.raft import CROSS_MM
from geometry.drawing.room import laid_outline, rims_in
from geometry.drawing.transforms import Shift
from geometry.holes.names import row_letters
from geometry.model.curves import Loop
from geometry.plan import RaftDesign
from geometry.units import TOLERANCE_MM

_SLACK_MM: Final = 1.0
_CLEAR_MM: Final = 6.0

Floats = NDArray[np.float64]
Cell = tuple[int, int]
"""Column and row of a page in its grid, counted from 0 at the lower left."""


@dataclass(frozen=True, slots=True)
class Tiling:
    """A grid of pages over one raft.

    Drawing coordinates are the raft's own or, where ``turned``, those of the raft turned a quarter
    to the left. The grid lines lie at ``left`` plus multiples of ``step_x`` and ``bottom`` plus
    multiples of ``step_y``; neighbouring pages show half of the overlap beyond the line they share.
    ``footer`` is kept free at the foot of every page. ``cells`` are the pages that are printed, row
    by row from the datum corner's side; ``blank`` those on which nothing would be.
    """

    setup: PageSetup
    footer: float
    turned: bool
    raft_width: float
    left: float
    bottom: float
    step_x: float
    step_y: float
    columns: int
    rows: int
    cells: tuple[Cell, ...]
    blank: tuple[Cell, ...]

    @property
    def border(self) -> float:
        """What stays white along each edge of the paper."""
        return self.setup.border

    @property
    def overlap(self) -> float:
        """How much two neighbouring pages show of the same drawing."""
        return self.setup.overlap_mm

    def laid(self) -> Shift:
        """Return how raft coordinates become drawing coordinates."""
        return Shift(self.raft_width, 0, quarters=1) if self.turned else Shift()

    def cell(self, cell: Cell) -> Box:
        """Return the part of the drawing between the grid lines."""
        left = self.left + cell[0] * self.step_x
        bottom = self.bottom + cell[1] * self.step_y
        return Box(left, bottom, left + self.step_x, bottom + self.step_y)

    def window(self) -> Box:
        """Return the part of every page on which the drawing shows, in page coordinates."""
        width, height = self.step_x + self.overlap, self.step_y + self.overlap
        bottom = self.border + self.footer
        return Box(self.border, bottom, self.border + width, bottom + height)

    def inner(self) -> Box:
        """Return the part of every page between its grid lines, in page coordinates."""
        return self.window().grown(-self.overlap / 2)

    def on_page(self, cell: Cell) -> Shift:
        """Return how raft coordinates become coordinates of a page."""
        box, laid, window = self.cell(cell), self.laid(), self.window()
        half = self.overlap / 2
        x, y = window.left + half - box.left, window.bottom + half - box.bottom
        return Shift(laid.x + x, laid.y + y, quarters=laid.quarters)

    def cross_name(self, column: int, row: int) -> str:
        """Name the cross of two grid lines: a letter from the left, a number from below."""
        return f"{row_letters(column)}{row + 1}"

    def cross_place(self, column: int, row: int) -> tuple[float, float]:
        """Return where two grid lines cross, in raft coordinates."""
        place = self.laid().back(self.left + column * self.step_x, self.bottom + row * self.step_y)
        return place.x + 0.0, place.y + 0.0


def lay_tiles(design: RaftDesign, setup: PageSetup, *, footer: float = 0.0) -> Tiling:
    """Find the grid with the fewest pages; the raft lies turned only where that saves some.

    Within the freedom that the number of pages leaves, the grid is shifted so that its lines cut
    the fewest centre marks, then the fewest rims. With an overlap of twice a centre mark or more,
    every centre mark is whole on at least one page whatever the raft.
    """
    upright, turned = (_grid(design, setup, footer, turned=turned) for turned in (False, True))
    return turned if len(turned.cells) < len(upright.cells) else upright


def _grid(design: RaftDesign, setup: PageSetup, footer: float, *, turned: bool) -> Tiling:
    border, overlap = setup.border, setup.overlap_mm
    step_x = setup.width_mm - 2 * border - overlap
    step_y = setup.height_mm - 2 * border - footer - overlap
    length, width = float(design.shape.length), float(design.shape.width)
    x, y = design.holes.xy[:, 0], design.holes.xy[:, 1]
    if turned:
        length, width, x, y = width, length, width - y, x
    radii = design.holes.diameters / 2
    columns, left = _lines(length, step_x, overlap, x, radii)
    rows, bottom = _lines(width, step_y, overlap, y, radii)
    grid = Tiling(
        setup=setup,
        footer=footer,
        turned=turned,
        raft_width=float(design.shape.width),
        left=left,
        bottom=bottom,
        step_x=step_x,
        step_y=step_y,
        columns=columns,
        rows=rows,
        cells=(),
        blank=(),
    )
    every = [(column, row) for row in range(rows) for column in range(columns)]
    used = _used(grid, every, design.shape.loop, np.column_stack((x, y)), radii)
    cells = tuple(cell for cell in every if cell in used)
    return replace(grid, cells=cells, blank=tuple(cell for cell in every if cell not in used))


def _lines(
    extent: float, step: float, overlap: float, places: Floats, radii: Floats
) -> tuple[int, float]:
    """Return how many pages lie side by side, and where their first grid line is."""
    needed = extent + 2 * _SLACK_MM
    count = max(1, ceil((needed - overlap) / step - TOLERANCE_MM))
    highest = overlap / 2 - _SLACK_MM
    lowest = extent + _SLACK_MM - overlap / 2 - count * step
    if count == 1:
        return count, (lowest + highest) / 2
    lines = step * np.arange(1, count)
    homes = (places[:, None] - lines).ravel()
    marks = np.minimum(CROSS_MM, radii * 0.8)
    reaches = [np.repeat(reach, len(lines)) for reach in (marks, radii)]
    trials = _trials(lowest, highest, homes, reaches)
    cuts = [_cut(trials, homes, reach) for reach in reaches]
    # the outline itself is best kept out of the overlap, where crosses and words stand
    outside = (trials > -_CLEAR_MM) * 1 + (trials + count * step < extent + _CLEAR_MM) * 1
    order = np.lexsort((np.abs(trials + _CLEAR_MM), outside, cuts[1], cuts[0]))
    return count, float(trials[order[0]])


def _trials(lowest: float, highest: float, homes: Floats, reaches: list[Floats]) -> Floats:
    """Places of the first line between which nothing changes, and one in each gap."""
    edges = [homes + sign * reach for reach in reaches for sign in (-1, 1)]
    found = np.concatenate([[lowest, (lowest + highest) / 2, highest, -_CLEAR_MM], *edges])
    inside = np.unique(found[(found >= lowest) & (found <= highest)])
    return np.unique(np.concatenate([inside, (inside[1:] + inside[:-1]) / 2]))


def _cut(trials: Floats, homes: Floats, reach: Floats) -> NDArray[np.int64]:
    """Count for each trial the marks that a grid line runs through."""
    opened = np.searchsorted(np.sort(homes - reach), trials - TOLERANCE_MM, side="left")
    closed = np.searchsorted(np.sort(homes + reach), trials + TOLERANCE_MM, side="right")
    return (opened - closed).astype(np.int64)


def _used(
    grid: Tiling, cells: list[Cell], loop: Loop, centres: Floats, radii: Floats
) -> frozenset[Cell]:
    """Tell on which pages outline or rims show."""
    boxes = [grid.cell(cell).grown(grid.overlap / 2) for cell in cells]
    shows = shapely.intersects(
        shapely.box(*np.array(boxes).T), laid_outline(loop, grid.laid())
    ).tolist()
    return frozenset(
        cell
        for cell, box, outlined in zip(cells, boxes, shows, strict=True)
        if outlined or rims_in(box, centres, radii).any()
    )
