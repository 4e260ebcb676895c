"""Holes put in order by hand: aligned, spread evenly, mirrored, turned, copied.

A ``Group`` holds the chosen holes in bed coordinates, exactly. Orders on places are functions from
places to places; ``moved`` and ``copied`` make projects of their results. Places are centres.
Whatever leads off the raft or too near a neighbour is a finding, not a refusal.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import cos, radians, sin
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.errors import GeometryError
from geometry.holes.claims import raft_kinds
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft
from geometry.tongue import tr, tr_n
from geometry.units import Length
from layout_gui.project.edits import Coordinate, HoleName, fine_length, place_holes

Axis = Literal["along", "across"]
Edge = Literal["low", "middle", "high"]
Place = tuple[Fraction, Fraction]
"""x along the bed, y across it, in mm."""

MOST_COPIES: Final = 10_000
"""So many holes are added at once at most."""

IN_LINE: Final = Fraction(1, 1000)
"""Holes whose places differ by no more stand in one line (mm)."""

_INDEX: Final[dict[Axis, int]] = {"along": 0, "across": 1}


@dataclass(frozen=True, slots=True)
class Group:
    """Chosen holes of one bed: their names, places and radii, in the order of the plan.

    ``middles`` are the middles of the rafts that the holes lie on, in bed coordinates.
    """

    project: Project
    plan: BedPlan
    names: tuple[HoleName, ...]
    places: tuple[Place, ...]
    radii: tuple[Fraction, ...]
    middles: tuple[Place, ...]

    def __len__(self) -> int:
        return len(self.names)

    @property
    def middle(self) -> Place:
        """The middle of the box around the centres."""
        return _middle([x for x, _ in self.places]), _middle([y for _, y in self.places])


def group_of(project: Project, plan: BedPlan, names: Iterable[HoleName]) -> Group:
    """Gather chosen holes; names that the plan lacks are left out.

    Where rafts change places, what is done to one raft is done to all of its kind, so of each kind
    only the holes of the first raft count.

    Raises:
        GeometryError: none of the holes is there.
    """
    wanted: dict[str, set[str]] = {}
    for raft_name, hole in names:
        wanted.setdefault(raft_name, set()).add(hole)
    ground = Ground(plan)
    pinned = exact_pins(plan)
    kinds = _kinds(plan)
    seen: set[tuple[str, str]] = set()
    rows: list[tuple[HoleName, Place, Fraction, Place]] = []
    for raft in plan.rafts:
        chosen = wanted.get(raft.name)
        if not chosen:
            continue
        holes = raft.design.holes
        shape = raft.design.shape
        middle = ground.in_bed(raft, (shape.length / 2, shape.width / 2))
        for at, name in enumerate(holes.names):
            twin = kinds.get(raft.name, raft.name), name
            if name not in chosen or twin in seen:
                continue
            seen.add(twin)
            x, y = holes.xy[at].tolist()
            own = pinned.get((x, y)) or (fine_length(x).exact, fine_length(y).exact)
            radius = Fraction(float(holes.diameters[at])) / 2
            rows.append(((raft.name, name), ground.in_bed(raft, own), radius, middle))
    if not rows:
        raise GeometryError(tr("Select the holes first; none is selected."))
    named, places, radii, middles = zip(*rows, strict=True)
    return Group(project, plan, named, places, radii, middles)


# -- orders on places ----------------------------------------------------------------------------


def aligned(group: Group, axis: Axis, edge: Edge) -> list[Place]:
    """Bring all centres to the lowest, middle or highest place along an axis."""
    _needs(group, 2)
    index = _INDEX[axis]
    values = [place[index] for place in group.places]
    target = {"low": min(values), "middle": _middle(values), "high": max(values)}[edge]
    return [_with(place, index, target) for place in group.places]


def distributed(group: Group, axis: Axis, by: Literal["centres", "gaps"]) -> list[Place]:
    """Spread the lines of holes evenly between the first and the last, which stay.

    ``centres`` makes equal steps, ``gaps`` leaves equal foam between the rims. Holes that stand in
    one line across the axis move together.
    """
    lines = _lines(group, axis)
    if len(lines) < 3:
        raise GeometryError(
            tr("Spreading evenly takes three holes or more, one behind the other; select more.")
        )
    first, last, between = lines[0], lines[-1], lines[1:-1]
    if by == "centres":
        step = (last.at - first.at) / (len(lines) - 1)
        return _moved_lines(group, axis, lines, [first.at + n * step for n in range(len(lines))])
    room = last.at - last.radius - (first.at + first.radius)
    gap = (room - sum(2 * line.radius for line in between)) / (len(lines) - 1)
    targets = [first.at]
    for before, line in pairwise(lines):
        targets.append(targets[-1] + before.radius + gap + line.radius)
    targets[-1] = last.at
    return _moved_lines(group, axis, lines, targets)


def spaced(group: Group, axis: Axis, step: Fraction) -> list[Place]:
    """Put the lines of holes a step apart; the first one stays."""
    lines = _lines(group, axis)
    if len(lines) < 2:
        raise GeometryError(
            tr("A step takes two holes or more, one behind the other; select more.")
        )
    if step <= 0:
        raise GeometryError(tr("The step must be longer than 0."))
    return _moved_lines(
        group, axis, lines, [lines[0].at + number * step for number in range(len(lines))]
    )


def shifted(group: Group, dx: Fraction, dy: Fraction) -> list[Place]:
    """Move all by as much."""
    return [(x + dx, y + dy) for x, y in group.places]


def mirrored(group: Group, axis: Axis, about: Literal["raft", "selection"]) -> list[Place]:
    """Swap the sides along an axis, about the middle of each raft or of the chosen holes."""
    index = _INDEX[axis]
    middles = group.middles if about == "raft" else (group.middle,) * len(group)
    return [
        _with(place, index, 2 * middle[index] - place[index])
        for place, middle in zip(group.places, middles, strict=True)
    ]


def turned(group: Group, degrees: Fraction, centre: Place | None = None) -> list[Place]:
    """Turn anticlockwise about the middle of the chosen holes; exact for quarter turns."""
    cx, cy = centre or group.middle
    c, s = _direction(degrees)
    return [
        (cx + (x - cx) * c - (y - cy) * s, cy + (x - cx) * s + (y - cy) * c)
        for x, y in group.places
    ]


def repeated(group: Group, dx: Fraction, dy: Fraction, times: int = 1) -> list[Place]:
    """Copies, each so far from the one before."""
    if not dx and not dy:
        raise GeometryError(tr("A copy needs a distance along or across; both are 0."))
    _refuse_many(times * len(group))
    return [(x + n * dx, y + n * dy) for n in range(1, times + 1) for x, y in group.places]


def in_rows(
    group: Group,
    columns: int,
    rows: int,
    step_along: Fraction,
    step_across: Fraction,
    *,
    staggered: bool = False,
) -> list[Place]:
    """Copies in columns along the bed and rows across it; the chosen holes are the first of them.

    Staggered rows are shifted by half a step, every second one.
    """
    if columns * rows < 2:
        raise GeometryError(tr("One row of one column is what is there; ask for more of either."))
    if (columns > 1 and not step_along) or (rows > 1 and not step_across):
        raise GeometryError(tr("The steps must not be 0."))
    _refuse_many((columns * rows - 1) * len(group))
    half = step_along / 2 if staggered else Fraction(0)
    return [
        (x + column * step_along + (row % 2) * half, y + row * step_across)
        for row in range(rows)
        for column in range(columns)
        if row or column
        for x, y in group.places
    ]


def in_ring(
    group: Group, count: int, radius: Fraction, first_degrees: Fraction = Fraction(0)
) -> list[Place]:
    """So many places on a circle about the middle of the chosen holes, anticlockwise.

    The first one lies in the direction ``first_degrees``, 0 being along the bed.
    """
    if radius <= 0:
        raise GeometryError(tr("The distance from the middle must be longer than 0."))
    _refuse_many(count)
    cx, cy = group.middle
    ways = (_direction(first_degrees + Fraction(360 * n, count)) for n in range(count))
    return [(cx + radius * c, cy + radius * s) for c, s in ways]


# -- projects ------------------------------------------------------------------------------------


def moved(group: Group, places: Sequence[Place]) -> Project:
    """Move each hole of the group to its place; those that stay are left as they are."""
    ground = Ground(group.plan)
    to: dict[HoleName, tuple[Coordinate, Coordinate]] = {}
    for name, old, new in zip(group.names, group.places, places, strict=True):
        if new != old:
            raft = ground.rafts[name[0]]
            target = _lengths(ground.on_raft(raft, new))
            if target != _lengths(ground.on_raft(raft, old)):
                to[name] = target
    return place_holes(group.project, group.plan, to) if to else group.project


def copied(group: Group, places: Sequence[Place]) -> Project:
    """Add a hole at each place, on the raft that lies there.

    Over water it belongs to the raft it was copied from. A place that has a hole already gets no
    second one.
    """
    ground = Ground(group.plan)
    more: list[tuple[str, Coordinate, Coordinate]] = []
    for number, place in enumerate(places):
        own = ground.rafts[group.names[number % len(group)][0]]
        raft = ground.raft_at(float(place[0]), float(place[1])) or own
        at = ground.on_raft(raft, place)
        if not has_hole(raft, float(at[0]), float(at[1])):
            more.append((raft.name, *_lengths(at)))
    if not more:
        raise GeometryError(tr("There is a hole already wherever a copy would go."))
    return place_holes(group.project, group.plan, {}, more)


class Ground:
    """The rafts of a bed plan as places are counted on them: exactly, where the layout is exact."""

    def __init__(self, plan: BedPlan) -> None:
        exact = {place.name: (place.x, place.y) for place in plan.layout.rafts}
        self.rafts = {raft.name: raft for raft in plan.rafts}
        self._in_order = plan.rafts
        self._corners: dict[str, Place] = {
            raft.name: exact.get(raft.name, (Fraction(raft.x), Fraction(raft.y)))
            for raft in plan.rafts
        }

    def in_bed(self, raft: PlacedRaft, place: Place) -> Place:
        """Return bed coordinates of a place on a raft."""
        x, y = self._corners[raft.name]
        if not raft.turned:
            return x + place[0], y + place[1]
        shape = raft.design.shape
        return x + shape.length - place[0], y + shape.width - place[1]

    def on_raft(self, raft: PlacedRaft, place: Place) -> Place:
        """Return raft coordinates of a place of the bed."""
        x, y = self._corners[raft.name]
        if not raft.turned:
            return place[0] - x, place[1] - y
        shape = raft.design.shape
        return x + shape.length - place[0], y + shape.width - place[1]

    def raft_at(self, x: float, y: float) -> PlacedRaft | None:
        """Return the raft whose box holds this place of the bed; None over water."""
        left, bottom, right, top = self._boxes.T
        here = np.flatnonzero((left <= x) & (x <= right) & (bottom <= y) & (y <= top))
        return self._in_order[int(here[0])] if len(here) else None

    @cached_property
    def _boxes(self) -> NDArray[np.float64]:
        rows = [
            (raft.x, raft.y, raft.x + float(shape.length), raft.y + float(shape.width))
            for raft in self._in_order
            for shape in (raft.design.shape,)
        ]
        return np.array(rows, dtype=np.float64).reshape(-1, 4)


def exact_pins(plan: BedPlan) -> dict[tuple[float, float], Place]:
    """Exact places of pins, in raft coordinates, by the numbers the plan has for them."""
    pins = plan.bed.planting.pins if plan.bed.planting else ()
    return {(pin.x.mm, pin.y.mm): (pin.x.exact, pin.y.exact) for pin in pins}


def has_hole(raft: PlacedRaft, x: float, y: float) -> bool:
    """Tell whether a hole stands just there, in raft coordinates."""
    xy = raft.design.holes.xy
    return bool(len(xy)) and bool(np.hypot(xy[:, 0] - x, xy[:, 1] - y).min() <= float(IN_LINE))


# ------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Line:
    """Holes that stand in one line across an axis: where, the largest radius, which holes."""

    at: Fraction
    radius: Fraction
    members: tuple[int, ...]


def _lines(group: Group, axis: Axis) -> list[_Line]:
    index = _INDEX[axis]
    order = sorted(range(len(group)), key=lambda at: group.places[at][index])
    lines: list[list[int]] = []
    for at in order:
        value = group.places[at][index]
        if lines and value - group.places[lines[-1][0]][index] <= IN_LINE:
            lines[-1].append(at)
        else:
            lines.append([at])
    return [
        _Line(
            group.places[members[0]][index],
            max(group.radii[at] for at in members),
            tuple(members),
        )
        for members in lines
    ]


def _moved_lines(
    group: Group, axis: Axis, lines: Sequence[_Line], targets: Sequence[Fraction]
) -> list[Place]:
    places = list(group.places)
    for line, target in zip(lines, targets, strict=True):
        for at in line.members:
            offset = places[at][_INDEX[axis]] - line.at
            places[at] = _with(places[at], _INDEX[axis], target + offset)
    return places


def _needs(group: Group, count: int) -> None:
    if len(group) < count:
        raise GeometryError(
            tr_n("This takes {n} hole; select more.", "This takes {n} holes; select more.", count)
        )


def _refuse_many(count: int) -> None:
    if count > MOST_COPIES:
        raise GeometryError(
            tr(
                "That would be {count} new holes; at most {most} are added at once.",
                count=count,
                most=MOST_COPIES,
            )
        )


def _direction(degrees: Fraction) -> tuple[Fraction, Fraction]:
    """Return cosine and sine, exact for quarter turns."""
    quarters, rest = divmod(degrees % 360, 90)
    if not rest:
        one, none = Fraction(1), Fraction(0)
        return ((one, none), (none, one), (-one, none), (none, -one))[int(quarters)]
    angle = radians(float(degrees % 360))
    return Fraction(cos(angle)), Fraction(sin(angle))


def _middle(values: Sequence[Fraction]) -> Fraction:
    return (min(values) + max(values)) / 2


def _with(place: Place, index: int, value: Fraction) -> Place:
    return (value, place[1]) if index == 0 else (place[0], value)


def _lengths(place: Place) -> tuple[Length, Length]:
    return fine_length(place[0]), fine_length(place[1])


def _kinds(plan: BedPlan) -> dict[str, str]:
    """For rafts that change places, the first raft of the same kind."""
    planting = plan.bed.planting
    if planting is None or planting.joints != "interchangeable":
        return {}
    kinds = raft_kinds(plan.bed, plan.layout)
    first: dict[object, str] = {}
    return {
        raft.name: first.setdefault(kinds.get(raft.name, raft.design.shape), raft.name)
        for raft in plan.rafts
    }
