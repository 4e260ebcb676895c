"""The plan: everything that follows from a project, made by one function."""

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from operator import attrgetter
from typing import Final

import numpy as np

from geometry.checks.as_built import as_built
from geometry.checks.bed_shape import check_bed_shape
from geometry.checks.check_all import check_bed, check_cutting
from geometry.checks.check_holes import CheckedHoles, check_holes
from geometry.checks.finding import Finding
from geometry.checks.in_water import BedInWater, Design, Surroundings, look_in_water
from geometry.checks.raft_fit import check_raft_fit
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rounding import check_rounding
from geometry.checks.rules import Hazard, Rules, hazards_of
from geometry.checks.run_fit import RunFit, check_runs, rooms_of
from geometry.cutting.best import best_cut_plan
from geometry.cutting.plain import plain_cut_plan
from geometry.cutting.plan import CutPlan
from geometry.errors import TooManyError
from geometry.flow.room import Room
from geometry.holes.bed_ceiling import bed_ceiling
from geometry.holes.claims import Claims, claims_of, raft_kinds
from geometry.holes.hand_edits import apply_hand_edits
from geometry.holes.place import BedPattern, Tried, limits_of
from geometry.holes.proof import Proof, prove
from geometry.holes.rounding import rounded
from geometry.holes.sites import Holes
from geometry.holes.zones import lay_holes
from geometry.model.as_built import lying
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.measure import area
from geometry.model.planting import Blank, Pin, Planting
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.zone import all_plantings
from geometry.rafts.layout import RaftLayout, RaftShape, Ways, neighbour_ways
from geometry.rafts.split import lay_rafts
from geometry.tongue import mark, number, tr
from geometry.watch import look_up, part

MAX_RAFTS: Final = 100_000
MAX_SITES: Final = 2_000_000
_LAYING: Final = 0.8
"""About so much of the work on a bed is laying rafts and holes, the rest is checking them."""


@dataclass(frozen=True, slots=True)
class RaftDesign:
    """One shape with its holes, used for one raft or many. The name is unique in the project."""

    name: str
    shape: RaftShape
    holes: Holes


@dataclass(frozen=True, slots=True)
class CropCount:
    """The holes of one crop in a bed: all that are drilled, and those plugged for now."""

    crop: str
    plants: int
    plugged: int


@dataclass(frozen=True, slots=True)
class PlacedRaft:
    """A raft in its bed. A turned raft lies half round: its design's far corner is at x, y.

    ``x``, ``y`` is the lower left corner of the raft's box in bed coordinates.
    """

    name: str
    design: RaftDesign
    x: float
    y: float
    turned: bool = False


@dataclass(frozen=True, slots=True)
class _Edits:
    """The hand edits of one raft."""

    pins: tuple[Pin, ...] = ()
    blanks: tuple[Blank, ...] = ()


_NO_EDITS: Final = _Edits()
_NO_HOLES: Final = Holes(np.empty((0, 2)), np.empty(0), (), np.empty(0, dtype=np.bool_))


@dataclass(frozen=True, slots=True, eq=False)
class _Drilled:
    """The holes of one raft, the edits they come from, and the blanks that no longer apply.

    ``mark`` is the hash of the holes, which are long: it is reckoned once.
    """

    edits: _Edits
    holes: Holes
    idle: tuple[Blank, ...]
    mark: int


_Kind = tuple[int, int]
"""Identities of a shape and of what is drilled; good while both are held."""

_BARE: Final = _Drilled(_NO_EDITS, _NO_HOLES, (), hash(_NO_HOLES))


@dataclass(slots=True, eq=False)
class _Twin:
    """What beds share that differ in nothing but name, crop and hand edits, found when asked."""

    layout: RaftLayout
    pattern: BedPattern
    _ceiling: tuple[int | None] | None = None
    _fit: tuple[Finding, ...] | None = None

    def ceiling_of(self, bed: Bed) -> int | None:
        if self._ceiling is None:
            self._ceiling = (bed_ceiling(bed, self.layout),)
        return self._ceiling[0]

    def fit_of(self, bed: Bed) -> tuple[Finding, ...]:
        if self._fit is None:
            self._fit = tuple(check_raft_fit(bed, self.layout))
        return tuple(replace(finding, bed=bed.name) for finding in self._fit)


@dataclass(frozen=True, slots=True, eq=False)
class _Steps:
    """What the making of a bed's plan went through, kept so that the next one can reuse it.

    ``edits`` are those of the rafts that have some; ``drilled`` has one value a raft, none without
    planting. ``fit`` is what keeps the rafts from floating free; ``claims`` say what each is
    planted with; ``in_pattern`` counts the sites before the hand edits. ``kinds`` are the designs
    of what rafts there are, ``uses`` says how often each design of the bed is used.
    """

    slug: str
    pattern: BedPattern
    drilled: tuple[_Drilled, ...]
    hazards: tuple[Hazard, ...]
    checked: CheckedHoles | None
    fit: tuple[Finding, ...]
    claims: tuple[Claims, ...] = ()
    edits: Mapping[str, _Edits] = field(default_factory=dict)
    in_pattern: int = 0
    ways: Ways = ()
    kinds: Mapping[_Kind, RaftDesign] = field(default_factory=dict)
    uses: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class BedPlan:
    """All that follows for one bed.

    ``plants`` equals the holes of all placed rafts. ``ceiling`` is a proved upper bound on the
    plants, None without planting. ``tried`` holds the winner first. ``area_mm2`` is the water
    within the outline. ``least_web_mm`` is the least foam found, None without holes. ``proof``
    says what is proved of ``plants``.
    """

    bed: Bed
    layout: RaftLayout
    designs: tuple[RaftDesign, ...]
    rafts: tuple[PlacedRaft, ...]
    tried: tuple[Tried, ...]
    ceiling: int | None
    area_mm2: float
    raft_area_mm2: float
    plants: int
    least_web_mm: float | None
    findings: tuple[Finding, ...]
    by_planting: tuple[Tried | None, ...] = ()
    proof: Proof | None = None
    steps: _Steps | None = field(default=None, compare=False, repr=False)

    @property
    def uses(self) -> tuple[int, ...]:
        """How many rafts each design is used for, in the order of the designs."""
        if self.steps is not None:
            return self.steps.uses
        found = Counter(id(raft.design) for raft in self.rafts)
        return tuple(found[id(design)] for design in self.designs)

    @property
    def rooms(self) -> tuple[Room, ...]:
        """What the bed offers each crop that it is planted with."""
        return rooms_of(
            self.bed.name, self.plantings, ((raft.name, raft.design.holes) for raft in self.rafts)
        )

    @property
    def plantings(self) -> tuple[Planting, ...]:
        """The bed's own planting and then that of each zone, as the holes number them."""
        planting = self.bed.planting
        return all_plantings(planting, self.bed.zones) if planting is not None else ()

    @property
    def crops(self) -> tuple[CropCount, ...]:
        """The holes of each crop, in the order of the plantings; they add up to ``plants``."""
        plantings = self.plantings
        if len(plantings) == 1 and plantings[0].in_use == "all":
            return (CropCount(plantings[0].crop, self.plants, 0),)
        uses = Counter(id(raft.design) for raft in self.rafts)
        holes = np.zeros(len(self.plantings), dtype=np.int64)
        plugged = holes.copy()
        for design in {id(raft.design): raft.design for raft in self.rafts}.values():
            if len(design.holes):
                times = uses[id(design)]
                holes += times * design.holes.count_by_planting(len(holes))
                plugged += times * design.holes.count_by_planting(len(holes), plugged=True)
        found: dict[str, CropCount] = {}
        for planting, count, idle in zip(
            self.plantings, holes.tolist(), plugged.tolist(), strict=True
        ):
            known = found.get(planting.crop, CropCount(planting.crop, 0, 0))
            found[planting.crop] = CropCount(
                planting.crop, known.plants + count, known.plugged + idle
            )
        return tuple(found.values())

    @property
    def plugged(self) -> int:
        """The holes of all placed rafts that are drilled but hold no plant for now."""
        if all(planting.in_use == "all" for planting in self.plantings):
            return 0
        return sum(crop.plugged for crop in self.crops)

    @property
    def density_per_m2(self) -> float:
        """Plants per square metre of water."""
        return self.plants / (self.area_mm2 / 1e6) if self.area_mm2 else 0.0

    @property
    def open_water_share(self) -> float:
        """Share of the water that no raft covers, holes not counted."""
        return 1 - self.raft_area_mm2 / self.area_mm2 if self.area_mm2 else 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """All that follows from one project; ``findings`` are those of the beds and of the cutting.

    ``waters`` has for each bed how its rafts do in the water, ``run_fit`` whether those of the runs
    find places.
    """

    project: Project
    beds: tuple[BedPlan, ...]
    cut: CutPlan
    findings: tuple[Finding, ...]
    waters: tuple[BedInWater, ...] = field(default=(), compare=False, repr=False)
    run_fit: RunFit = field(default_factory=RunFit, compare=False, repr=False)

    @property
    def plants(self) -> int:
        """Plants of all beds: the one count that screen, paper and files show."""
        return sum(bed.plants for bed in self.beds)

    @property
    def needed(self) -> tuple[tuple[str, Fraction, Fraction, int], ...]:
        """The rafts to cut: design, length and width of its box in mm, and how many."""
        return tuple(
            (design.name, design.shape.length, design.shape.width, count)
            for bed in self.beds
            for design, count in zip(bed.designs, bed.uses, strict=True)
        )

    def with_cut(self, cut: CutPlan) -> "Plan":
        """Return the plan with another way to cut the same rafts from the same sheets."""
        return self._finished(cut, self.waters)

    def _finished(self, cut: CutPlan, before: Sequence[BedInWater]) -> "Plan":
        waters = _waters(self, cut, before)
        found = (*_findings(self.project, self.beds, waters, cut), *self.run_fit.findings)
        return replace(self, cut=cut, findings=found, waters=waters)

    def sheets_of(self, design: str) -> tuple[Sheet, ...]:
        """Return the sheets that a raft design is cut from, all where nothing is cut yet."""
        return _sheets_of(self.project, self.cut, design)

    def sheet_of(self, design: str) -> Sheet | None:
        """Return a sheet that a raft design is cut from; None where they are not of one foam."""
        return one_foam(self.sheets_of(design))

    def water_of(self, bed: str) -> BedInWater | None:
        """Return how the rafts of the named bed do in the water."""
        return next((each for each in self.waters if each.surroundings.bed.name == bed), None)


def make_plan(project: Project, previous: Plan | None = None) -> Plan:
    """Make the plan of a project.

    With ``previous``, parts that did not change are taken over as the same objects; the result is
    equal either way, but for a better cut plan: that one stays as long as it fits. Without it the
    cut plan is the plain one, or the best one where areas alone prove it. Raises TooManyError
    beyond the bounds of a project, and Stopped when its watcher (``geometry.watch``) wants it no
    longer; everything else that cannot be built is a finding.
    """
    before = {bed.bed.name: bed for bed in previous.beds} if previous else {}
    twins: dict[Bed, _Twin] = {}
    beds: list[BedPlan] = []
    for bed, slug in zip(project.beds, bed_file_names(project), strict=True):
        index, most = len(beds), len(project.beds)
        with part(index / most, (index + 1) / most):
            beds.append(_bed_plan(bed, slug, before.get(bed.name), twins))
    _refuse_beyond(
        MAX_RAFTS,
        sum(len(bed.rafts) for bed in beds),
        mark("The project asks for {count} rafts; at most {most} are possible. {cure}"),
    )
    _refuse_beyond(
        MAX_SITES,
        sum(bed.plants for bed in beds),
        mark("The project asks for {count} planting sites; at most {most} are possible. {cure}"),
    )
    uncut = Plan(project, tuple(beds), CutPlan(), (), run_fit=_run_fit(project, beds, previous))
    # One step within the module: the waters of the plan before serve the next one.
    return uncut._finished(_cut_plan(uncut, previous), previous.waters if previous else ())  # noqa: SLF001


def _run_fit(project: Project, beds: Sequence[BedPlan], previous: Plan | None) -> RunFit:
    if not project.runs:
        return RunFit()
    before = previous.run_fit if previous is not None else RunFit()
    made = lying(project)
    same = previous is not None and lying(previous.project) == made
    known = {id(bed) for bed in previous.beds} if previous is not None and same else set()
    rooms = {
        bed.bed.name: before.rooms[bed.bed.name]
        if id(bed) in known and bed.bed.name in before.rooms
        else as_built(bed.rooms, bed.bed.name, made)
        for bed in beds
    }
    return check_runs(project.runs, rooms, before)


def _cut_plan(plan: Plan, previous: Plan | None) -> CutPlan:
    needed, sheets, cutting = plan.needed, plan.project.sheets, plan.project.cutting
    if previous is not None and needed and needed == previous.needed:
        then = previous.project
        if (then.sheets, then.cutting) == (sheets, cutting):
            return previous.cut
    plain = plain_cut_plan(needed, sheets, cutting)
    return best_cut_plan(needed, sheets, cutting) if plain.proved and needed else plain


def with_best_cut(plan: Plan, keep_going: Callable[[], bool] = lambda: True) -> Plan:
    """Search for the best cut plan, unless that was done; this may take some seconds.

    Returns the plan with the best found by the time ``keep_going`` says no.
    """
    if plan.cut.searched:
        return plan
    project = plan.project
    return plan.with_cut(
        best_cut_plan(plan.needed, project.sheets, project.cutting, keep_going=keep_going)
    )


def _sheets_of(project: Project, cut: CutPlan, design: str) -> tuple[Sheet, ...]:
    cut_from = dict.fromkeys(
        each.sheet for each in cut.sheets if any(piece.design == design for piece in each.pieces)
    )
    return tuple(cut_from) or project.sheets


def one_foam(sheets: Sequence[Sheet]) -> Sheet | None:
    """Return one of these sheets where all are of one thickness and density, None otherwise."""
    kinds = {(sheet.thickness, sheet.density) for sheet in sheets}
    return sheets[0] if len(kinds) == 1 else None


def _waters(plan: Plan, cut: CutPlan, before: Sequence[BedInWater]) -> tuple[BedInWater, ...]:
    known = {water.surroundings.bed.name: water for water in before}
    foam = _foams(plan.project, cut)
    waters = []
    for bed in plan.beds:
        first: dict[int, str] = {}
        for raft in bed.rafts:
            first.setdefault(id(raft.design), raft.name)
        designs = [
            Design(
                each.name, each.shape, each.holes, first.get(id(each), ""), foam(each.name), uses
            )
            for each, uses in zip(bed.designs, bed.uses, strict=True)
        ]
        around = Surroundings.of(plan.project, bed.bed)
        before_it, checked = known.get(bed.bed.name), bed.steps.checked if bed.steps else None
        waters.append(look_in_water(around, bed.layout, designs, before_it, checked))
    return tuple(waters)


def _foams(project: Project, cut: CutPlan) -> Callable[[str], Sheet | None]:
    """Return what tells the foam of a raft design; in one go, for there may be thousands."""
    cut_from: defaultdict[str, dict[Sheet, None]] = defaultdict(dict)
    for each in cut.sheets:
        for piece in each.pieces:
            cut_from[piece.design][each.sheet] = None
    usual = one_foam(project.sheets)
    found = {design: one_foam(tuple(sheets)) for design, sheets in cut_from.items()}
    return lambda design: found.get(design, usual)


def _findings(
    project: Project, beds: Sequence[BedPlan], waters: Sequence[BedInWater], cut: CutPlan
) -> tuple[Finding, ...]:
    sizes = {
        design.name: (design.shape.length, design.shape.width)
        for bed in beds
        for design in bed.designs
    }
    return (
        *(finding for bed in beds for finding in bed.findings),
        *(finding for water in waters for finding in water.findings),
        *check_cutting(cut, sizes, project.sheets, project.cutting),
    )


def _refuse_beyond(most: int, count: int, sentence: str) -> None:
    if count > most:
        raise TooManyError(
            tr(
                sentence,
                count=number(count, 0),
                most=number(most, 0),
                cure=tr("Check the units of the lengths, or split the project."),
            )
        )


def bed_file_names(project: Project) -> list[str]:
    """Give every bed a short name that is safe in a file name and unique in the project."""
    names: list[str] = []
    for count, bed in enumerate(project.beds, start=1):
        name = (
            re.sub(r"[^a-z0-9]+", "-", bed.name.lower()).strip("-")[:40].rstrip("-")
            or f"bed-{count}"
        )
        names.append(name if name not in names else f"{name}-bed-{count}")
    return names


def _bed_plan(
    bed: Bed,
    slug: str,
    before: BedPlan | None,
    twins: dict[Bed, _Twin],
) -> BedPlan:
    old = before.steps if before is not None else None
    if before is not None and old is not None and before.bed == bed and old.slug == slug:
        return before
    flaws = tuple(check_bed_shape(bed))
    if flaws:
        return _undrawn(bed, slug, flaws)
    with part(0.0, _LAYING):
        twin = _laid_out(bed, before, twins)
    layout, pattern = twin.layout, twin.pattern
    same_layout = before is not None and before.layout is layout
    edits = _edits_by_raft(bed, layout)
    # What was before, where rafts and pattern are the same.
    kept = old if old is not None and same_layout and old.pattern is pattern else None
    claims = _claims(bed, layout, before)
    drilled = _holes(bed, layout, pattern, claims, edits, kept)
    designs, rafts, kinds = _designs(slug, layout, drilled, before)
    uses = Counter(map(id, map(attrgetter("design"), rafts)))
    used = tuple(uses[id(design)] for design in designs)
    hazards = _hazards(bed, before)
    ways = old.ways if old is not None and same_layout else neighbour_ways(layout.rafts)
    checked = _checked(bed, ways, rafts, hazards, before)
    plants = sum(len(design.holes) * count for design, count in zip(designs, used, strict=True))
    # Without rafts, the clearance that would leave some depends on the planting as well.
    keeps_fit = old is not None and same_layout and bool(layout.rafts)
    fit = old.fit if old is not None and keeps_fit else twin.fit_of(bed)
    lying = checked.rafts if checked else ()
    idle = tuple(
        blank
        for own in dict(zip(map(id, drilled), drilled, strict=True)).values()
        for blank in own.idle
    )
    zoned = (layout, claims) if bed.zones else None
    whole = (*check_bed(bed, lying, idle, zoned, ways), *check_rounding(bed, lying, pattern))
    in_pattern = kept.in_pattern if kept is not None else sum(len(s) for s in pattern.sites)
    steps = _Steps(
        slug=slug,
        pattern=pattern,
        drilled=drilled,
        hazards=hazards,
        checked=checked,
        fit=fit,
        claims=claims,
        edits=edits,
        in_pattern=in_pattern,
        ways=ways,
        kinds=kinds,
        uses=used,
    )
    ceiling = before.ceiling if before is not None and kept is not None else twin.ceiling_of(bed)
    outline, foam = (
        (before.area_mm2, before.raft_area_mm2)
        if before is not None and same_layout
        else _areas(layout)
    )
    return BedPlan(
        bed=bed,
        layout=layout,
        designs=designs,
        rafts=rafts,
        tried=pattern.tried,
        ceiling=ceiling,
        area_mm2=outline,
        raft_area_mm2=foam,
        plants=plants,
        least_web_mm=checked.least_web_mm if checked else None,
        findings=(*whole, *fit, *(checked.findings if checked else ())),
        by_planting=pattern.by_planting,
        proof=prove(bed, layout, plants=plants, in_pattern=in_pattern, ceiling=ceiling),
        steps=steps,
    )


def _areas(layout: RaftLayout) -> tuple[float, float]:
    """The area within the outline and that of all rafts, in mm2."""
    shapes = {id(raft.shape): raft.shape for raft in layout.rafts}
    areas = {key: area(shape.loop) for key, shape in shapes.items()}
    outline = area(layout.outline) if layout.outline.curves else 0.0
    return outline, sum(areas[id(raft.shape)] for raft in layout.rafts)


def _claims(bed: Bed, layout: RaftLayout, before: BedPlan | None) -> tuple[Claims, ...]:
    same = before is not None and before.layout is layout and before.bed.zones == bed.zones
    if before is not None and before.steps is not None and same:
        return before.steps.claims
    return claims_of(bed, layout)


def _hazards(bed: Bed, before: BedPlan | None) -> tuple[Hazard, ...]:
    if before is not None and before.steps is not None and before.bed.obstacles == bed.obstacles:
        return before.steps.hazards
    return hazards_of(bed)


def _checked(
    bed: Bed,
    ways: Ways,
    rafts: Sequence[PlacedRaft],
    hazards: tuple[Hazard, ...],
    before: BedPlan | None,
) -> CheckedHoles | None:
    if bed.planting is None or not rafts:
        return None
    old = before.steps.checked if before is not None and before.steps is not None else None
    if before is not None and old is not None and len(before.rafts) == len(rafts):
        lying = [
            known if raft is then else _in_bed(bed, raft)
            for raft, then, known in zip(rafts, before.rafts, old.rafts, strict=True)
        ]
    else:
        lying = [_in_bed(bed, raft) for raft in rafts]
    return check_holes(lying, Rules.of(bed, bed.planting, ways), hazards, old)


def _in_bed(bed: Bed, raft: PlacedRaft) -> RaftInBed:
    design = raft.design
    return RaftInBed(bed.name, raft.name, design.shape, design.holes, raft.x, raft.y, raft.turned)


def _undrawn(bed: Bed, slug: str, flaws: tuple[Finding, ...]) -> BedPlan:
    """Plan a bed whose outline, or an obstacle's, cannot be drawn: nothing but the findings."""
    layout = RaftLayout(Loop(()), (), ())
    steps = _Steps(slug, BedPattern((), ()), (), (), None, ())
    return BedPlan(bed, layout, (), (), (), None, 0.0, 0.0, 0, None, flaws, steps=steps)


def _laid_out(bed: Bed, before: BedPlan | None, twins: dict[Bed, _Twin]) -> _Twin:
    """Lay rafts and holes, or take them from the plan before or from a bed just like this one."""
    wanted = _without_hand_edits(bed)
    if wanted in twins:
        return twins[wanted]
    layout = None
    if before is not None and before.steps is not None and before.layout.outline.curves:
        if _without_hand_edits(before.bed) == wanted:
            return _Twin(before.layout, before.steps.pattern)
        if _frame(before.bed) == _frame(bed):
            layout = before.layout
    exact = None if layout is None else _exact_pattern(wanted, before)
    layout = layout or lay_rafts(bed)
    exact = exact or lay_holes(bed, layout)
    twins[wanted] = _Twin(layout, rounded(bed, layout, exact))
    return twins[wanted]


def _exact_pattern(wanted: Bed, before: BedPlan | None) -> BedPattern | None:
    """The pattern of the plan before, if nothing but the step of the tape has changed."""
    if before is None or before.steps is None:
        return None
    if _exactly(_without_hand_edits(before.bed)) != _exactly(wanted):
        return None
    return before.steps.pattern.exact or before.steps.pattern


def _exactly(bed: Bed) -> Bed:
    """What the pattern depends on before its places are rounded."""
    return replace(bed, planting=bed.planting and replace(bed.planting, round_to=None))


def _without_hand_edits(bed: Bed) -> Bed:
    """What rafts and pattern depend on: no names, no hand edits."""
    planting = bed.planting
    if planting is not None:
        planting = replace(planting, crop="", pins=(), blanks=())
    zones = tuple(
        replace(zone, name="", rules=replace(zone.rules, crop=None)) for zone in bed.zones
    )
    return replace(bed, name="", planting=planting, zones=zones)


def _frame(bed: Bed) -> Bed:
    """What the rafts depend on."""
    return replace(bed, name="", planting=None, obstacles=(), zones=())


def _edits_by_raft(bed: Bed, layout: RaftLayout) -> dict[str, _Edits]:
    """Sort the hand edits by raft; interchangeable rafts of one kind share all of theirs."""
    planting = bed.planting
    if planting is None or not (planting.pins or planting.blanks):
        return {}
    pins: dict[str, list[Pin]] = defaultdict(list)
    blanks: dict[str, list[Blank]] = defaultdict(list)
    for pin in planting.pins:
        pins[pin.raft].append(pin)
    for blank in planting.blanks:
        blanks[blank.raft].append(blank)
    edited = {
        raft.name: _Edits(tuple(pins[raft.name]), tuple(blanks[raft.name]))
        for raft in layout.rafts
        if raft.name in pins or raft.name in blanks
    }
    if planting.joints != "interchangeable":
        return edited
    kinds = raft_kinds(bed, layout)
    shared: dict[tuple[RaftShape, int, str], list[_Edits]] = defaultdict(list)
    for raft in layout.rafts:
        if raft.name in edited:
            shared[kinds[raft.name]].append(edited[raft.name])
    joined = {
        kind: _Edits(
            tuple(pin for one in all_of for pin in one.pins),
            tuple(blank for one in all_of for blank in one.blanks),
        )
        for kind, all_of in shared.items()
    }
    return {name: joined[kind] for name, kind in kinds.items() if kind in joined}


def _holes(
    bed: Bed,
    layout: RaftLayout,
    pattern: BedPattern,
    claims: Sequence[Claims],
    edits: Mapping[str, _Edits],
    kept: _Steps | None,
) -> tuple[_Drilled, ...]:
    """Turn sites into holes, raft by raft; rafts laid and edited alike share one value.

    ``kept`` is what was made of the same rafts and the same pattern: only where the hand edits
    differ from then there is something to do.
    """
    if bed.planting is None:
        return ()
    if kept is None:
        todo = list(range(len(layout.rafts)))
        drilled = [_BARE] * len(layout.rafts)
    else:
        differing = {
            name
            for name in edits.keys() | kept.edits.keys()
            if edits.get(name, _NO_EDITS) != kept.edits.get(name, _NO_EDITS)
        }
        if not differing:
            return kept.drilled
        drilled = list(kept.drilled)
        todo = [k for k, raft in enumerate(layout.rafts) if raft.name in differing]
    plantings = all_plantings(bed.planting, bed.zones)
    diameters = [planting.hole_diameter.mm for planting in plantings]
    reaches = [float(limits_of(planting).spacing) / 2 for planting in plantings]
    alike: dict[tuple[int, int], _Drilled] = {}
    for k in todo:
        look_up(_LAYING)
        own, sites = edits.get(layout.rafts[k].name, _NO_EDITS), pattern.sites[k]
        key = id(sites), id(own)
        if key not in alike:
            holes, idle = apply_hand_edits(
                sites,
                diameter_mm=diameters,
                reach_mm=reaches,
                pins=own.pins,
                blanks=own.blanks,
                plantings_at=claims[k].plantings_at,
            )
            alike[key] = _Drilled(own, holes, idle, hash(holes))
        drilled[k] = alike[key]
    return tuple(drilled)


def _designs(
    slug: str, layout: RaftLayout, drilled: Sequence[_Drilled], before: BedPlan | None
) -> tuple[tuple[RaftDesign, ...], tuple[PlacedRaft, ...], dict[_Kind, RaftDesign]]:
    """Number the different rafts, those of the plain pattern first, and put each in its place.

    Looked up by identity, so that the holes of thousands of equal rafts are compared only once.
    """
    old_designs = {design.name: design for design in before.designs} if before else {}
    owns = drilled or (_BARE,) * len(layout.rafts)
    shapes = [raft.shape for raft in layout.rafts]
    kinds: list[_Kind] = list(zip(map(id, shapes), map(id, owns), strict=True))
    what = dict(zip(kinds, zip(shapes, owns, strict=True), strict=True))
    found: dict[tuple[int, int], list[RaftDesign]] = defaultdict(list)
    designs: list[RaftDesign] = []
    by_kind: dict[_Kind, RaftDesign] = {}
    for kind in sorted(what, key=lambda kind: what[kind][1].edits is not _NO_EDITS):
        shape, own = what[kind]
        alike = found[id(shape), own.mark]
        design = next((one for one in alike if one.holes == own.holes), None)
        if design is None:
            name = f"{slug}-{len(designs) + 1}"
            old = old_designs.get(name)
            if old is not None and old.shape is shape and old.holes is own.holes:
                design = old
            else:
                design = RaftDesign(name, shape, own.holes)
            alike.append(design)
            designs.append(design)
        by_kind[kind] = design
    todo = list(range(len(kinds)))
    placed: list[PlacedRaft] = []
    if before is not None and before.steps is not None and before.layout is layout:
        known = before.steps.kinds
        # What is drilled anew is a new value, so a raft that was anything else has a new kind.
        fresh = {kind for kind, design in by_kind.items() if known.get(kind) is not design}
        todo = [k for k, kind in enumerate(kinds) if kind in fresh]
        placed = list(before.rafts)
    for k in todo:
        raft, design = layout.rafts[k], by_kind[kinds[k]]
        here = PlacedRaft(raft.name, design, float(raft.x), float(raft.y), raft.turned)
        placed[k : k + 1] = [here]
    return tuple(designs), tuple(placed), by_kind
