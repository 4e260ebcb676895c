"""Measuring on the canvas: what an end of the tape lies on, how long it is, how much foam is left.

Nothing here changes the project.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Final

from geometry.drawing.bed import obstacle_loops, zone_loops
from geometry.model.curves import Curve, Line, Loop, Point
from geometry.model.foot import foot_on, foot_on_curve
from geometry.model.guide_line import GuideLine
from geometry.model.measure import Box, bounds, shifted, turned_half
from geometry.plan import PlacedRaft
from geometry.tongue import tr
from geometry.units import Unit, format_length
from layout_gui.canvas.gestures import REACH_PX, THRESHOLD_PX, Touch
from layout_gui.canvas.places import Places, Spot
from layout_gui.document.selection import HoleName, Selection

CENTRE_SHARE: Final = 0.6
"""So near the middle of a hole, as a share of its radius, its centre is meant, not its rim."""

Known = tuple[str, Curve]
"""An edge with the words for it."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of the tape (bed coordinates, mm), and what it lies on in words.

    ``hole`` and ``radius`` are given where it lies on the centre of a hole, ``edge`` where it lies
    on an edge, ``is_rim`` where it lies on the rim of a hole.
    """

    x: float
    y: float
    words: str = ""
    hole: HoleName | None = None
    radius: float = 0.0
    edge: Curve | None = None
    is_rim: bool = False


def end_at_hole(spot: Spot) -> End:
    """Return the end that lies on the centre of a hole."""
    words = tr("{hole} on {raft}", hole=spot.hole, raft=spot.raft)
    return End(spot.x, spot.y, words, spot.name, spot.radius)


def find_end(
    places: Places, guide_lines: Iterable[GuideLine], touch: Touch, other: End | None = None
) -> End:
    """Return what an end of the tape lies on at a place: a centre, a rim, an edge, or nothing.

    With Alt it lies on nothing. Seen from the centre of a hole at the ``other`` end, the place of
    an edge is the one nearest to that centre, if it is near.
    """
    if touch.alt:
        return End(touch.x, touch.y)
    reach = REACH_PX * touch.pixel_mm
    spot = places.hole_at(touch.x, touch.y, reach)
    if spot is not None:
        away = hypot(touch.x - spot.x, touch.y - spot.y)
        if away <= max(CENTRE_SHARE * spot.radius, reach):
            return end_at_hole(spot)
        if abs(away - spot.radius) <= reach:
            share = spot.radius / away
            at = spot.x + share * (touch.x - spot.x), spot.y + share * (touch.y - spot.y)
            words = tr("rim of {hole} on {raft}", hole=spot.hole, raft=spot.raft)
            return End(*at, words, is_rim=True)
    found: list[tuple[float, End]] = []
    for words, loop in _outlines(places, touch, reach):
        (x, y), curve = foot_on(loop, touch.x, touch.y)
        away = hypot(x - touch.x, y - touch.y)
        if away <= reach:
            found.append((away, End(x, y, words, edge=curve)))
    for words, curve in _guide_edges(places, guide_lines):
        x, y = foot_on_curve(curve, touch.x, touch.y)
        found.append((hypot(x - touch.x, y - touch.y), End(x, y, words, edge=curve)))
    found = [(away, end) for away, end in found if away <= reach]
    if not found:
        return End(touch.x, touch.y)
    _, nearest = min(found, key=lambda each: each[0])
    if other is not None and other.radius and nearest.edge is not None:
        x, y = foot_on_curve(nearest.edge, other.x, other.y)
        if hypot(x - touch.x, y - touch.y) <= 3 * reach:
            return replace(nearest, x=x, y=y)
    return nearest


def length_words(mm: float) -> str:
    """Write a length in both systems, the metric one first."""
    return tr("{metric} = {inches}", metric=format_length(mm, "mm"), inches=format_length(mm, "in"))


def foam_between(one: End, other: End) -> float | None:
    """Return how much foam lies between the rims of holes, or a rim and an edge; below 0 none.

    None where neither end is the centre of a hole, or the other is neither hole nor edge.
    """
    if not (one.radius or other.radius) or one == other:
        return None
    if not all(end.radius or end.edge is not None or end.is_rim for end in (one, other)):
        return None
    return hypot(one.x - other.x, one.y - other.y) - one.radius - other.radius


def measured(one: End, other: End) -> tuple[str, ...]:
    """Say how far apart two ends are: the distance, the foam between, and along and across."""
    lines = [length_words(hypot(other.x - one.x, other.y - one.y))]
    foam = foam_between(one, other)
    if foam is not None:
        lines.append(
            tr("foam {length}", length=length_words(foam)) if foam > 0 else tr("no foam between")
        )
    along, across = abs(other.x - one.x), abs(other.y - one.y)
    if min(along, across) > 0.05:
        lines.append(
            tr(
                "along {along}, across {across}",
                along=format_length(along, "mm"),
                across=format_length(across, "mm"),
            )
        )
    return tuple(lines)


def between(places: Places, selection: Selection, unit: Unit) -> str:
    """Say how far apart the two selected things are; empty unless two are selected.

    Two holes: centre to centre, and the foam between their rims. Two rafts: the gap.
    """
    if len(selection.holes) == 2:
        spots = places.spots(selection.holes)
        if len(spots) == 2:
            one, other = map(end_at_hole, spots)
            away = hypot(other.x - one.x, other.y - one.y)
            return tr(
                "{distance} apart, {foam} foam between",
                distance=format_length(away, unit),
                foam=format_length(max(away - one.radius - other.radius, 0.0), unit),
            )
    if len(selection.rafts) == 2:
        rafts = [places.rafts[name] for name in selection.rafts if name in places.rafts]
        if len(rafts) == 2:
            gap = _gap(*(bounds(_outline(placed)) for placed in rafts))
            return tr("gap {gap}", gap=format_length(gap, unit))
    return ""


class Tape:
    """The tape in hand: the first end is set by a press, the other follows until it is set too.

    Drag from one end to the other, or click twice. ``show`` gets both ends to draw, ``say`` words.
    """

    def __init__(
        self,
        places: Callable[[], Places | None],
        guide_lines: Callable[[], Sequence[GuideLine]],
        show: Callable[[End | None, End | None], None],
        say: Callable[[str], None],
    ) -> None:
        self._places = places
        self._guide_lines = guide_lines
        self._show = show
        self._say = say
        self._start: End | None = None
        self._end: End | None = None
        self._pressed: Touch | None = None
        self._follows = False
        self._moves_start = False

    @property
    def ends(self) -> tuple[End | None, End | None]:
        """Both ends, as far as they are set."""
        return self._start, self._end

    def begin(self, selection: Selection) -> None:
        """Take the tape in hand; with one or two holes selected it lies on them already."""
        places = self._places()
        spots = places.spots(selection.holes) if places else []
        self._start = self._end = None
        if 1 <= len(spots) <= 2:
            self._start = end_at_hole(spots[0])
            self._end = end_at_hole(spots[-1])
            self._follows = len(spots) == 1
        self._refresh()

    def press(self, touch: Touch) -> None:
        """Set the first end, or with the second click the other."""
        if self._follows and self._start is not None and self._pressed is None:
            self._end = self._found(touch, self._start)
            self._follows = False
        else:
            self._start = self._end = self._found(touch, None)
            self._pressed, self._follows = touch, True
        self._refresh()

    def move(self, touch: Touch) -> None:
        """Let the free end follow; before the first press show where it would lie."""
        if self._follows and self._start is not None:
            self._end = self._found(self._straight(touch), self._start)
            self._refresh()
        elif self._start is None:
            self._show(self._found(touch, None), None)

    def release(self, touch: Touch) -> None:
        """Set the other end after a drag; after a click it goes on following."""
        pressed, self._pressed = self._pressed, None
        if pressed is None or self._start is None:
            return
        if hypot(touch.x - pressed.x, touch.y - pressed.y) >= THRESHOLD_PX * touch.pixel_mm:
            self._end = self._found(self._straight(touch), self._start)
            self._follows = False
        self._refresh()

    def nudge(self, dx: float, dy: float, middle: tuple[float, float]) -> None:
        """Move the end in hand by the keys; the tape begins in the middle of what is seen."""
        self._follows = False
        if self._start is None:
            self._start = self._end = End(*middle)
        end = self._start if self._moves_start else self._end or self._start
        self._put(End(end.x + dx, end.y + dy))

    def step(self, steps: int) -> None:
        """Put the end in hand on the next hole in name order, or the one before."""
        places = self._places()
        if places is None:
            return
        self._follows = False
        end = self._start if self._moves_start else self._end
        names = places.all_names()
        here = end.hole if end is not None else None
        chosen = places.next_to(here, steps) or (names[0 if steps > 0 else -1] if names else None)
        for spot in places.spots([chosen] if chosen else []):
            if self._start is None:
                self._start = end_at_hole(spot)
            self._put(end_at_hole(spot))

    def change_ends(self) -> None:
        """Take the other end in hand."""
        self._moves_start = not self._moves_start
        self._refresh()

    def settle(self) -> None:
        """Follow the holes of a new plan; an end whose hole is gone is taken up."""
        places = self._places()
        self._start, self._end = (
            _settled(places, end) if places else None for end in (self._start, self._end)
        )
        if self._start is None or self._end is None:
            self._start = self._end = None
            self._follows = False
        self._refresh()

    def put_away(self) -> None:
        """Show nothing any more."""
        self._start = self._end = self._pressed = None
        self._follows = self._moves_start = False
        self._show(None, None)

    def _put(self, end: End) -> None:
        if self._moves_start:
            self._start = end
        else:
            self._end = end
        self._refresh()

    def _straight(self, touch: Touch) -> Touch:
        if not touch.shift or self._start is None:
            return touch
        start = self._start
        if abs(touch.x - start.x) >= abs(touch.y - start.y):
            return replace(touch, y=start.y)
        return replace(touch, x=start.x)

    def _found(self, touch: Touch, other: End | None) -> End:
        places = self._places()
        if places is None:
            return End(touch.x, touch.y)
        return find_end(places, self._guide_lines(), touch, other)

    def _refresh(self) -> None:
        start, end = self._start, self._end
        self._show(start, end)
        if start is None or end is None or start == end:
            self._say(
                tr("Measure: click or drag from one place to another · Tab: holes · Esc: end")
            )
            return
        # The rest of it stands beside the tape.
        ways = measured(start, end)[0]
        names = [each.words for each in (start, end) if each.words]
        if len(names) == 2:
            ways = tr("{one} to {other}: {ways}", one=names[0], other=names[1], ways=ways)
        self._say(tr("{ways} · arrow keys move an end, Enter: the other · Esc: end", ways=ways))


def _settled(places: Places, end: End | None) -> End | None:
    if end is None or end.hole is None:
        return end
    return next((end_at_hole(spot) for spot in places.spots([end.hole])), None)


def _outline(placed: PlacedRaft) -> Loop:
    loop = placed.design.shape.loop
    return shifted(turned_half(loop) if placed.turned else loop, placed.x, placed.y)


def _outlines(places: Places, touch: Touch, reach: float) -> Iterable[tuple[str, Loop]]:
    """Give every outline that may be near a place, with its words."""
    x, y, bed_plan = touch.x, touch.y, places.bed_plan
    for placed in places.rafts_in(x - reach, y - reach, x + reach, y + reach):
        yield tr("edge of {raft}", raft=placed.name), _outline(placed)
    yield tr("wall of the bed"), bed_plan.layout.outline
    for obstacle, loop in obstacle_loops(bed_plan.bed):
        yield obstacle.name, loop
    for name, loop in zone_loops(bed_plan.bed):
        yield tr("edge of zone {zone}", zone=name), loop


def _guide_edges(places: Places, guide_lines: Iterable[GuideLine]) -> Iterable[Known]:
    left, bottom, right, top = places.box
    for line in guide_lines:
        at = line.at.mm
        ends = ((at, bottom), (at, top)) if line.axis == "x" else ((left, at), (right, at))
        yield tr("guide line"), Line(Point(*ends[0]), Point(*ends[1]))


def _gap(one: Box, other: Box) -> float:
    """The gap between two boxes."""
    aside = max(one[0] - other[2], other[0] - one[2], 0.0)
    above = max(one[1] - other[3], other[1] - one[3], 0.0)
    return hypot(aside, above)
