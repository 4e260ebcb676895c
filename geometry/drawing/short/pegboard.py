"""The pegboard: which holes of a perforated board lie on the planned holes, and how nearly."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.flow import Column, Row, heading, row_width, side_by_side, words
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Circle, Mark, Path, frame
from geometry.drawing.paper import PageSetup
from geometry.drawing.raft import datum_corner
from geometry.drawing.scales import best_scale
from geometry.drawing.short.document import ShortDocument, ShortSet, short_document, spacer
from geometry.drawing.short.job import Job, about, jobs
from geometry.drawing.short.slips import Error
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift
from geometry.plan import Plan
from geometry.tongue import tr
from geometry.units import MM_PER, TOLERANCE_MM

GRID_MM: Final = float(MM_PER["in"])
"""Perforated board has its holes 1 in apart both ways (common practice, no source)."""

LIMIT_MM: Final = GRID_MM / 16
"""A planned hole this near a hole of the board counts as hit: 1/16 in."""

_DRAWING_MM = 120.0
_SETS = 3
_NAME_MM = 2.4
_MOST_PEGS = 6000

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """A board laid so that its first hole is at ``at``, measured from the raft's datum corner.

    ``pegs`` are the column and row of the board's hole nearest to each planned hole, counted from
    1, ``off`` how far that is away.
    """

    at: tuple[float, float]
    pegs: NDArray[np.int64]
    off: Floats

    @property
    def worst(self) -> float:
        """The largest distance of a planned hole from its peg."""
        return float(self.off.max()) if len(self.off) else 0.0

    @property
    def is_good(self) -> bool:
        """Whether every hole is hit within 1/16 in."""
        return self.worst <= LIMIT_MM + TOLERANCE_MM


@dataclass(frozen=True)
class Pegs:
    """A perforated board on one raft: flush with the datum edges, and moved as well as it goes.

    ``offset`` is how far the board's first hole is from its two edges, None as long as nobody has
    measured it.
    """

    job: Job
    offset: tuple[float, float] | None

    @cached_property
    def flush(self) -> Fit | None:
        """The board with its edges on the datum edges; None while its offset is not known."""
        return None if self.offset is None else fit(self.job.design.holes.xy, self.offset)

    @cached_property
    def moved(self) -> Fit:
        """The board moved so that the farthest miss each way is as small as it can be.

        It is moved as little as that goes, in or out.
        """
        xy = self.job.design.holes.xy
        x, y = (best_start(xy[:, axis]) for axis in (0, 1))
        found = fit(xy, (x, y))
        if self.offset is None:
            return found
        nearer = [
            place - GRID_MM * round((place - own) / GRID_MM)
            for place, own in zip((x, y), self.offset, strict=True)
        ]
        little = fit(xy, (nearer[0], nearer[1]))
        return little if little.worst <= found.worst + TOLERANCE_MM else found

    @property
    def chosen(self) -> Fit:
        """The flush board if it is good; else the moved one."""
        return self.flush if self.flush is not None and self.flush.is_good else self.moved

    @property
    def move(self) -> tuple[float, float] | None:
        """How far the moved board's edges lie inside the raft's, each way; outside below zero.

        None while the offset is not known.
        """
        if self.offset is None:
            return None
        return self.moved.at[0] - self.offset[0], self.moved.at[1] - self.offset[1]


def fit(xy: Floats, at: tuple[float, float]) -> Fit:
    """Find the hole of a board nearest to each planned hole."""
    places = (xy - at) / GRID_MM
    pegs = np.maximum(np.rint(places - 1e-9), 0).astype(np.int64)
    away = (places - pegs) * GRID_MM
    return Fit(at, pegs + 1, np.hypot(away[:, 0], away[:, 1]))


def best_start(places: Floats) -> float:
    """Return where the first hole of a board is best, from 0 up to one grid step.

    What places leave over a whole number of steps lies on a ring; the middle of the shortest arc
    that holds all of it makes the largest miss as small as it can be.
    """
    left = np.sort(np.mod(places, GRID_MM))
    gaps = np.diff(left, append=left[:1] + GRID_MM)
    widest = int(gaps.argmax())
    start = left[(widest + 1) % len(left)]
    arc = GRID_MM - gaps[widest]
    middle = float(np.mod(start + arc / 2, GRID_MM))
    return 0.0 if GRID_MM - middle < TOLERANCE_MM else middle


def lay_pegboard(plan: Plan, setup: PageSetup) -> ShortDocument:
    """Lay out the use of a perforated board for each raft design."""
    sets = (pegboard_set(job) for job in jobs(plan, setup))
    return short_document(tr("Pegboard"), sets, setup, checks=False)


def pegs_of(job: Job) -> Pegs | None:
    """Look at a board on a design; None without holes."""
    return Pegs(job, job.setup.pegs) if len(job.design.holes) else None


def pegboard_set(job: Job) -> ShortSet:
    """Compose what the document holds for one design; refused where holes are missed too far."""
    pegs = pegs_of(job)
    if pegs is None:
        return ShortSet(job, tr("There are no holes to drill."))
    room = row_width(job.setup.plain)
    if not pegs.chosen.is_good:
        return ShortSet(job, _refusal(pegs), rows=tuple(_table(pegs, room)))
    found = pegs.chosen
    rows = (
        heading(tr("A perforated board, holes 1 in (25.4 mm) apart, as a drilling guide"), room),
        words(f"{job.facts}; {job.stamp}.", room),
        words(_how_laid(pegs), room),
        words(
            tr(
                "No planned hole is more than {error} from its peg (limit 1/16 in, {limit}). The "
                "board itself and the drill come on top of it.",
                error=about(found.worst),
                limit=about(LIMIT_MM),
            ),
            room,
        ),
        spacer(),
        _drawing(pegs, room),
        spacer(),
        *_table(pegs, room),
    )
    off = found.off
    return ShortSet(job, "", Error(float(off.max()), float(off.max())), None, rows)


def _refusal(pegs: Pegs) -> str:
    job, moved = pegs.job, pegs.moved
    hole = job.design.holes.names[int(moved.off.argmax())]
    text = tr(
        "A 1 in (25.4 mm) board misses holes by up to {error}, at {hole}, even moved as well as it "
        "goes; the limit is {limit}. A spacing that is a whole number of inches would do.",
        error=about(moved.worst),
        hole=hole,
        limit=about(LIMIT_MM),
    )
    if pegs.flush is None:
        return text
    flush = tr("Laid flush on the datum edges it misses by {error}.", error=about(pegs.flush.worst))
    return f"{text} {flush}"


def _how_laid(pegs: Pegs) -> str:
    job = pegs.job
    if pegs.offset is None:
        x, y = pegs.moved.at
        return tr(
            "Measure first how far the middle of the board's first hole is from its left and its "
            "lower edge: seldom 1 in. Then lay the board so that a hole is {x} from the left and "
            "{y} from the lower edge of the raft.",
            x=job.length(x),
            y=job.length(y),
        )
    own = tr(
        "The board's first hole is {x} from its left and {y} from its lower edge, as measured.",
        x=job.length(pegs.offset[0]),
        y=job.length(pegs.offset[1]),
    )
    if pegs.chosen is pegs.flush:
        lay = tr("Lay it flush on the left and the lower edge of the raft: datum corner to corner.")
        return f"{own} {lay}"
    x, y = pegs.move or (0.0, 0.0)
    lay = tr(
        "Flush it would miss by {error}. Move its left edge {x} and its lower edge {y} into the "
        "raft (outwards where there is a minus).",
        error=about(pegs.flush.worst if pegs.flush else 0.0),
        x=job.length(x),
        y=job.length(y),
    )
    return f"{own} {lay}"


def _first(pegs: Pegs) -> tuple[float, float]:
    """Where hole 1, 1 of the board lies on the raft."""
    return pegs.chosen.at


def _drawing(pegs: Pegs, room: float) -> Row:
    shape = pegs.job.design.shape
    length, width = float(shape.length), float(shape.width)
    scale = best_scale(length, width, room - 14, _DRAWING_MM - 10)
    height = width / scale + 12

    def draw(left: float, top: float) -> Iterator[Mark]:
        shift = Shift(left + 10, top - 3 - width / scale, 1 / scale)
        yield shift.mark(Path(shape.loop.curves, Style.RAFT, closed=True))
        yield datum_corner(shift.point(0, 0), 6.0)
        yield from _board(pegs, shift)
        for (x, y), (column, row), diameter in zip(
            pegs.job.design.holes.xy.tolist(),
            pegs.chosen.pegs.tolist(),
            pegs.job.design.holes.diameters.tolist(),
            strict=True,
        ):
            yield Circle(shift.point(x, y), diameter / 2 / scale, Style.HOLE)
            at = _first(pegs)
            peg = shift.point(at[0] + (column - 1) * GRID_MM, at[1] + (row - 1) * GRID_MM)
            yield frame(Box(*peg, *peg).grown(0.7), Style.SOLID)
        text = tr(
            "Scale 1 : {scale}. Dots: holes of the board; full squares: those to drill through.",
            scale=scale,
        )
        yield line(left, top - height + 1.0, text, 2.8)

    return Row(height, draw)


def _board(pegs: Pegs, shift: Shift) -> Iterator[Mark]:
    """Draw the board's holes, every fifth column and row with its number."""
    shape = pegs.job.design.shape
    x, y = _first(pegs)
    columns = int((float(shape.length) - x) / GRID_MM) + 1
    rows = int((float(shape.width) - y) / GRID_MM) + 1
    every = 1 if columns * rows <= _MOST_PEGS else 5
    for column in range(0, columns, every):
        for row in range(0, rows, every):
            at = shift.point(x + column * GRID_MM, y + row * GRID_MM)
            yield Circle(at, 0.22, Style.RULE)
    for column in range(4, columns, 5):
        at = shift.point(x + column * GRID_MM, 0)
        yield line(at.x, at.y - 3.6, f"{column + 1}", _NAME_MM, anchor="middle")
    for row in range(4, rows, 5):
        at = shift.point(0, y + row * GRID_MM)
        yield line(at.x - 1.6, at.y - 0.8, f"{row + 1}", _NAME_MM, anchor="right")


def _table(pegs: Pegs, room: float) -> Iterator[Row]:
    found, names = pegs.chosen, pegs.job.design.holes.names
    columns = (
        Column(tr("hole"), 14),
        Column(tr("column"), 15, "right"),
        Column(tr("row"), 13, "right"),
        Column(tr("misses by"), 18, "right"),
    )
    cells = [
        (name, f"{column}", f"{row}", about(off))
        for name, (column, row), off in zip(
            names, found.pegs.tolist(), found.off.tolist(), strict=True
        )
    ]
    yield heading(
        tr("Holes of the board to use") if found.is_good else tr("The nearest holes of the board"),
        room,
    )
    yield words(
        tr("Counted along and across from the first hole on the raft at the datum corner, as 1.")
        if pegs.offset is None
        else tr("Counted along and across from the board's own first hole, as 1."),
        room,
    )
    yield from side_by_side(columns, cells, _SETS)
