"""How much room rafts have to move at each level of the water, and how near the wall they come."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, radians
from typing import Final, Literal, NamedTuple

import numpy as np

from geometry.beds.levels import PLUMB, By, Level, lean_at, levels_of, narrowed
from geometry.beds.outline import exact_box, exact_size, outline_loop
from geometry.errors import OutlineError
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.curves import Arc, Curve, Line, Loop
from geometry.model.edges import Floats, end_of, start_of, unit
from geometry.model.measure import Gauge, area, shifted
from geometry.rafts.layout import ALL_WAYS, RaftLayout, RaftPlace
from geometry.units import TOLERANCE_MM

Axis = Literal["along", "across"]

AXES: Final[tuple[Axis, ...]] = ("along", "across")

_PUSHES: Final = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Shares of the joint gaps that are closed when rafts are pushed together, to be tried."""

_STEP: Final = radians(2)
"""Arcs are looked at so often: between two looks nothing changes by more than micrometres."""


@dataclass(frozen=True, slots=True)
class Play:
    """The room along one axis, all of it on one side, in mm.

    ``least`` is that of the largest rafts, below zero where they jam; ``most`` that of rafts just
    as they are cut. ``joints`` is the share of both that lies between rafts.
    """

    least: Fraction
    most: Fraction
    joints: Fraction


@dataclass(frozen=True, slots=True)
class Near:
    """Where a raft comes nearest to the wall: how near in mm, negative beyond it."""

    raft: str
    place: tuple[float, float]
    away: float


@dataclass(frozen=True, slots=True)
class LevelFit:
    """How the rafts of a bed lie at one level of its water.

    ``down`` is how far that is below the working level, in mm, negative above it. ``lean`` is how
    much shorter and narrower the bed is there. ``near`` is told of outlines that are no rectangle,
    where walls lean or rafts grow. ``water_mm2`` is the water within the walls there.
    """

    level: Level
    down: Fraction
    lean: By
    along: Play
    across: Play
    water_mm2: float
    near: Near | None = None

    def play(self, axis: Axis) -> Play:
        """The room along an axis."""
        return self.along if axis == "along" else self.across

    @property
    def jams(self) -> tuple[Axis, ...]:
        """The axes along which the largest rafts have no room."""
        return tuple(axis for axis in AXES if self.play(axis).least < -Fraction(TOLERANCE_MM))

    @property
    def is_stuck(self) -> bool:
        """Whether a raft jams, at whatever wall."""
        beyond = self.near is not None and self.near.away < -TOLERANCE_MM
        return beyond or bool(self.jams)


class _Lying(NamedTuple):
    """Where the largest rafts lie: lower left corner and size of each box, a row a raft."""

    corners: Floats
    sizes: Floats


class _Wall(NamedTuple):
    """The wall at a level, ready to measure from, and its corners that point into the bed."""

    gauge: Gauge
    hollow: Floats


class _Spread(NamedTuple):
    """Rafts along one axis: how many in a row, and how long they are together as they are cut."""

    rafts: int
    sizes: Fraction


def growth(allowances: Allowances, count: int, sizes: Fraction) -> Fraction:
    """How much longer a row of ``count`` rafts becomes, ``sizes`` mm long together.

    Paint comes on both edges of each; foam swells, and grows with warmth, by its length.
    """
    share = allowances.swelling + allowances.warming * allowances.expansion
    return 2 * count * allowances.film.exact + sizes * share / 1000


def levels_fit(
    bed: Bed, layout: RaftLayout, allowances: Allowances, only: Level | None = None
) -> tuple[LevelFit, ...]:
    """Say how the rafts of a bed lie at low, working and high water; nothing without rafts.

    With ``only``, at that level alone.

    The room along an axis is what the bed measures there less what the rafts of a row do: two
    clearances and the joint gaps, less what the walls take off. The largest rafts are painted,
    soaked and warm. No raft comes out smaller than it is planned, since rafts are planned for the
    smallest sheet, so the most room is that of rafts as they are cut.

    Outlines that are no rectangle are looked at all round as well: rafts as laid and pushed
    together, and all of them moved to where they lie best.

    Raises:
        OutlineError: The outline cannot be drawn.
    """
    if not layout.rafts:
        return ()
    spreads = [_spread(bed, layout, axis) for axis in (0, 1)]
    return tuple(
        _level(bed, layout, allowances, spreads, (level, down))
        for level, down in levels_of(bed.water).items()
        if only in {None, level}
    )


def _level(
    bed: Bed,
    layout: RaftLayout,
    allowances: Allowances,
    spreads: Sequence[_Spread],
    at: tuple[Level, Fraction],
) -> LevelFit:
    level, down = at
    lean = lean_at(bed.outline, bed.water.walls, down)
    plays = []
    for axis, (size, spread) in enumerate(zip(exact_box(bed.outline), spreads, strict=True)):
        most = size - lean[axis] - spread.sizes
        least = most - growth(allowances, spread.rafts, spread.sizes)
        plays.append(Play(least, most, (spread.rafts - 1) * bed.joint_gap.exact))
    grows = any(play.least != play.most for play in plays)
    near = None
    try:
        inside = _inside(bed, lean)
    except OutlineError:
        # Nothing is left of the bed so far down: the room along an axis says by how much.
        along, across = _hopeless(plays)
        return LevelFit(level, down, lean, along, across, 0.0)
    if exact_size(bed.outline) is None and (lean != PLUMB or grows):
        near = _nearest(bed, layout, allowances, inside)
    return LevelFit(level, down, lean, plays[0], plays[1], area(inside), near)


def _hopeless(plays: Sequence[Play]) -> list[Play]:
    """Plays that jam, also where the sizes alone leave some room."""
    return [Play(min(play.least, Fraction(-1)), play.most, play.joints) for play in plays]


def _inside(bed: Bed, lean: By) -> Loop:
    """The walls at a level, in bed coordinates: they come in evenly from both sides."""
    if lean == PLUMB:
        return outline_loop(bed.outline)
    loop = outline_loop(narrowed(bed.outline, lean))
    return shifted(loop, float(lean[0] / 2), float(lean[1] / 2))


def _spread(bed: Bed, layout: RaftLayout, axis: int) -> _Spread:
    """Take the stretch from the first raft to the last, less the joints between."""
    # By identity: the rafts of a column share one number, and thousands need not be compared.
    found = {
        (id(raft.y), id(raft.shape)) if axis else (id(raft.x), id(raft.shape)): raft
        for raft in layout.rafts
    }
    spans = [
        (raft.y, raft.shape.width, raft.row) if axis else (raft.x, raft.shape.length, raft.column)
        for raft in found.values()
    ]
    count = len({cell for _, _, cell in spans})
    stretch = max(start + size for start, size, _ in spans) - min(start for start, _, _ in spans)
    return _Spread(count, stretch - (count - 1) * bed.joint_gap.exact)


def _nearest(bed: Bed, layout: RaftLayout, allowances: Allowances, inside: Loop) -> Near:
    """How near the rafts come to the wall where they lie best."""
    wall = _Wall(Gauge.of(inside), _hollow_corners(inside))
    best: tuple[Near, _Lying] | None = None
    for share in _PUSHES if bed.joint_gap.exact else _PUSHES[:1]:
        lying = _pushed(bed, layout, allowances, share)
        near = _at_wall(layout.rafts, lying, wall)
        if best is None or near.away > best[0].away:
            best = near, lying
    assert best is not None  # noqa: S101  # there is one push or more
    near, lying = best
    if near.away >= 0 or not len(wall.hollow):
        return near
    return _moved_best(layout.rafts, lying, wall, near, bed.clearance.mm)


def _moved_best(
    rafts: Sequence[RaftPlace], lying: _Lying, wall: _Wall, near: Near, reach: float
) -> Near:
    """Move all rafts together, by ever smaller steps, to where they are farthest from the wall.

    Only walls with a corner that points inwards are nearer to the middle on one side.
    """
    step = max(reach, 1.0)
    while step > TOLERANCE_MM * 1000 and near.away < 0:
        tried = [
            (moved := _Lying(lying.corners + step * np.array(way), lying.sizes),
             _at_wall(rafts, moved, wall))
            for way in ALL_WAYS
        ]  # fmt: skip
        there, found = max(tried, key=lambda each: each[1].away)
        if found.away > near.away + TOLERANCE_MM:
            lying, near = there, found
        else:
            step /= 2
    return near


def _pushed(bed: Bed, layout: RaftLayout, allowances: Allowances, share: float) -> _Lying:
    corners, sizes = [], []
    for axis in (0, 1):
        cells = np.array([raft.row if axis else raft.column for raft in layout.rafts])
        starts = np.array([float(raft.y if axis else raft.x) for raft in layout.rafts])
        extents = np.array(
            [float(raft.shape.width if axis else raft.shape.length) for raft in layout.rafts]
        )
        once = float(growth(allowances, 1, Fraction(0)))
        each = float(growth(allowances, 0, Fraction(1)))
        grown = extents + once + extents * each
        number = np.unique(cells, return_inverse=True)[1]
        count = int(number.max()) + 1
        first, last = np.full(count, np.inf), np.full(count, -np.inf)
        np.minimum.at(first, number, starts)
        np.maximum.at(last, number, starts + extents)
        own = (last - first) * (1 + each) + once
        gap = bed.joint_gap.mm * (1 - share)
        middle = (first[0] + last[-1]) / 2
        begins = middle - (own.sum() + (count - 1) * gap) / 2
        place = begins + np.concatenate([[0.0], np.cumsum(own + gap)[:-1]])
        off = starts + extents / 2 - (first + last)[number] / 2
        corners.append(place[number] + own[number] / 2 + off - grown / 2)
        sizes.append(grown)
    return _Lying(np.stack(corners, axis=1), np.stack(sizes, axis=1))


def _at_wall(rafts: Sequence[RaftPlace], lying: _Lying, wall: _Wall) -> Near:
    known: dict[tuple[int, bool], Floats] = {}
    for raft in rafts:
        key = id(raft.shape), raft.turned
        if key not in known:
            known[key] = _shares(raft)
    parts = [known[id(raft.shape), raft.turned] for raft in rafts]
    owners = np.repeat(np.arange(len(parts)), [len(part) for part in parts])
    places = lying.corners[owners] + np.concatenate(parts) * lying.sizes[owners]
    away = wall.gauge.signed_distance(places)
    at = int(away.argmin())
    x, y = places[at].tolist()
    best = Near(rafts[int(owners[at])].name, (x, y), float(away[at]))
    for corner in wall.hollow:
        best = min((best, *_in_rafts(rafts, lying, corner)), key=lambda near: near.away)
    return best


def _in_rafts(rafts: Sequence[RaftPlace], lying: _Lying, corner: Floats) -> list[Near]:
    """How deep a corner of the wall that points inwards pokes into rafts."""
    low, high = lying.corners, lying.corners + lying.sizes
    hit = np.flatnonzero(((corner > low) & (corner < high)).all(axis=1))
    found = []
    for k in hit.tolist():
        raft = rafts[k]
        loop = shifted(raft.loop_in_bed, -float(raft.x), -float(raft.y))
        size = np.array([float(raft.shape.length), float(raft.shape.width)])
        on_raft = (corner - lying.corners[k]) / lying.sizes[k] * size
        away = -float(Gauge.of(loop).signed_distance(on_raft[None])[0])
        found.append(Near(raft.name, (float(corner[0]), float(corner[1])), away))
    return found


def _shares(raft: RaftPlace) -> Floats:
    """Places on the edge of a raft as it lies, as shares of the sides of its box."""
    loop = shifted(raft.loop_in_bed, -float(raft.x), -float(raft.y))
    size = np.array([float(raft.shape.length), float(raft.shape.width)])
    places: Floats = np.array([at for curve in loop.curves for at in _looks(curve)]) / size
    return places


def _looks(curve: Curve) -> list[tuple[float, float]]:
    match curve:
        case Line(start, end):
            return [start, ((start.x + end.x) / 2, (start.y + end.y) / 2)]
        case Arc(centre, radius, angle, sweep):
            steps = max(2, ceil(abs(sweep) / _STEP))
            turns = [unit(angle + sweep * k / steps) for k in range(steps)]
            return [(centre.x + radius * at.x, centre.y + radius * at.y) for at in turns]


def _hollow_corners(loop: Loop) -> Floats:
    """The corners that point into the bed, where two straight walls meet."""
    found = []
    for before, after in zip(loop.curves, (*loop.curves[1:], loop.curves[0]), strict=True):
        if isinstance(before, Line) and isinstance(after, Line):
            (x0, y0), (x1, y1), (x2, y2) = start_of(before), end_of(before), end_of(after)
            if (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) < 0:
                found.append((x1, y1))
    return np.array(found).reshape(-1, 2)
