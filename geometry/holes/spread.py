"""Open a row pattern up: first the least distance, then the margins, as wide as they go.

Along each axis of the raft stand gaps between two sides. A wall asks for its least margin; a joint
also for half of what keeps two plants apart, less half the joint gap, so that the distance to a
neighbour laid alike is never the least one. The least distance is made as large as the rectangle
allows. What room is left in an axis goes to its margins, a wall's up to half a pitch and a joint's
up to half a pitch less half the gap, and what is left then opens the pitch.
"""

import math
from dataclasses import dataclass, replace

from geometry.holes.row_pattern import RowPattern


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis of a raft in millimetres: its length and, for both ends, least margin and kind."""

    length: float
    margins: tuple[float, float]
    joints: tuple[bool, bool]
    joint_gap: float

    def least_margins(self, spacing: float) -> tuple[float, float]:
        """Least margins when plants across a joint are at least ``spacing`` apart."""
        across = (spacing - self.joint_gap) / 2
        (first, second), (at_first, at_second) = self.margins, self.joints
        return (
            across if at_first and across > first else first,
            across if at_second and across > second else second,
        )

    def room(self, spacing: float) -> float:
        """Length of the closed line that centres may stand on; below zero there is none."""
        first, second = self.least_margins(spacing)
        return self.length - first - second

    def even_pitch(self, gaps: float, spacing: float) -> float:
        """Return the pitch of ``gaps`` gaps whose margins are half a pitch, where that is enough.

        The line gaps * p + margins(p) = length is bent where a margin leaves its least; its root
        is the least of the roots of its straight pieces.
        """
        roots = [math.inf]
        first, second = self.least_margins(spacing)
        halves = [-self.joint_gap / 2 if joint else 0.0 for joint in self.joints]
        for fixed, halved in (
            (first + second, 0.0),
            (first + halves[1], 0.5),
            (second + halves[0], 0.5),
            (sum(halves), 1.0),
        ):
            if gaps + halved > 0:
                roots.append((self.length - fixed) / (gaps + halved))
        return min(roots)

    def middle(self, used: float) -> float:
        """Where a block begins that stands in the middle of the room left by the least margins."""
        first, second = self.margins
        return first + (self.length - first - second - used) / 2

    def start(self, used: float, pitch: float) -> float:
        """Where a block of length ``used`` begins: centred, or half a pitch off its only joint."""
        first, second = self.margins
        target = (self.length - used) / 2
        if used > 0 and self.joints[0] != self.joints[1]:
            at_joint = (pitch - self.joint_gap) / 2
            target = at_joint if self.joints[0] else self.length - used - at_joint
        return max(first, min(target, self.length - used - second))


def spread_out(
    pattern: RowPattern, spacing: float, x: Axis, y: Axis
) -> tuple[RowPattern, float, float]:
    """Return the pattern opened up on its raft, and where its first row begins (along, across it).

    Rows and their sites stay as they are. The least distance never falls below ``spacing``; a
    pattern that fits only because its joints were given less than half the spacing keeps exactly
    ``spacing`` and leaves the joints what remains. Hexagonal rows stay equilateral, rectangular
    ones keep the ratio of their distances as the least of what they are opened to.
    """
    along, across = (x, y) if pattern.direction == "along" else (y, x)
    if pattern.count == 1:
        return pattern, along.start(0.0, spacing), across.start(0.0, spacing)
    widest, held = _widest_spacing(pattern, spacing, along, across)
    if pattern.family == "hexagonal" and pattern.rows.rows > 1:
        gap = widest * math.sqrt(0.75)
        opened = replace(
            pattern, pitch=widest, offset=widest / 2, straight_gap=2 * gap, staggered_gap=gap
        )
    elif pattern.rows.staggered and pattern.rows.short == pattern.rows.long:
        opened = _open_equal_rows(pattern, widest, held, along, across)
    else:
        opened = _open_long_and_short(
            pattern, widest, held, along, across, _ratio(pattern, spacing)
        )
    used, height = opened.extent
    return (
        opened,
        along.start(used, max(opened.pitch, widest)),
        across.start(height, max(opened.row_gap, widest)),
    )


def _widest_spacing(
    pattern: RowPattern, spacing: float, along: Axis, across: Axis
) -> tuple[float, float]:
    """Return the least distance after opening, and the distance that holds across joints."""
    ratio = _ratio(pattern, spacing)

    def widest(apart: float) -> float:
        width, height = along.room(apart), across.room(apart)
        if min(width, height) < 0:
            return -math.inf
        return pattern.rows.widest(width, height, ratio)

    low, high = spacing, widest(spacing)
    if high < low:
        fits = along.room(low) > -1e-9 and across.room(low) > -1e-9 and high > low - 1e-9
        return spacing, spacing if fits else 0.0
    if widest(high) >= high:
        return high, high
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if widest(middle) >= middle else (low, middle)
    return low, low


def _ratio(pattern: RowPattern, spacing: float) -> float:
    return pattern.straight_gap / spacing if pattern.family == "rectangular" else 1.0


def _open_long_and_short(
    pattern: RowPattern, least: float, held: float, along: Axis, across: Axis, ratio: float
) -> RowPattern:
    """Straight rows, and staggers of half a pitch whose shifted rows are one site shorter."""
    rows, pitch = pattern.rows, pattern.pitch
    height = across.room(held)
    if rows.long > 1:
        needed = least
        if rows.staggered:
            gap = (height - rows.straight * least) / rows.staggered
            needed = max(least, 2 * _other_leg(least, gap))
        pitch = max(along.even_pitch(rows.long - 1, held), needed)
        pitch = min(pitch, along.room(held) / (rows.long - 1))
    straight = least * ratio
    staggered = _staggered_gap(least, pitch / 2, rows.staggered)
    used = rows.straight * straight + rows.staggered * staggered
    scale = _scale(used, staggered if rows.staggered else straight, held, across)
    return replace(
        pattern,
        pitch=pitch,
        offset=pitch / 2,
        straight_gap=straight * scale,
        staggered_gap=staggered * scale,
    )


def _open_equal_rows(
    pattern: RowPattern, least: float, held: float, along: Axis, across: Axis
) -> RowPattern:
    """Rows all alike, every other one shifted: half a pitch where that fits, else what is left."""
    rows, pitch = pattern.rows, pattern.pitch
    width = along.room(held)
    needed = _other_leg(least, across.room(held) / rows.staggered)
    if rows.long == 1:
        offset = min(max(along.even_pitch(1, held), needed), width)
    elif max(least, 2 * needed) * rows.pitches <= width + 1e-9:
        pitch = max(along.even_pitch(rows.pitches, held), least, 2 * needed)
        pitch = min(pitch, width / rows.pitches)
        offset = pitch / 2
    else:
        pitch = least
        offset = max(0.0, width - (rows.long - 1) * least)
    gap = _staggered_gap(least, offset, rows.staggered)
    gap *= _scale(rows.staggered * gap, gap, held, across)
    return replace(pattern, pitch=pitch, offset=offset, straight_gap=gap, staggered_gap=gap)


def _staggered_gap(least: float, offset: float, gaps: int) -> float:
    """Row gap at which rows shifted by ``offset`` keep the least distance, third rows too."""
    gap = _other_leg(least, offset)
    return max(gap, least / 2) if gaps > 1 else gap


def _other_leg(hypotenuse: float, leg: float) -> float:
    return math.sqrt(max(hypotenuse**2 - leg**2, 0.0))


def _scale(used: float, gap: float, held: float, across: Axis) -> float:
    """How far all row gaps open once the margins have half of ``gap``; 1 for a single row."""
    if used <= 0 or gap <= 0:
        return 1.0
    return min(max(across.even_pitch(used / gap, held) / gap, 1.0), across.room(held) / used)
