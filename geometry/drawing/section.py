"""A bed cut through from wall to wall, at true scale: water, floating rafts, pots, floor.

Millimetres; 0 is the working level, up is up. Along the drawing runs the bed's length or width, in
bed coordinates.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final, Literal

import numpy as np

from geometry.afloat.corners import corners_of, stretches
from geometry.afloat.pots import Pot
from geometry.afloat.riding import Afloat
from geometry.checks.in_water import BedInWater
from geometry.crops.table import plain_name
from geometry.drawing.figures import length_text
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Drawing, Group, Mark, Path, polyline, stroke
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Arc, Line, Point
from geometry.model.edges import Floats
from geometry.model.measure import bounds
from geometry.plan import BedPlan, PlacedRaft, Plan
from geometry.tongue import tr
from geometry.units import Unit

Axis = Literal["along", "across"]
Level = Literal["working", "low", "high"]
State = Literal["planting", "harvest", "waterlogged", "half picked"]

WALL_MM: Final = 18.0
"""How thick walls and floor are drawn."""

_RIM: Final = 40.0
_UNKNOWN_DEPTH: Final = 120.0
_ROOTS: Final = 70.0
_LEAVES_YOUNG: Final = 45.0
_TOUCHED: Final = 0.35
"""A pot is drawn where the cut runs within this share of its hole's diameter of the middle."""


@dataclass(frozen=True, slots=True)
class PotCut:
    """A pot that is cut: the place of its middle, its measures, and how it stands in the foam."""

    at: float
    pot: Pot
    proud: float


@dataclass(frozen=True, slots=True)
class Site:
    """A hole that is cut: its two edges in the foam, and what stands in it.

    ``leaves`` is how wide the plant above it is drawn, 0 where it was picked or none stands there.
    """

    left: float
    right: float
    pot: PotCut | None
    leaves: float

    @property
    def middle(self) -> float:
        """Halfway between its edges."""
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class RaftCut:
    """A raft that is cut, from ``left`` to ``right``; ``bottom`` and ``top`` are at its middle.

    ``slope`` is how it rises to the right, mm in a mm. ``afloat`` is how it rides; ``is_held`` says
    that the floor holds it up.
    """

    name: str
    left: float
    right: float
    bottom: float
    top: float
    slope: float
    sites: tuple[Site, ...]
    afloat: Afloat
    is_held: bool

    def rise(self, x: float) -> float:
        """How much higher than its middle the raft is at a place."""
        return (x - (self.left + self.right) / 2) * self.slope


@dataclass(frozen=True, slots=True)
class Section:
    """A bed cut through.

    ``at`` is where, in bed coordinates: the width for a cut along, the length for one across.
    ``water`` is the level, ``levels`` are those that were noted. ``floor`` is None where the depth
    is not known. ``lean`` is how far the walls come in on the way from level 0 down, mm in a mm.
    """

    axis: Axis
    at: float
    stretches: tuple[tuple[float, float], ...]
    water: float
    levels: tuple[tuple[Level, float], ...]
    floor: float | None
    lean: float
    rafts: tuple[RaftCut, ...]

    @property
    def bottom(self) -> float:
        """The floor, or where the drawing ends where it is not known."""
        deepest = min((cut.bottom for cut in self.rafts), default=0.0)
        feet = [
            cut.top + site.pot.proud - site.pot.pot.depth
            for cut in self.rafts
            for site in cut.sites
            if site.pot is not None
        ]
        known = self.floor if self.floor is not None else -_UNKNOWN_DEPTH
        return min(known, *(y - _RIM for y in (deepest, *feet))) if self.floor is None else known

    @property
    def top(self) -> float:
        """As high as walls and plants go."""
        plants = [
            cut.top + site.leaves / 2 for cut in self.rafts for site in cut.sites if site.leaves
        ]
        tops = [cut.top for cut in self.rafts]
        return max(_RIM + max(y for _, y in self.levels), *(y + 12.0 for y in (*tops, *plants, 0)))

    @property
    def box(self) -> Box:
        """What the drawing covers, walls included."""
        left = min((low for low, _ in self.stretches), default=0.0)
        right = max((high for _, high in self.stretches), default=1.0)
        out = max(0.0, self.top * self.lean) + WALL_MM
        return Box(left - out, self.bottom - WALL_MM, right + out, self.top)


def cut_through(plan: Plan, bed: BedPlan, axis: Axis, level: Level, state: State) -> Section | None:
    """Cut a bed through the row of holes that is nearest to its middle; None of an empty bed."""
    looked = plan.water_of(bed.bed.name)
    if looked is None or not bed.layout.outline.curves:
        return None
    across = 1 if axis == "along" else 0
    at = _cut_at(bed, across)
    water = bed.bed.water
    levels: list[tuple[Level, float]] = [("working", 0.0)]
    if water.high.mm:
        levels.insert(0, ("high", water.high.mm))
    if water.low.mm:
        levels.append(("low", -water.low.mm))
    y = dict(levels).get(level, 0.0)
    floor = None if water.depth is None else -water.depth.mm
    lean = 0.0
    walls = water.walls
    if walls is not None and walls.depth.mm > 0:
        box = bounds(bed.layout.outline)
        size = box[2] - box[0] if axis == "along" else box[3] - box[1]
        lean = (size - (walls.length if axis == "along" else walls.width).mm) / 2 / walls.depth.mm
    found = tuple(
        cut
        for place, raft in zip(bed.layout.rafts, bed.rafts, strict=True)
        if (afloat := _afloat(looked, raft)) is not None
        for cut in _cut_raft(
            bed, looked, raft, stretches(corners_of(place.loop_in_bed), across, at), afloat,
            across=across, at=at, water=y, floor=floor, state=state,
        )
    )  # fmt: skip
    walls_at = stretches(corners_of(bed.layout.outline), across, at)
    return Section(axis, at, walls_at, y, tuple(levels), floor, lean, found)


def _afloat(looked: BedInWater, raft: PlacedRaft) -> Afloat | None:
    known = looked.rafts.get(raft.design.name)
    return known.afloat if known is not None else None


def _in_bed(raft: PlacedRaft) -> Floats:
    xy = raft.design.holes.xy
    shape = raft.design.shape
    turned = (float(shape.length), float(shape.width)) - xy if raft.turned else xy
    moved: Floats = turned + np.array((raft.x, raft.y))
    return moved


def _cut_at(bed: BedPlan, across: int) -> float:
    """Where to cut: through the centres nearest to the middle, else a quarter of a raft off it."""
    left, bottom, right, top = bounds(bed.layout.outline)
    middle = ((left + right) / 2, (bottom + top) / 2)[across]
    nearest: list[float] = []
    for raft in bed.rafts:
        if len(raft.design.holes):
            places = _in_bed(raft)[:, across]
            nearest.append(float(places[np.argmin(np.abs(places - middle))]))
    if nearest:
        return min(nearest, key=lambda place: (round(abs(place - middle), 6), place))
    tops = [
        (raft.y, raft.y + float(raft.design.shape.width))
        if across
        else (raft.x, raft.x + float(raft.design.shape.length))
        for raft in bed.rafts
    ]
    within = any(low < middle < high for low, high in tops)
    return middle if within or not tops else (tops[0][0] + tops[0][1]) / 2


def _cut_raft(
    bed: BedPlan,
    looked: BedInWater,
    raft: PlacedRaft,
    parts: Sequence[tuple[float, float]],
    afloat: Afloat,
    *,
    across: int,
    at: float,
    water: float,
    floor: float | None,
    state: State,
) -> Iterator[RaftCut]:
    half = state == "half picked"
    riding = {"planting": afloat.planting, "waterlogged": afloat.waterlogged}.get(
        state, afloat.harvest
    )
    draft, slope = riding.floating.draft, 0.0
    thickness = afloat.foam.thickness
    for left, right in parts:
        if half:
            tilt = afloat.along if across else afloat.across
            # What is on the left was picked, so that the right end lies low.
            draft = thickness - (tilt.low + tilt.high) / 2
            slope = -abs(tilt.slope) / 1000 if tilt.steady else -0.5
        sites = tuple(_sites(bed, looked, raft, left, right, across=across, at=at, state=state))
        bottom = water - draft
        feet = [
            site.pot.pot.depth - site.pot.proud - thickness
            for site in sites
            if site.pot is not None
        ]
        lowest = bottom - max(0.0, *feet, 0.0)
        is_held = floor is not None and lowest < floor
        if floor is not None and is_held:
            bottom += floor - lowest
        yield RaftCut(
            raft.name, left, right, bottom, bottom + thickness, slope, sites, afloat, is_held
        )


def _sites(
    bed: BedPlan,
    looked: BedInWater,
    raft: PlacedRaft,
    left: float,
    right: float,
    *,
    across: int,
    at: float,
    state: State,
) -> Iterator[Site]:
    holes = raft.design.holes
    places = _in_bed(raft)
    wobble = looked.surroundings.allowances.wobble.mm
    seats, pots, plantings = looked.seats, looked.surroundings.pots, bed.plantings
    crops = {plain_name(crop.name): crop for crop in looked.surroundings.crops}
    middle = (left + right) / 2
    cut = np.flatnonzero(np.abs(places[:, across] - at) < (holes.diameters + wobble) / 2 - 1e-9)
    for number in sorted(cut.tolist(), key=lambda each: places[each, 1 - across]):
        x, off = float(places[number, 1 - across]), float(places[number, across] - at)
        radius = (float(holes.diameters[number]) + wobble) / 2
        if not left < x < right:
            continue
        reach = sqrt(radius**2 - off**2)
        kind = int(holes.numbers[number])
        planting, pot, seat = plantings[kind], pots[kind], seats[kind]
        plugged = holes.plugged is not None and bool(holes.plugged[number])
        picked = state == "half picked" and x < middle - 1e-6
        near = abs(off) <= 2 * radius * _TOUCHED
        stands = near and not plugged and not picked
        own = crops.get(plain_name(planting.crop))
        wide = own.mature_width.mm if own and own.mature_width else 0.9 * planting.spacing.mm
        wide = min(wide, planting.spacing.mm)
        young = _LEAVES_YOUNG if own is None or not own.planted_width else own.planted_width.mm
        leaves = min(young, wide) if state == "planting" else wide
        holds = seat is not None and seat.seat not in {"falls through", "does not go in"}
        held = (
            PotCut(x, Pot.of(pot), seat.proud)
            if pot is not None and seat is not None and holds and stands
            else None
        )
        yield Site(x - reach, x + reach, held, leaves if stands else 0.0)


def draw_section(
    section: Section, unit: Unit, letter: float, window: Box | None = None, *, sizes: bool = True
) -> Drawing:
    """Draw a section, or as much of it as is within a window.

    ``letter`` is the height of its letters, ``sizes`` asks for dimensions. Groups: "bed",
    "water", one for each raft by its name, "sizes" and, to the right of what is shown, "levels",
    which take ``level_room``.
    """
    view = window or section.box
    rafts = [cut for cut in section.rafts if cut.right > view.left and cut.left < view.right]
    groups = [Group("water", tuple(_water(section))), Group("bed", tuple(_walls(section)))]
    groups += [Group(cut.name, tuple(_raft(cut, section, view))) for cut in rafts]
    if sizes:
        groups.append(Group("sizes", tuple(_sizes(section, rafts, unit, letter, view))))
        groups.append(Group("levels", tuple(_level_names(section, unit, letter, view))))
    return Drawing(tuple(groups))


def _water(section: Section) -> Iterator[Mark]:
    for low, high in section.stretches:
        top, down = section.water, section.bottom
        ins, out = (-y * section.lean for y in (down, top))
        corners = [(low + out, top), (low + ins, down), (high - ins, down), (high - out, top)]
        yield polyline([Point(*corner) for corner in corners], Style.WATER, closed=True)
        for name, y in section.levels:
            if y != section.water and name:
                lean = -y * section.lean
                yield stroke(Point(low + lean, y), Point(high - lean, y), Style.HINT)


def _walls(section: Section) -> Iterator[Mark]:
    top, down = section.top - 8, section.bottom
    lean = section.lean
    for low, high in section.stretches:
        for x, way in ((low, 1.0), (high, -1.0)):
            inner = [(x + way * -y * lean, y) for y in (top, down)]
            outer = [(at - way * WALL_MM, y) for at, y in reversed(inner)]
            corners = [Point(*corner) for corner in (*inner, *outer)]
            yield polyline(corners, Style.SHADE, closed=True)
            yield stroke(Point(*inner[0]), Point(*inner[1]), Style.FRAME)
        left, right = (low - down * lean - WALL_MM, high + down * lean + WALL_MM)
        ground = [
            Point(left, down), Point(right, down), Point(right, down - WALL_MM),
            Point(left, down - WALL_MM),
        ]  # fmt: skip
        if section.floor is not None:
            yield polyline(ground, Style.SHADE, closed=True)
            yield stroke(Point(left + WALL_MM, down), Point(right - WALL_MM, down), Style.FRAME)
        else:
            yield stroke(Point(left + WALL_MM, down), Point(right - WALL_MM, down), Style.HINT)


def _raft(cut: RaftCut, section: Section, view: Box) -> Iterator[Mark]:
    """Draw the foam between the holes that are cut, and what stands in these."""
    edges = [cut.left, *(edge for site in cut.sites for edge in (site.left, site.right)), cut.right]
    for left, right in zip(edges[::2], edges[1::2], strict=True):
        if right <= left or right < view.left or left > view.right:
            continue
        corners = [
            Point(x, y + cut.rise(x))
            for x, y in (
                (left, cut.bottom), (right, cut.bottom), (right, cut.top), (left, cut.top)
            )
        ]  # fmt: skip
        yield polyline(corners, Style.WHITE, closed=True)
        yield polyline(corners, Style.RAFT, closed=True)
    for site in cut.sites:
        if view.left - site.leaves <= site.middle <= view.right + site.leaves:
            yield from _site(cut, site, section)


def _site(cut: RaftCut, site: Site, section: Section) -> Iterator[Mark]:
    x = site.middle
    top = cut.top + cut.rise(x)
    held = site.pot
    foot = cut.bottom + cut.rise(x)
    if held is not None:
        top += held.proud
        foot = top - held.pot.depth
    if site.leaves:
        deepest = section.bottom + 4
        for number in (-1, 0, 1):
            start = Point(x + 5 * number, foot)
            end = max(deepest, min(foot, section.water) - _ROOTS + 12 * abs(number))
            if end < foot:
                yield stroke(start, Point(x + 12 * number, end), Style.CANOPY)
        radius = site.leaves / 2
        dome = (Line(Point(x - radius, top), Point(x + radius, top)),
                Arc(Point(x, top), radius, 0.0, np.pi))  # fmt: skip
        yield Path(dome, Style.CANOPY, closed=True)
    if held is not None:
        pot = held.pot
        body = [(-pot.body / 2, 0), (-pot.foot / 2, -pot.depth), (pot.foot / 2, -pot.depth),
                (pot.body / 2, 0)]  # fmt: skip
        rim = pot.rim / 2
        lip = max(pot.rim_height, 1.0)
        if rim:
            body += [(rim, 0), (rim, lip), (-rim, lip), (-rim, 0)]
        corners = [Point(x + dx, top + dy) for dx, dy in body]
        yield polyline(corners, Style.WHITE, closed=True)
        yield polyline(corners, Style.POT, closed=True)


def _sizes(
    section: Section, rafts: Sequence[RaftCut], unit: Unit, letter: float, view: Box
) -> Iterator[Mark]:
    """Dimension the first raft in sight that has room for it, and name the levels."""
    cut = next((each for each in rafts if each.left >= view.left - 1e-6), None)
    cut = cut or next(iter(rafts), None)
    if cut is None:
        return
    left, right = max(cut.left, view.left), min(cut.right, view.right)
    x = left + min(1.2 * letter, (right - left) / 4)
    water = section.water
    low, top = cut.bottom + cut.rise(x), cut.top + cut.rise(x)
    said: list[tuple[float, float, str]] = []
    if low < water < top:
        said.append((low, water, tr("draft {length}", length=length_text(water - low, unit))))
        said.append((water, top, tr("freeboard {length}", length=length_text(top - water, unit))))
    elif water >= top:
        said.append((top, water, tr("{length} under water", length=length_text(water - top, unit))))
    yield from _tied(said, x, letter, section)
    taken = x + 1.6 * letter + max((text_width(words, letter) for *_, words in said), default=0)
    for site in cut.sites:
        held = site.pot
        if held is None or site.right <= taken:
            continue
        foot = cut.top + cut.rise(site.middle) + held.proud - held.pot.depth
        away = site.right + 0.6 * letter
        words = (
            tr("pot {length} in the water", length=length_text(water - foot, unit))
            if foot < water
            else tr("pot {length} above the water", length=length_text(foot - water, unit))
        )
        if away + 0.5 * letter + text_width(words, letter) > view.right:
            continue
        yield from _dimension(away, min(foot, water), max(foot, water), letter)
        base = min(foot, water, cut.bottom + cut.rise(away)) - 1.4 * letter
        yield line(away + 0.5 * letter, base, words, letter, style=Style.LABEL)
        return


def _tied(
    said: Sequence[tuple[float, float, str]], x: float, letter: float, section: Section
) -> Iterator[Mark]:
    """Write dimensions that are too thin for their words beneath each other, tied to them."""
    y = min(section.water, *(low for low, _, _ in said), 0.0) - 1.6 * letter if said else 0.0
    for number, (low, high, words) in enumerate(said):
        at = x + number * 0.5 * letter
        yield from _dimension(at, low, high, letter)
        middle = (low + high) / 2
        below = y - number * 1.35 * letter
        yield stroke(Point(at, middle), Point(at, below + 0.4 * letter), Style.DIMENSION)
        yield stroke(
            Point(at, below + 0.4 * letter),
            Point(x + 1.4 * letter, below + 0.4 * letter),
            Style.DIMENSION,
        )
        yield line(x + 1.6 * letter, below, words, letter, style=Style.LABEL)


def _dimension(x: float, low: float, high: float, letter: float) -> Iterator[Mark]:
    tick = 0.3 * letter
    yield stroke(Point(x, low), Point(x, high), Style.DIMENSION)
    for y in (low, high):
        yield stroke(Point(x - tick, y), Point(x + tick, y), Style.DIMENSION)


def level_room(section: Section, unit: Unit, letter: float) -> float:
    """Return how much room to the right the names of the levels take."""
    words = (words for _, words in _level_words(section, unit))
    return max(text_width(each, letter) for each in words) + 1.9 * letter


def _level_words(section: Section, unit: Unit) -> list[tuple[float, str]]:
    """Name what the heights are at which something stands, from above."""
    names: dict[Level, str] = {
        "working": tr("working level"),
        "low": tr("low water"),
        "high": tr("high water"),
    }
    found = []
    for name, y in section.levels:
        words = names[name]
        if y:
            sign = "+" if y > 0 else "\N{MINUS SIGN}"
            words = tr(
                "{level}, {length}", level=words, length=f"{sign}{length_text(abs(y), unit)}"
            )
        found.append((y, words))
    if section.floor is None:
        found.append((section.bottom, tr("depth not measured")))
    else:
        deep = length_text(-section.floor, unit)
        found.append((section.floor, tr("floor, {length} deep", length=deep)))
    return found


def _level_names(section: Section, unit: Unit, letter: float, view: Box) -> Iterator[Mark]:
    """Name the levels in sight, to the right of what is drawn."""
    taken = float("inf")
    for y, words in _level_words(section, unit):
        if not view.bottom <= y <= view.top:
            continue
        base = min(y - letter * CAP_HEIGHT / 2, taken - 1.25 * letter)
        taken = base
        at = view.right + 0.3 * letter
        elbow = Point(at + letter, base + letter * CAP_HEIGHT / 2)
        yield stroke(Point(view.right, y), Point(at, y), Style.DIMENSION)
        yield stroke(Point(at, y), elbow, Style.DIMENSION)
        yield line(elbow.x + 0.3 * letter, base, words, letter, style=Style.LABEL)
