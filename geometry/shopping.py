"""What a plan takes: foam, pots, hole plugs, seal strip, paint, saws and what a sowing takes.

Every need is counted from the plan, so the sums are the plan's own: pots and hole plugs together
are its plants, sheets are those of its cut plan, seeds and starter plugs those of one sowing of
each run.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor
from typing import Final, Literal

from geometry.model.curves import Line, Loop
from geometry.model.measure import area, bounds, length, perimeter
from geometry.model.sheet import Sheet
from geometry.model.supplies import Packed, Supplies
from geometry.plan import BedPlan, Plan
from geometry.rafts.layout import RaftPlace, Side
from geometry.units import TOLERANCE_MM, Length

Kind = Literal["sheet", "pot", "plug", "strip", "paint", "saw", "seed", "starter"]
Measure = Literal["pieces", "mm", "litres"]

SAME_SAW_MM: Final = Fraction(1, 2)
"""A saw that is so near to a hole serves it: labels in whole millimetres stand for inch sizes,
44 for 1 3/4 in, 51 for 2 in (common practice, no source)."""

USUAL_THICKNESS: Final = Length(Fraction(50))
"""What foam of unknown thickness counts as where its edges are painted (common practice)."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on the list.

    ``needed`` is what the plan takes, ``wanted`` the same with spares, both in ``measure``.
    ``name`` is that of a sheet or a run; ``size_mm`` the diameter of the hole that a pot, plug or
    saw is for. ``pack`` is how much is sold at once, None where that is not known, and
    ``pack_typed`` how the grower wrote that. ``is_there`` says that nothing of it is bought: it is
    on hand.
    ``name`` is that of a sheet, or of a pot that has one; ``size_mm`` the diameter of the hole
    that a pot, plug or saw is for.
    ``pack`` is how much is sold at once, None where that is not known, and ``pack_typed`` how the
    grower wrote that. ``is_there`` says that nothing of it is bought: it is on hand.
    """

    kind: Kind
    needed: Fraction
    wanted: Fraction
    measure: Measure = "pieces"
    name: str = ""
    size_mm: Fraction | None = None
    pack: Fraction | None = None
    pack_typed: str = ""
    price: Fraction | None = None
    is_there: bool = False

    @property
    def packs(self) -> int | None:
        """How many packs to buy; None where pieces are bought one by one or by measure."""
        if self.pack is None:
            return None
        return 0 if self.is_there else _whole(self.wanted / self.pack)

    @property
    def bought(self) -> Fraction:
        """How much is bought: whole packs, whole pieces, or just what is wanted."""
        if self.is_there:
            return Fraction(0)
        if self.pack is not None:
            return (self.packs or 0) * self.pack
        return Fraction(_whole(self.wanted)) if self.measure == "pieces" else self.wanted

    @property
    def cost(self) -> Fraction | None:
        """What it costs; None where the price, or what it is the price of, is not known."""
        if self.is_there:
            return Fraction(0)
        if self.price is None or (self.pack is None and self.measure != "pieces"):
            return None
        return self.price * (self.bought if self.packs is None else self.packs)


@dataclass(frozen=True, slots=True)
class OwnSaw:
    """A saw of the grower's that serves holes of the plan, and how many."""

    saw: Length
    hole_mm: Fraction
    holes: int


@dataclass(frozen=True, slots=True)
class Shopping:
    """All that a plan takes.

    ``wall_mm`` and ``joint_mm`` are what seal strip runs along, once around each bed that has a gap
    to the wall (around those with an edge seal, once some have one) and once along each joint.
    ``painted_mm2`` is the area of one coat, ``litres_a_coat`` what that takes. ``thickness_known``
    says whether every raft's foam has a thickness. ``without_foam`` counts rafts that no sheet on
    hand holds, ``raft_area_mm2`` is the area of all rafts.
    """

    items: tuple[Item, ...]
    own_saws: tuple[OwnSaw, ...]
    plants: int
    wall_mm: Fraction
    joint_mm: Fraction
    painted_mm2: float
    litres_a_coat: Fraction
    coats: int
    thickness_known: bool
    raft_area_mm2: float
    without_foam: int

    def of(self, *kinds: Kind) -> tuple[Item, ...]:
        """Return the items of some kinds, in the order of the list."""
        return tuple(item for item in self.items if item.kind in kinds)

    @property
    def cost(self) -> Fraction:
        """What all that has a price costs together."""
        return sum((item.cost or Fraction(0) for item in self.items), Fraction(0))

    @property
    def without_price(self) -> int:
        """How many things to buy have no price, or no pack that their price is for.

        Nobody is asked for the price of what is sown.
        """
        return sum(item.cost is None for item in self.items if item.kind not in {"seed", "starter"})


def shopping_list(plan: Plan) -> Shopping:
    """Work out what a plan takes; with its best cut plan, as few sheets as can be."""
    supplies = plan.project.supplies
    drilled, plugged, potted = _holes(plan)
    painted, known = _painted(plan)
    litres = Fraction(painted) / 10**6 / supplies.paint.coverage.m2_per_litre
    coats = supplies.paint.coats
    own = tuple(_own_saws(drilled, supplies))
    walls, joints = _wall_mm(plan), _joints_mm(plan)
    return Shopping(
        (
            *_sheets(plan),
            *_fillings("pot", potted, supplies),
            *_fillings("plug", {("", size): count for size, count in plugged.items()}, supplies),
            *_strip(walls + joints, supplies),
            *_paint(litres * coats, supplies),
            *_saws(drilled, own),
            *_sown(plan),
        ),
        own,
        plan.plants,
        walls,
        joints,
        painted,
        litres,
        coats,
        known,
        sum(bed.raft_area_mm2 for bed in plan.beds),
        sum(count for _, count in plan.cut.unplaced),
    )


def _whole(amount: Fraction) -> int:
    """Round up, but not for the error that lengths of curves carry."""
    return ceil(amount - Fraction(TOLERANCE_MM))


Filling = tuple[str, Fraction]
"""The name of a pot, if it has one, and the diameter of its hole in mm."""


def _holes(plan: Plan) -> tuple[Counter[Fraction], Counter[Fraction], Counter[Filling]]:
    """Count the holes of each diameter, those that are plugged, and the pots in the rest."""
    drilled: Counter[Fraction] = Counter()
    plugged: Counter[Fraction] = Counter()
    potted: Counter[Filling] = Counter()
    for bed in plan.beds:
        plantings = bed.plantings
        for design, times in zip(bed.designs, bed.uses, strict=True) if plantings else ():
            if not len(design.holes):
                continue
            counts = design.holes.count_by_planting(len(plantings)).tolist()
            idle = design.holes.count_by_planting(len(plantings), plugged=True).tolist()
            for planting, count, empty in zip(plantings, counts, idle, strict=True):
                drilled[planting.hole_diameter.exact] += times * count
                plugged[planting.hole_diameter.exact] += times * empty
                potted[planting.pot, planting.hole_diameter.exact] += times * (count - empty)
    return +drilled, plugged, potted


def _sheets(plan: Plan) -> Iterator[Item]:
    counts: Counter[Sheet] = Counter()
    for cut in plan.cut.sheets:
        counts[cut.sheet] += cut.copies
    for sheet, count in counts.items():
        needed = Fraction(count)
        yield Item(
            "sheet", needed, needed, name=sheet.name, price=None if sheet.offcut else sheet.price,
            is_there=sheet.on_hand is not None,
        )  # fmt: skip


def _fillings(
    kind: Literal["pot", "plug"], counts: Mapping[Filling, int], supplies: Supplies
) -> Iterator[Item]:
    packed: Packed = supplies.pots if kind == "pot" else supplies.plugs
    for (name, size), count in sorted(counts.items(), key=lambda each: (each[0][1], each[0][0])):
        if count:
            wanted = Fraction(ceil(_spared(Fraction(count), supplies)))
            pack = None if packed.pack is None else Fraction(packed.pack)
            yield Item(
                kind, Fraction(count), wanted, name=name, size_mm=size, pack=pack,
                price=packed.price,
            )  # fmt: skip


def _spared(needed: Fraction, supplies: Supplies) -> Fraction:
    return needed * (100 + supplies.spares) / 100


def _strip(needed: Fraction, supplies: Supplies) -> Iterator[Item]:
    if needed:
        strip, wanted = supplies.strip, _spared(needed, supplies)
        item = Item("strip", needed, wanted, "mm", price=strip.price)
        if strip.roll is not None:
            item = replace(item, pack=strip.roll.exact, pack_typed=strip.roll.typed)
        yield item


def _wall_mm(plan: Plan) -> Fraction:
    """The walls that strip runs along: of all beds until the grower has said which get one."""
    chosen = any(bed.bed.edge_seal for bed in plan.beds)
    return sum(
        (
            Fraction(perimeter(bed.layout.outline))
            for bed in plan.beds
            if _has_wall_gap(bed) and (bed.bed.edge_seal or not chosen)
        ),
        Fraction(0),
    )


def _joints_mm(plan: Plan) -> Fraction:
    return sum(
        (Fraction(joint_mm(bed)) for bed in plan.beds if bed.bed.joint_gap.exact), Fraction(0)
    )


def _has_wall_gap(bed: BedPlan) -> bool:
    return bool(bed.bed.clearance.exact and bed.rafts)


def joint_mm(bed: BedPlan) -> float:
    """Return how long all joints of a bed are together, along the edges of the rafts."""
    found: dict[tuple[int, frozenset[Side], bool], float] = {}
    total = 0.0
    for raft in bed.layout.rafts:
        key = (id(raft.shape), raft.joints, raft.turned)
        if key not in found:
            found[key] = _facing_mm(raft)
        total += found[key]
    return total / 2


def _facing_mm(raft: RaftPlace) -> float:
    """Return how much of a raft's outline faces another raft across a joint."""
    loop = raft.loop_in_bed
    left, bottom, right, top = bounds(loop)
    lines = {"left": (0, left), "right": (0, right), "bottom": (1, bottom), "top": (1, top)}
    return sum(_on_line(loop, *lines[side]) for side in raft.joints)


def _on_line(loop: Loop, axis: int, at: float) -> float:
    return sum(
        length(curve)
        for curve in loop.curves
        if isinstance(curve, Line)
        and abs(curve.start[axis] - at) <= TOLERANCE_MM
        and abs(curve.end[axis] - at) <= TOLERANCE_MM
    )


def _painted(plan: Plan) -> tuple[float, bool]:
    """Return the area of both faces and the edges of all rafts, and whether its foam is known.

    Holes are not taken off: paint goes on before or after drilling, and a little more is safe.
    """
    thickness: defaultdict[str, Counter[Length | None]] = defaultdict(Counter)
    for cut in plan.cut.sheets:
        for piece in cut.pieces:
            thickness[piece.design][cut.sheet.thickness] += cut.copies
    known = [sheet.thickness for sheet in plan.project.sheets if sheet.thickness is not None]
    usual = max(known, key=lambda each: each.exact, default=USUAL_THICKNESS)
    total, all_known = 0.0, True
    for bed in plan.beds:
        for design, uses in zip(bed.designs, bed.uses, strict=True):
            loop = design.shape.loop
            around = perimeter(loop)
            cut_from = thickness[design.name]
            cut_from[None] += uses - cut_from.total()
            edges = sum((each or usual).mm * count for each, count in cut_from.items())
            all_known &= not cut_from[None]
            total += 2 * area(loop) * uses + around * edges
    return total, all_known


def _paint(litres: Fraction, supplies: Supplies) -> Iterator[Item]:
    if litres:
        tin = supplies.paint.tin
        item = Item("paint", litres, litres, "litres", price=supplies.paint.price)
        yield item if tin is None else replace(item, pack=tin.litres, pack_typed=tin.typed)


def _own_saws(drilled: Counter[Fraction], supplies: Supplies) -> Iterator[OwnSaw]:
    for size, holes in sorted(drilled.items()):
        near = min(supplies.saws, key=lambda saw: abs(saw.exact - size), default=None)
        if near is not None and abs(near.exact - size) <= SAME_SAW_MM:
            yield OwnSaw(near, size, holes)


def _saws(drilled: Counter[Fraction], own: tuple[OwnSaw, ...]) -> Iterator[Item]:
    there = {saw.hole_mm for saw in own}
    for size in sorted(set(drilled) - there):
        yield Item("saw", Fraction(1), Fraction(1), size_mm=size)


def _sown(plan: Plan) -> Iterator[Item]:
    """Yield seeds and starter plugs of one sowing of each run; they hold losses already."""
    for made in plan.run_fit.plans:
        packs: tuple[tuple[Literal["seed", "starter"], int, int | None], ...] = (
            ("seed", made.seeds, made.run.seed_pack),
            ("starter", made.plugs, made.run.plug_pack),
        )
        for kind, count, size in packs if not made.lack else ():
            pack = None if size is None else Fraction(size)
            yield Item(kind, Fraction(count), Fraction(count), name=made.run.name, pack=pack)


def rounded_up(amount: Fraction, step: Fraction) -> Fraction:
    """Return the least whole number of steps that is no less than the amount, errors aside."""
    return step * floor((amount - Fraction(TOLERANCE_MM)) / step + 1) if amount else amount
