"""Cutting a raft's template into pages: which grid takes the fewest and spares every centre."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import Final, Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.drawing.marks import Box
from geometry.drawing.paper import LEAST_MM, LONGEST_MM, ROLL_EDGE_MM, PageSetup
from geometry.drawing.raft import CROSS_MM
from geometry.drawing.room import laid_outline, rims_in
from geometry.drawing.transforms import Shift
from geometry.holes.names import row_letters
from geometry.model.curves import Loop
from geometry.plan import RaftDesign
from geometry.units import TOLERANCE_MM
from geometry.watch import look_up

_SLACK_MM: Final = 1.0
_CLEAR_MM: Final = 6.0
_ROLL_FREEDOM_MM: Final = 60.0
_MOST_TRIALS: Final = 20_000
_CHOICES: Final = 8
"""So many places of the lines of each axis are tried where pages may be left out for some."""

Floats = NDArray[np.float64]
Cell = tuple[int, int]
"""Column and row of a page in its grid, counted from 0 at the lower left."""


@dataclass(frozen=True, slots=True)
class Tiling:
    """A grid of pages over one raft.

    Drawing coordinates are the raft's own; where ``mirrored``, those of the raft seen from below,
    left and right exchanged; where ``turned``, they are then turned a quarter to the left. The grid
    lines lie at ``left`` plus multiples of ``step_x`` and ``bottom`` plus multiples of ``step_y``;
    neighbouring pages show half of the overlap beyond the line they share. ``footer`` is kept free
    at the foot of every page. ``cells`` are the pages that are printed, row by row from the lower
    left; ``blank`` those on which nothing would be. On a roll, the paper of ``setup`` is what is
    cut off for this raft.
    """

    setup: PageSetup
    footer: float
    turned: bool
    mirrored: bool
    raft_size: tuple[float, float]
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
    def overlap_x(self) -> float:
        """How much two pages side by side show of the same drawing."""
        return self.setup.width_mm - 2 * self.border - self.step_x

    @property
    def overlap_y(self) -> float:
        """How much two pages one above the other show of the same drawing."""
        return self.setup.height_mm - 2 * self.border - self.footer - self.step_y

    def laid(self) -> Shift:
        """Return how raft coordinates become drawing coordinates."""
        return _laid(self.raft_size, turned=self.turned, mirrored=self.mirrored)

    def cell(self, cell: Cell) -> Box:
        """Return the part of the drawing between the grid lines."""
        left = self.left + cell[0] * self.step_x
        bottom = self.bottom + cell[1] * self.step_y
        return Box(left, bottom, left + self.step_x, bottom + self.step_y)

    def shown(self, cell: Cell) -> Box:
        """Return the part of the drawing that shows on a page."""
        left, bottom, right, top = self.cell(cell)
        aside, above = self.overlap_x / 2, self.overlap_y / 2
        return Box(left - aside, bottom - above, right + aside, top + above)

    def window(self) -> Box:
        """Return the part of every page on which the drawing shows, in page coordinates."""
        width, height = self.step_x + self.overlap_x, self.step_y + self.overlap_y
        bottom = self.border + self.footer
        return Box(self.border, bottom, self.border + width, bottom + height)

    def inner(self) -> Box:
        """Return the part of every page between its grid lines, in page coordinates."""
        left, bottom, right, top = self.window()
        aside, above = self.overlap_x / 2, self.overlap_y / 2
        return Box(left + aside, bottom + above, right - aside, top - above)

    def on_page(self, cell: Cell) -> Shift:
        """Return how raft coordinates become coordinates of a page."""
        shown, laid, window = self.shown(cell), self.laid(), self.window()
        x, y = window.left - shown.left, window.bottom - shown.bottom
        return replace(laid, x=laid.x + x, y=laid.y + y)

    def cross_name(self, column: int, row: int) -> str:
        """Name the cross of two grid lines: a letter from the left, a number from below."""
        return f"{row_letters(column)}{row + 1}"

    def cross_place(self, column: int, row: int) -> tuple[float, float]:
        """Return where two grid lines cross, in raft coordinates."""
        place = self.laid().back(self.left + column * self.step_x, self.bottom + row * self.step_y)
        return place.x + 0.0, place.y + 0.0


def lay_tiles(
    design: RaftDesign, setup: PageSetup, *, footer: float = 0.0, mirrored: bool = False
) -> Tiling:
    """Find the grid with the fewest pages whose lines run through no centre mark.

    The raft may lie turned, pages may overlap by more than was asked for, and where nothing else
    helps there is one row or column of pages more. Among grids of as many pages, the one that cuts
    the fewest rims is taken, then the raft as it lies; on a roll, the one with the shorter side
    across. Where no grid spares every centre mark, the one of the fewest pages that cuts the fewest
    is taken. With an overlap of twice a centre mark or more, every centre mark is whole on at least
    one page whatever the raft.
    """
    shape = design.shape
    on_a_roll = setup.paper.roll_mm is not None
    wants_turned = on_a_roll and shape.length > shape.width
    trials = [
        grid
        for turned in (wants_turned, not wants_turned)
        for grid in _grids(design, setup, footer, turned=turned, mirrored=mirrored)
    ]
    spared = [grid for grid in trials if not grid.marks_cut]
    counts = [len(grid.tiling.cells) for grid in spared or trials]
    fewest = [g for g in spared or trials if len(g.tiling.cells) == min(counts)]
    return min(
        fewest,
        key=lambda grid: (grid.marks_cut, on_a_roll or grid.rims_cut, fewest.index(grid)),
    ).tiling


@dataclass(frozen=True, slots=True)
class _Grid:
    """A grid, and how many centre marks and rims its lines run through."""

    tiling: Tiling
    marks_cut: int
    rims_cut: int


@dataclass(frozen=True, slots=True)
class _Lines:
    """The grid lines of one axis: so many pages between them, the first line, their distance."""

    count: int
    first: float
    step: float
    marks_cut: int
    rims_cut: int

    @property
    def cuts(self) -> tuple[int, int]:
        """What they run through, the worse first."""
        return self.marks_cut, self.rims_cut


def _laid(size: tuple[float, float], *, turned: bool, mirrored: bool) -> Shift:
    """Return how a raft of a length and a width becomes a drawing with its corner at 0, 0."""
    length, width = size
    if turned:
        return Shift(width, length if mirrored else 0, quarters=1, mirrored=mirrored)
    return Shift(length if mirrored else 0, 0, mirrored=mirrored)


def _grids(
    design: RaftDesign, setup: PageSetup, footer: float, *, turned: bool, mirrored: bool
) -> Iterator[_Grid]:
    """Give the grid of the fewest pages; where it cuts centre marks, larger ones that do not."""
    size = float(design.shape.length), float(design.shape.width)
    shift = _laid(size, turned=turned, mirrored=mirrored)
    width, height = size[::-1] if turned else size
    setup = _on_paper(setup, width, height, footer)
    centres = shift.points(design.holes.xy)
    radii = design.holes.diameters / 2
    room_x = setup.width_mm - 2 * setup.border
    room_y = setup.height_mm - 2 * setup.border - footer
    choices = 1 if design.shape.is_rectangle else _CHOICES
    for across in _lines(width, room_x, setup.overlap_mm, centres[:, 0], radii, choices):
        for up in _lines(height, room_y, setup.overlap_mm, centres[:, 1], radii, choices):
            look_up()
            grid = Tiling(
                setup=setup,
                footer=footer,
                turned=turned,
                mirrored=mirrored,
                raft_size=size,
                left=across.first,
                bottom=up.first,
                step_x=across.step,
                step_y=up.step,
                columns=across.count,
                rows=up.count,
                cells=(),
                blank=(),
            )
            every = [(column, row) for row in range(up.count) for column in range(across.count)]
            used = _used(grid, every, design.shape.loop, centres, radii)
            cells = tuple(cell for cell in every if cell in used)
            blank = tuple(cell for cell in every if cell not in used)
            yield _Grid(
                replace(grid, cells=cells, blank=blank),
                across.marks_cut + up.marks_cut,
                across.rims_cut + up.rims_cut,
            )


def _on_paper(setup: PageSetup, width: float, height: float, footer: float) -> PageSetup:
    """Return the set-up with a page cut from the roll for this drawing; as it is without a roll."""
    roll = setup.paper.roll_mm
    if roll is None:
        return setup
    across = _off_a_roll(setup, width, setup.across, roll, 0.0, LEAST_MM[0])
    along = _off_a_roll(setup, height, setup.along, LONGEST_MM, footer, LEAST_MM[1])
    return replace(setup, paper=replace(setup.paper, width_mm=across, height_mm=along))


def _off_a_roll(
    setup: PageSetup, extent: float, factor: float, most: float, extra: float, least: float
) -> float:
    """Return how much of a roll a page takes, in whole millimetres as they are sent.

    What does not fit into ``most`` comes on pages of one size, with some freedom for their lines.
    """
    whole = extent + 2 * ROLL_EDGE_MM + extra
    sent = ceil(whole * factor - TOLERANCE_MM)
    if sent <= most:
        return max(sent, least)
    beside = 2 * setup.border + extra
    needed = extent + 2 * (ROLL_EDGE_MM - setup.border) - setup.overlap_mm
    count = ceil(needed / (most / factor - beside - setup.overlap_mm) - TOLERANCE_MM)
    share = needed / count + setup.overlap_mm + beside + _ROLL_FREEDOM_MM
    return min(most, ceil(share * factor))


def _lines(
    extent: float, room: float, overlap: float, places: Floats, radii: Floats, choices: int = 1
) -> Iterator[_Lines]:
    """Give the best lines for the fewest pages; then for one more, if that spares centre marks.

    With several ``choices``, others that cut as few centre marks follow the best.
    """
    needed = extent + 2 * _SLACK_MM
    count = max(1, ceil((needed - overlap) / (room - overlap) - TOLERANCE_MM))
    marks = _Rings(places, np.minimum(CROSS_MM, radii * 0.8))
    rims = _Rings(places, radii)
    fewest = _best_lines(count, extent, room, overlap, marks, rims, choices)
    yield from fewest
    if fewest[0].marks_cut:
        more = _best_lines(count + 1, extent, room, overlap, marks, rims, choices)
        if not more[0].marks_cut:
            yield from more


class _Rings:
    """What grid lines should not run through, on one axis: places, and how far each reaches."""

    def __init__(self, places: Floats, reaches: Floats) -> None:
        pairs, counts = np.unique(
            np.column_stack([places, reaches]).round(6), axis=0, return_counts=True
        )
        self.places, self.reaches = pairs[:, 0], pairs[:, 1]
        self.counts = counts.astype(np.int64)

    def crossings(self, steps: Floats) -> tuple[Floats, Floats, NDArray[np.int64]]:
        """Return between which places of the first line one of the lines cuts how many."""
        middles = (self.places[:, None] - steps).ravel()
        reaches = np.repeat(self.reaches, len(steps))
        return middles - reaches, middles + reaches, np.repeat(self.counts, len(steps))


def _best_lines(
    count: int,
    extent: float,
    room: float,
    overlap: float,
    marks: _Rings,
    rims: _Rings,
    choices: int,
) -> list[_Lines]:
    """Find the lines that cut the fewest marks, then rims, then overlap the least; they are first.

    Other choices lie from one end of the freedom to the other and cut as few marks.
    """
    spare = count * (room - overlap) + overlap - extent - 2 * _SLACK_MM
    if count == 1:
        return [_Lines(1, overlap / 2 - _SLACK_MM - spare / 2, room - overlap, 0, 0)]
    # with two pages a wider overlap leaves the one line no other place
    most = int(spare / (count - 1)) if count > 2 else 0
    finest = max(1, len(marks.places) * count * most // _MOST_TRIALS)
    best: list[_Lines] = []
    for more in range(0, most + 1, finest):
        found = _best_places(count, extent, room, overlap + more, marks, rims, choices)
        if not best or found[0].cuts < best[0].cuts:
            best = found
        if best[0].cuts == (0, 0):
            break
    return best


def _best_places(
    count: int,
    extent: float,
    room: float,
    overlap: float,
    marks: _Rings,
    rims: _Rings,
    choices: int,
) -> list[_Lines]:
    """Find the best place of the first line, exactly: trials stand between all that matters."""
    step = room - overlap
    highest = overlap / 2 - _SLACK_MM
    lowest = extent + _SLACK_MM - overlap / 2 - count * step
    steps = step * np.arange(1, count, dtype=np.float64)
    crossings = [rings.crossings(steps) for rings in (marks, rims)]
    trials = _trials(lowest, highest, [ends for low, high, _ in crossings for ends in (low, high)])
    cuts = [_cut(trials, *crossing) for crossing in crossings]
    # the outline itself is best kept out of the overlap, where crosses and words stand
    clear = overlap / 2 + 1
    outside = (trials > -clear) * 1 + (trials + count * step < extent + clear) * 1
    order = np.lexsort((np.abs(trials + clear), outside, cuts[1], cuts[0]))
    alike = np.flatnonzero(cuts[0] == cuts[0][order[0]])
    others = alike[np.linspace(0, len(alike) - 1, min(choices, len(alike))).astype(int)]
    chosen = [order[0], *(others if choices > 1 else ())]
    return [
        _Lines(count, float(trials[at]), step, int(cuts[0][at]), int(cuts[1][at])) for at in chosen
    ]


def _trials(lowest: float, highest: float, ends: list[Floats]) -> Floats:
    """Places of the first line between which nothing changes, and one in each gap."""
    found = np.concatenate([[lowest, (lowest + highest) / 2, highest, -_CLEAR_MM], *ends])
    inside = np.unique(found[(found >= lowest) & (found <= highest)])
    return np.unique(np.concatenate([inside, (inside[1:] + inside[:-1]) / 2]))


def _cut(
    trials: Floats, lows: Floats, highs: Floats, counts: NDArray[np.int64]
) -> NDArray[np.int64]:
    """Count for each trial the marks that a grid line runs through; touching is no cut."""
    return _reached(lows, counts, trials - TOLERANCE_MM, "left") - _reached(
        highs, counts, trials + TOLERANCE_MM, "right"
    )


def _reached(
    ends: Floats, counts: NDArray[np.int64], trials: Floats, side: Literal["left", "right"]
) -> NDArray[np.int64]:
    order = np.argsort(ends)
    sums = np.concatenate([[0], np.cumsum(counts[order])])
    passed: NDArray[np.int64] = sums[np.searchsorted(ends[order], trials, side=side)]
    return passed


def _used(
    grid: Tiling, cells: list[Cell], loop: Loop, centres: Floats, radii: Floats
) -> frozenset[Cell]:
    """Tell on which pages outline or rims show, or the datum corner, which may be cut off later."""
    boxes = [grid.shown(cell) for cell in cells]
    shows = shapely.intersects(
        shapely.box(*np.array(boxes).T), laid_outline(loop, grid.laid())
    ).tolist()
    # a page with a centre on it needs no look at all rims, and on a large raft most pages have one
    places = np.vstack([grid.laid().point(0, 0), centres])
    steps = np.floor((places - (grid.left, grid.bottom)) / (grid.step_x, grid.step_y))
    held = np.clip(steps, 0, (grid.columns - 1, grid.rows - 1)).astype(int)
    holding = set(map(tuple, np.unique(held, axis=0).tolist()))
    return frozenset(
        cell
        for cell, box, outlined in zip(cells, boxes, shows, strict=True)
        if outlined or cell in holding or rims_in(box, centres, radii).any()
    )
