"""The strip of one design: which row it marks, in which pieces it is printed, how true it is."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Final

import numpy as np

from geometry.drawing.marks import Box
from geometry.drawing.short.job import Job
from geometry.drawing.short.rows import RowPlan, StripRow, row_plan
from geometry.drawing.short.slips import (
    JOIN_MM,
    PRINT_SHARE,
    PROOF_MM,
    SET_MM,
    Error,
    First,
    Laying,
    paper_error,
    stepped_error,
    tape_mm,
)
from geometry.drawing.short.true_page import CROSS_MM, true_room
from geometry.drawing.transforms import Shift

AROUND_MM: Final = 7.0
"""What a strip shows beyond its outermost rims."""

PIN_MM: Final = 3.0
"""The radius of the ring of a locating mark."""

_LEAST_HALF_MM = 16.0
_OVERLAP_MM = 10.0
_CLEAR_MM = 6.0
_FARTHEST_EDGE_MM = 160.0
_WORTH_PAGES = 2.5
"""So many pages more may a strip have that can also be stepped."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of the strip that is cut out: from one place along it to another.

    ``low`` and ``high`` are its sides, across the strip. It has ``joins`` where it meets the pieces
    before and after it.
    """

    first: float
    last: float
    low: float
    high: float
    joins: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page: its pieces, each with how strip coordinates become those of the page."""

    pieces: tuple[tuple[Piece, Shift], ...]


@dataclass(frozen=True)
class Strip:
    """A strip for one design: what it marks and on which pages it stands.

    ``edges`` are the places along the strip at which the raft's edge lies, with the rows for which
    it does; empty where the rows begin too far from it. ``pinned`` strips show the holes of the row
    before.
    """

    job: Job
    plan: RowPlan
    edges: tuple[tuple[float, tuple[StripRow, ...]], ...]
    pinned: bool
    sheets: tuple[Sheet, ...]

    @property
    def joins(self) -> tuple[float, ...]:
        """Where along the strip two pieces meet."""
        return tuple(
            sorted({
                join for sheet in self.sheets for piece, _ in sheet.pieces for join in piece.joins
            })
        )  # fmt: skip

    @property
    def radius(self) -> float:
        """The radius of the largest hole of the rows."""
        return _radius(self.job, self.plan)

    @property
    def half(self) -> float:
        """Half the breadth of the strip itself."""
        return max(self.radius + 3, _LEAST_HALF_MM)

    def number(self, piece: Piece) -> int:
        """Number a piece along the strip, from 1, wherever it stands on the pages."""
        before = [other for sheet in self.sheets for other, _ in sheet.pieces]
        return 1 + sum(other.first < piece.first for other in before)

    @property
    def ends(self) -> tuple[float, float]:
        """Where the joined strip begins and ends."""
        pieces = [piece for sheet in self.sheets for piece, _ in sheet.pieces]
        return min(piece.first for piece in pieces), max(piece.last for piece in pieces)

    def along(self, mark: int) -> float:
        """How far a mark can be off along its row, when the strip is set by edge and line."""
        start = SET_MM if self.edges else SET_MM + tape_mm(self.job.unit)
        edge = max((-place for place, _ in self.edges), default=0.0)
        place = self.plan.strip[mark]
        passed = sum(join < place for join in self.joins)
        return (
            start
            + PRINT_SHARE * edge
            + min(PRINT_SHARE * place + JOIN_MM * passed, PROOF_MM)
            + self.plan.off_mm
        )

    @cached_property
    def error(self) -> Error:
        """The largest error where each row has its chalk line."""
        along = max(self.along(mark) for row in self.plan.rows for mark in row.marks)
        return Error(along, SET_MM + tape_mm(self.job.unit) + self.plan.off_mm)

    @cached_property
    def stepped(self) -> Error | None:
        """The largest error where only the first row has one.

        None where no step can be pinned, or the last rows could be off by half a pitch.
        """
        plan = self.plan
        steps = [step for step in plan.steps if step is not None]
        if not self.pinned or not steps or len(steps) < len(plan.steps):
            return None
        at = [(row.start - plan.rows[0].start, -plan.side * row.level) for row in plan.rows]
        layings = []
        for number, step in enumerate(steps):
            marks = tuple((pin, plan.side * step.gap) for pin in step.pins)
            onto = tuple((pin + step.shift, 0.0) for pin in step.pins)
            layings.append(Laying(at[number + 1], number, (marks[0], marks[1]), (onto[0], onto[1])))
        length = plan.strip[-1]
        edge = max((-place for place, _ in self.edges), default=0.0)
        start = SET_MM + (PRINT_SHARE * edge if self.edges else tape_mm(self.job.unit))
        first = First(length, start, SET_MM + tape_mm(self.job.unit))
        holes = [[(plan.strip[mark], 0.0) for mark in row.marks] for row in plan.rows]
        found = stepped_error(first, layings, holes, paper_error(length, self.joins))
        stepped = Error(found.along + plan.off_mm, found.across + plan.off_mm)
        return stepped if stepped.worst < plan.least_pitch / 2 else None


def strip_of(job: Job) -> Strip | None:
    """Find the strip of a design with the fewest pages; None where its holes stand in no rows.

    A strip that can be stepped from row to row may take some pages more.
    """
    found = [
        strip
        for upright in (False, True)
        if (plan := row_plan(job.design.holes, upright=upright)) is not None
        for pinned in (True, False)
        for along_page in (True, False)
        if (strip := _laid(job, plan, pinned=pinned, up_page=along_page)) is not None
        and (not pinned or strip.stepped is not None)
    ]

    def cost(strip: Strip) -> tuple[int, float, int]:
        pages = len(strip.sheets) - (_WORTH_PAGES if strip.pinned else 0)
        return len(strip.plan.strays), pages, len(strip.plan.rows)

    return min(found, key=cost, default=None)


def _radius(job: Job, plan: RowPlan) -> float:
    covered = [hole for row in plan.rows for hole in row.holes]
    return float(job.design.holes.diameters[covered].max() / 2)


def _edges(job: Job, plan: RowPlan) -> tuple[tuple[float, tuple[StripRow, ...]], ...]:
    """Tell where the raft's edge lies along the strip; the rows of a stagger have two such places.

    None for odd outlines, whose edge is elsewhere for each row.
    """
    if not job.design.shape.is_rectangle:
        return ()
    places: dict[float, list[StripRow]] = {}
    for row in plan.rows:
        places.setdefault(round(-row.start, 1), []).append(row)
    if len(places) > 2 or -min(places) > _FARTHEST_EDGE_MM:
        return ()
    return tuple((-rows[0].start, tuple(rows)) for _, rows in sorted(places.items(), reverse=True))


def _laid(job: Job, plan: RowPlan, *, pinned: bool, up_page: bool) -> Strip | None:
    """Cut the strip into pieces and put them on pages; None where a piece has no room."""
    steps = [step for step in plan.steps if step is not None]
    if pinned and (not steps or None in plan.steps):
        return None
    edges = _edges(job, plan)
    radius = _radius(job, plan)
    half = max(radius + 3, _LEAST_HALF_MM)
    room = true_room(job.setup)
    most, breadth = (room.height, room.width) if up_page else (room.width, room.height)
    first = min([-radius, *(place for place, _ in edges)]) - AROUND_MM
    last = plan.strip[-1] + radius + AROUND_MM
    pins = {(pin, step.gap) for step in steps for pin in step.pins} if pinned else set()
    places = sorted({*plan.strip, *(pin for pin, _ in pins)})
    cuts = _cuts(first, last, most, places, radius)
    if cuts is None:
        return None
    pieces: list[Piece] = []
    for number, (start, end) in enumerate(pairwise(cuts)):
        low, high = -half, half
        for pin, gap in pins:
            if start - _OVERLAP_MM / 2 <= pin <= end + _OVERLAP_MM / 2:
                reach = plan.side * (gap + PIN_MM + AROUND_MM)
                low, high = min(low, reach), max(high, reach)
        joins = (*([start] if number else []), *([end] if number < len(cuts) - 2 else []))
        over = _OVERLAP_MM / 2
        pieces.append(
            Piece(start - (over if number else 0), end + (over if end in joins else 0), low, high,
                  joins)
        )  # fmt: skip
    if any(piece.high - piece.low > breadth for piece in pieces):
        return None
    return Strip(job, plan, edges, pinned, _packed(pieces, room, up_page=up_page))


def _cuts(
    first: float, last: float, most: float, places: Sequence[float], radius: float
) -> list[float] | None:
    """Cut a strip so that pieces and their overlaps have room, between holes if that goes."""
    cuts = [first]
    marks = np.array(places)
    while True:
        over = _OVERLAP_MM / 2 if len(cuts) > 1 else 0.0
        if last - cuts[-1] + over <= most:
            return [*cuts, last]
        far = cuts[-1] + most - over - _OVERLAP_MM / 2
        near = cuts[-1] + most / 3
        trials = np.arange(far, near, -1.0)
        away = np.abs(trials[:, None] - marks[None, :]).min(axis=1)
        for clear in (radius + _CLEAR_MM, CROSS_MM + _OVERLAP_MM / 2 + 1):
            free = np.flatnonzero(away >= clear)
            if len(free):
                cuts.append(float(trials[free[0]]))
                break
        else:
            return None


def _packed(pieces: Sequence[Piece], room: Box, *, up_page: bool) -> tuple[Sheet, ...]:
    """Put pieces on pages, side by side or one above the other, in their order."""
    breadth = room.width if up_page else room.height
    sheets: list[list[tuple[Piece, Shift]]] = []
    used: list[float] = []
    for piece in pieces:
        wide = piece.high - piece.low
        number = next(
            (n for n, taken in enumerate(used) if taken + wide <= breadth + 1e-9), len(sheets)
        )
        if number == len(sheets):
            sheets.append([])
            used.append(0.0)
        if up_page:
            shift = Shift(
                room.left + used[number] + piece.high, room.bottom - piece.first, quarters=1
            )
        else:
            shift = Shift(room.left - piece.first, room.top - used[number] - piece.high)
        sheets[number].append((piece, shift))
        used[number] += wide
    return tuple(Sheet(tuple(sheet)) for sheet in sheets)


def pin_names(plan: RowPlan) -> tuple[tuple[str, float, float], ...]:
    """Name the places that are laid on holes of the row before: name, place along, gap."""
    pairs = list(dict.fromkeys((step.pins, round(step.gap, 3)) for step in plan.steps if step))
    letters = "LMNRSTUV"
    return tuple(
        (f"{letters[number % len(letters)]}{end + 1}", pins[end], gap)
        for number, (pins, gap) in enumerate(pairs)
        for end in (0, 1)
    )
