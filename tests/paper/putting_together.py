"""A template put together as a grower does it: with nothing but what stands on its pages.

Crosses of one name are laid on each other, starting from the page with the datum corner; which
way the raft lies follows from the figures beside the crosses. No word of the plan is used.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import dist, hypot
from operator import itemgetter

from tests.layout_gui.output.pdf_reading import Place, Seen

RING_MM = 2.5
_DATUM_PEN_MM = 0.6
_CROSS = re.compile(r"cross ([A-Z]+)([0-9]+): x (-?[0-9]+\.[0-9]), y (-?[0-9]+\.[0-9]) mm")
_NAME = re.compile(r"[A-Z]+[0-9]+")
_TURNS = [
    (*x, *y) for x in ((1, 0), (0, 1), (-1, 0), (0, -1)) for y in ((-x[1], x[0]), (x[1], -x[0]))
]
"""How x and y of the raft may run on a page: four quarters, each as it is and mirrored."""

Turn = tuple[int, int, int, int]


@dataclass(frozen=True)
class Cross:
    """A registration cross: where it stands on the page and where it says it is on the raft."""

    at: Place
    said: Place


@dataclass(frozen=True)
class FoundHole:
    """A hole with a centre mark, in millimetres from the datum corner."""

    name: str
    at: Place
    diameter: float


def crosses_on(seen: Seen) -> dict[str, Cross]:
    """Return the four crosses of a page; letters run from the left, numbers from below."""
    rings = [(x, y) for x, y, radius in seen.circles if abs(radius - RING_MM) < 1e-3]
    words = " ".join(text for text, _, _ in seen.words)
    told = {
        ((len(letters), letters), int(number)): (float(x), float(y))
        for letters, number, x, y in _CROSS.findall(words)
    }
    assert len(rings) == len(told) == 4
    columns = sorted({column for column, _ in told})
    rows = sorted({row for _, row in told})
    lefts = (min(x for x, _ in rings), max(x for x, _ in rings))
    lows = (min(y for _, y in rings), max(y for _, y in rings))
    return {
        f"{column[1]}{row}": Cross((lefts[columns.index(column)], lows[rows.index(row)]), said)
        for (column, row), said in told.items()
    }


def put_together(pages: list[Seen]) -> list[FoundHole]:
    """Lay the pages of one raft cross on cross and return the holes whose centres are marked.

    A hole is returned as often as it is marked; its name may stand on another page only.
    """
    crosses = [crosses_on(seen) for seen in pages]
    shifts = _placed(pages, crosses)
    turn = _turn(crosses)
    rims: list[tuple[FoundHole, bool]] = []
    for number, (dx, dy) in shifts.items():
        for name, cross in crosses[number].items():
            at = turned((cross.at[0] + dx, cross.at[1] + dy), turn)
            assert hypot(*_minus(at, cross.said)) < 0.08, name
        for name, (x, y), diameter, is_marked in _rims_on(pages[number]):
            rims.append((FoundHole(name, turned((x + dx, y + dy), turn), diameter), is_marked))
    holes = [hole for hole, _ in rims]
    return [replace(hole, name=_name_of(hole, holes)) for hole, is_marked in rims if is_marked]


def _name_of(hole: FoundHole, holes: list[FoundHole]) -> str:
    (name,) = {
        other.name
        for other in holes
        if other.name and hypot(other.at[0] - hole.at[0], other.at[1] - hole.at[1]) < 0.1
    }
    return name


def marks_on(seen: Seen) -> list[Place]:
    """Return the centres of a page to which four strokes point from outside a gap."""
    return [at for _, at, _, is_marked in _rims_on(seen) if is_marked]


def _rims_on(seen: Seen) -> Iterator[tuple[str, Place, float, bool]]:
    """Name, centre, diameter of every circle that is named or marked, and whether it is marked."""
    names = [word for word in seen.words if _NAME.fullmatch(word[0])]
    strokes = [stroke for stroke in seen.strokes if dist(stroke[:2], stroke[2:]) < 4.5]
    outermost: list[tuple[float, float, float]] = []
    for circle in sorted(seen.circles, key=itemgetter(2), reverse=True):
        if all(dist(circle[:2], other[:2]) > 0.02 for other in outermost):
            outermost.append(circle)
    for x, y, radius in outermost:
        aims = [
            (hypot(ax - x, ay - y), hypot(bx - x, by - y))
            for ax, ay, bx, by in strokes
            if abs(ax - x) < 4.5 and abs(ay - y) < 4.5 and hypot(bx - x, by - y) < 4.5
        ]
        is_marked = len(aims) == 4 and all(0 < near < far for near, far in aims)
        name = [text for text, nx, ny in names if abs(nx - x) < radius and 0 < ny - y < radius + 3]
        if is_marked or len(name) == 1:
            yield "".join(name), (x, y), 2 * radius, is_marked


def is_mirrored(pages: list[Seen]) -> bool:
    """Tell whether the figures of the crosses run as on the lower face of the raft."""
    a, b, c, d = _turn([crosses_on(pages[0])])
    return a * d - b * c < 0


def turned(place: Place, turn: Turn) -> Place:
    """Say in raft coordinates what lies at a place of the joined pages."""
    return turn[0] * place[0] + turn[1] * place[1], turn[2] * place[0] + turn[3] * place[1]


def _placed(pages: list[Seen], crosses: list[dict[str, Cross]]) -> dict[int, Place]:
    """Return by how much each page is moved, so that the datum corner is the origin."""
    start, corner = _datum_of(pages)
    shifts = {start: (-corner[0], -corner[1])}
    known: dict[str, Place] = {}
    waiting = [start]
    while waiting:
        number = waiting.pop()
        dx, dy = shifts[number]
        known |= {name: (c.at[0] + dx, c.at[1] + dy) for name, c in crosses[number].items()}
        for other, its in enumerate(crosses):
            shared = its.keys() & known.keys()
            if other in shifts or not shared:
                continue
            ways = [
                (known[name][0] - its[name].at[0], known[name][1] - its[name].at[1])
                for name in sorted(shared)
            ]
            assert all(hypot(x - ways[0][0], y - ways[0][1]) < 1e-3 for x, y in ways)
            shifts[other] = ways[0]
            waiting.append(other)
    assert len(shifts) == len(pages)
    return shifts


def _datum_of(pages: list[Seen]) -> tuple[int, Place]:
    """Return on which page the datum corner is, and where."""
    (found,) = [
        (number, middle)
        for number, seen in enumerate(pages)
        for _, middle, _, pen in seen.bends
        if abs(pen - _DATUM_PEN_MM) < 1e-3 and _is_within(middle, crosses_on(seen))
    ]
    return found


def _is_within(place: Place, crosses: dict[str, Cross]) -> bool:
    """Whether a place lies between the crosses of a page, give or take the overlap."""
    xs, ys = zip(*(cross.at for cross in crosses.values()), strict=True)
    return min(xs) - 5 <= place[0] < max(xs) + 5 and min(ys) - 5 <= place[1] < max(ys) + 5


def _turn(crosses: list[dict[str, Cross]]) -> Turn:
    """Which way x and y of the raft run: the one way that agrees with the figures of a page."""
    first, *others = crosses[0].values()
    ways = [(_minus(c.at, first.at), _minus(c.said, first.said)) for c in others]
    return min(
        _TURNS,
        key=lambda turn: sum(hypot(*_minus(turned(at, turn), said)) for at, said in ways),
    )


def _minus(first: Place, second: Place) -> Place:
    return first[0] - second[0], first[1] - second[1]
