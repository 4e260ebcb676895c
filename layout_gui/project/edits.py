"""Edits: orders that turn one project into the next. Nothing is changed in place.

Every edit raises ``GeometryError`` with a sentence when the result could not stand in a project
file, or when what it speaks of is not there.
"""

from collections.abc import Iterable, Mapping
from dataclasses import fields, replace
from fractions import Fraction
from itertools import count
from math import isfinite
from typing import Any, NamedTuple

import numpy as np

from geometry.checks.finding import (
    DropFromZone,
    DropHandEdit,
    Finding,
    LeaveOut,
    MoveHole,
    SealEdge,
    SetLength,
    SetTarget,
    TakeFill,
    TakeFoam,
    TakePot,
)
from geometry.compare.choices import applied
from geometry.compare.squeezing import Offer
from geometry.compare.want import find_spacing
from geometry.crops.table import CROPS
from geometry.errors import GeometryError
from geometry.holes.claims import raft_kinds
from geometry.model.bed import Bed
from geometry.model.outlines import Outline
from geometry.model.planting import Blank, Pin, Planting
from geometry.model.project import Accepted, Choice, Details, Project
from geometry.model.sheet import Cutting, Sheet
from geometry.model.supplies import parse_volume
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import BedPlan, Plan
from geometry.tongue import tr
from geometry.units import TOLERANCE_MM, Length, Unit
from layout_gui.project.bounds import project_faults, refuse_out_of_bounds
from layout_gui.project.edits_afloat import take_foam, take_pot
from layout_gui.project.edits_locks import (
    PLACING,
    locked_names,
    refuse_locked,
    renamed_locks,
)
from layout_gui.project.edits_log import rename_log_bed
from layout_gui.project.edits_runs import set_run, with_bed_renamed, without_bed

_RULES = frozenset(field.name for field in fields(ZoneRules))

HoleName = tuple[str, str]
"""The names of a raft and of a hole in it."""

Coordinate = float | Length
"""A length is kept exactly; a number of millimetres is rounded to 0.001 mm."""


def set_units(project: Project, unit: Unit) -> Project:
    """Show lengths in another unit; none of them changes."""
    return replace(project, units=unit)


def rename_project(project: Project, name: str) -> Project:
    """Give the project another name."""
    refuse_out_of_bounds(name, "name")
    return replace(project, name=name)


def describe(project: Project, name: str, details: Details) -> Project:
    """Give the project a name and say who drew it up, which revision it is, and notes."""
    refuse_out_of_bounds(name, "name")
    refuse_out_of_bounds(details)
    return replace(project, name=name, details=details)


def set_sheets(project: Project, sheets: Iterable[Sheet]) -> Project:
    """Replace the sheets."""
    project = replace(project, sheets=tuple(sheets))
    refuse_out_of_bounds(project.sheets)
    return project


def set_cutting(project: Project, cutting: Cutting) -> Project:
    """Replace the rules of cutting."""
    refuse_out_of_bounds(cutting)
    return replace(project, cutting=cutting)


def add_bed(project: Project, bed: Bed) -> Project:
    """Add a bed after the others; its name must be new."""
    refuse_out_of_bounds(bed)
    return _consistent(replace(project, beds=(*project.beds, bed)))


def duplicate_bed(project: Project, bed: str, name: str) -> Project:
    """Add a copy of a bed, hand edits included, right after it."""
    old = find_bed(project, bed)
    at = project.beds.index(old) + 1
    copy = replace(old, name=name)
    refuse_out_of_bounds(copy)
    return _consistent(replace(project, beds=(*project.beds[:at], copy, *project.beds[at:])))


def remove_bed(project: Project, bed: str) -> Project:
    """Take a bed out, with the choices, notes and guide lines that are about it; runs stay."""
    gone = find_bed(project, bed)
    return replace(
        project,
        beds=tuple(each for each in project.beds if each is not gone),
        choices=tuple(choice for choice in project.choices if choice.bed != bed),
        accepted=tuple(
            accepted for accepted in project.accepted if _bed_of(accepted, project) != bed
        ),
        guide_lines=tuple(line for line in project.guide_lines if line.bed != bed),
        locks=tuple(lock for lock in project.locks if lock.bed != bed),
        log=rename_log_bed(project.log, bed, ""),
        runs=without_bed(project.runs, bed),
    )


def rename_bed(project: Project, bed: str, name: str) -> Project:
    """Give a bed another name; choices, notes, guide lines and runs that are about it follow."""
    renamed = replace(find_bed(project, bed), name=name)
    refuse_out_of_bounds(renamed.name, "name")
    if not name:
        raise GeometryError(tr("A bed needs a name; write one, such as Bed 1."))
    choices = tuple(
        replace(choice, bed=name) if choice.bed == bed else choice for choice in project.choices
    )
    accepted = tuple(
        replace(each, key=each.key.replace(f" {bed}", f" {name}", 1))
        if _bed_of(each, project) == bed
        else each
        for each in project.accepted
    )
    lines = tuple(
        replace(line, bed=name) if line.bed == bed else line for line in project.guide_lines
    )
    changed = _with_bed(project, bed, renamed)
    log = rename_log_bed(changed.log, bed, name)
    runs = with_bed_renamed(changed.runs, bed, name)
    return _consistent(
        replace(
            changed,
            choices=choices,
            accepted=accepted,
            guide_lines=lines,
            locks=tuple(
                replace(lock, bed=name) if lock.bed == bed else lock for lock in project.locks
            ),
            log=log,
            runs=runs,
        )
    )


def set_bed(project: Project, bed: str, **changes: Any) -> Project:
    """Change values of a bed, named as in the model; for its name use ``rename_bed``."""
    for key, value in changes.items():
        refuse_out_of_bounds(value, key)
    changed = _with_bed(project, bed, replace(find_bed(project, bed), **changes))
    return _consistent(changed) if "rafts" in changes else changed


def set_outline(project: Project, bed: str, outline: Outline) -> Project:
    """Give a bed another outline."""
    return set_bed(project, bed, outline=outline)


def set_planting(project: Project, bed: str, **changes: Any) -> Project:
    """Change rules of a bed's planting, named as in the model; hand edits stay."""
    for key, value in changes.items():
        refuse_out_of_bounds(value, key)
    planting = replace(_planting(find_bed(project, bed)), **changes)
    return _with_planting(project, bed, planting)


def add_zone(project: Project, bed: str, zone: Zone) -> Project:
    """Add a zone on top of the others; its name must be new in the bed."""
    old = find_bed(project, bed)
    _planting(old)
    refuse_out_of_bounds(zone)
    return _consistent(_with_bed(project, bed, replace(old, zones=(*old.zones, zone))))


def fresh_zone(
    bed: Bed,
    *,
    shape: Outline | None = None,
    corner: tuple[Length, Length] | None = None,
    rafts: tuple[str, ...] = (),
) -> Zone:
    """Make a zone for a bed: a free name, and the first crop of the table that the bed lacks.

    Raises:
        GeometryError: the bed is not planted.
    """
    taken = {_planting(bed).crop, *(zone.rules.crop for zone in bed.zones)}
    crop = next((crop for crop in CROPS if crop.name not in taken), CROPS[0])
    names = {zone.name for zone in bed.zones}
    name = next(name for n in count(1) if (name := tr("zone {n}", n=n)) not in names)
    rules = ZoneRules(crop=crop.name, spacing=crop.spacing)
    return Zone(name, rules, shape, corner=corner if shape else None, rafts=rafts)


def move_zone(project: Project, bed: str, zone: str, dx: float, dy: float) -> Project:
    """Move a drawn zone, to 0.001 mm."""
    own = find_zone(find_bed(project, bed), zone)
    at = own.centre or own.corner
    if own.shape is None or at is None:
        raise GeometryError(
            tr("“{zone}” is made of whole rafts; it has no place of its own.", zone=zone)
        )
    moved = tuple(
        Length(old.exact + Length.rounded(by).exact) for old, by in zip(at, (dx, dy), strict=True)
    )
    return set_zone(project, bed, zone, **{"centre" if own.centre else "corner": moved})


def remove_zone(project: Project, bed: str, zone: str) -> Project:
    """Take a zone out of a bed."""
    old = find_bed(project, bed)
    gone = find_zone(old, zone)
    refuse_locked(project, bed, "zone", [zone])
    kept = tuple(each for each in old.zones if each is not gone)
    return _with_bed(project, bed, replace(old, zones=kept))


def set_zone(project: Project, bed: str, zone: str, **changes: Any) -> Project:
    """Change values of a zone, named as in the model; those of its rules as well."""
    for key, value in changes.items():
        refuse_out_of_bounds(value, key)
    old = find_bed(project, bed)
    own = find_zone(old, zone)
    if any(getattr(own, key, value) != value for key, value in changes.items() if key in PLACING):
        refuse_locked(project, bed, "zone", [zone])
    project = renamed_locks(project, bed, "zone", zone, changes.get("name", zone))
    rules = {key: value for key, value in changes.items() if key in _RULES}
    rest = {key: value for key, value in changes.items() if key not in _RULES}
    made = replace(own, rules=replace(own.rules, **rules), **rest)
    refuse_out_of_bounds(made)
    zones = tuple(made if each is own else each for each in old.zones)
    return _consistent(_with_bed(project, bed, replace(old, zones=zones)))


def find_zone(bed: Bed, zone: str) -> Zone:
    """Return the zone of this name."""
    for each in bed.zones:
        if each.name == zone:
            return each
    raise GeometryError(tr("There is no zone “{zone}” in “{name}”.", zone=zone, name=bed.name))


def move_holes(
    project: Project, plan: BedPlan, to: Mapping[HoleName, tuple[float, float]]
) -> Project:
    """Move holes to places in raft coordinates, rounded to 0.001 mm.

    A site of the pattern becomes a pin that remembers the site as its home; a pin keeps its home.
    With interchangeable rafts the holes of all rafts of one shape move together.
    """
    hand = _Hand(project, plan)
    for name, (x, y) in to.items():
        hand.move(name, x, y)
    return hand.done()


def place_holes(
    project: Project,
    plan: BedPlan,
    to: Mapping[HoleName, tuple[Coordinate, Coordinate]],
    more: Iterable[tuple[str, Coordinate, Coordinate]] = (),
) -> Project:
    """Move holes and add ``more``, each on its raft, to places in raft coordinates.

    What is added is one hole more: a site of the pattern that would make room for it is pinned
    where it is. Where rafts change places, a hole added to several of them at the same place is
    added once, for they are alike.
    """
    hand = _Hand(project, plan)
    for name, (x, y) in to.items():
        hand.move(name, x, y)
    hand.add_beside(more)
    return hand.done()


def add_hole(project: Project, plan: BedPlan, raft: str, x: float, y: float) -> Project:
    """Add a hole at a place in raft coordinates, rounded to 0.001 mm."""
    hand = _Hand(project, plan)
    hand.add(raft, x, y)
    return hand.done()


def delete_holes(project: Project, plan: BedPlan, holes: Iterable[HoleName]) -> Project:
    """Leave holes out: a site becomes a blank, and so does the home of a pin that goes.

    An added hole just goes; a site of the pattern that had made room for it comes back.
    """
    hand = _Hand(project, plan)
    for name in holes:
        hand.leave_out(name)
    return hand.done()


def pin_holes(project: Project, plan: BedPlan, holes: Iterable[HoleName]) -> Project:
    """Keep holes where they are, whatever the pattern does; pins stay as they are."""
    hand = _Hand(project, plan)
    for name in holes:
        hand.pin(name)
    return hand.done()


def unpin_holes(project: Project, plan: BedPlan, holes: Iterable[HoleName]) -> Project:
    """Give holes back to the pattern; an added hole goes, for the pattern has no site for it."""
    hand = _Hand(project, plan)
    for name in holes:
        hand.unpin(name)
    return hand.done()


def squeeze_in(project: Project, offer: Offer) -> Project:
    """Put the holes that squeezing found in the place of all holes of its rafts.

    Each of them is a pin; it takes over a site of the pattern where one is left for it, and a
    blank takes out every other site. What was pinned or left out on these rafts before goes.
    """
    asked, found = offer.question, offer.found
    refuse_locked(project, asked.bed, "raft", asked.rafts)
    planting = _planting(find_bed(project, asked.bed))
    shared = planting.joints == "interchangeable"
    pins = [pin for pin in planting.pins if pin.raft not in asked.rafts]
    blanks = [blank for blank in planting.blanks if blank.raft not in asked.rafts]
    homes = [(Length.rounded(x), Length.rounded(y)) for x, y in asked.sites.tolist()]
    taken = set(found.homes.tolist())
    for raft in asked.rafts[:1] if shared else asked.rafts:
        # Those without a home come last: then no site is left that they could take over.
        pins += [
            Pin(raft, Length.of(x), Length.of(y), None if home < 0 else homes[home])
            for (x, y), home in zip(found.xy.tolist(), found.homes.tolist(), strict=True)
        ]
        blanks += [Blank(raft, *site) for at, site in enumerate(homes) if at not in taken]
    planting = replace(planting, pins=tuple(pins), blanks=tuple(blanks))
    refuse_out_of_bounds(planting)
    return _with_planting(project, asked.bed, planting)


def clear_hand_edits(project: Project, bed: str) -> Project:
    """Forget all pins and blanks of a bed."""
    refuse_locked(project, bed, "raft", locked_names(project, bed, "raft"))
    return set_planting(project, bed, pins=(), blanks=())


def keep_choice(project: Project, bed: str, name: str, tried: Choice | None = None) -> Project:
    """Keep a choice for comparison under a name: the tried one, or the bed's present state.

    A choice that already has the name is replaced.
    """
    if tried is None:
        planting = _planting(find_bed(project, bed))
        tried = Choice(
            name,
            bed,
            pattern=planting.pattern,
            rows=planting.rows,
            spacing=planting.spacing,
            row_spacing=planting.row_spacing,
            edge_margin=planting.edge_margin,
        )
    choice = replace(tried, name=name, bed=bed)
    refuse_out_of_bounds(choice)
    others = tuple(each for each in project.choices if each.name != name)
    return _consistent(replace(project, choices=(*others, choice)))


def drop_choice(project: Project, name: str) -> Project:
    """Forget a kept choice."""
    kept = tuple(choice for choice in project.choices if choice.name != name)
    return replace(project, choices=kept)


def use_choice(project: Project, choice: Choice) -> Project:
    """Make a choice the bed's own; what it leaves open stays as it is.

    A wanted number or density of plants becomes the widest spacing that holds it, which may take a
    while to find. Raises GeometryError when it cannot be reached.
    """
    if (amount := choice.count or choice.density) is not None:
        bed = find_bed(project, choice.bed)
        planted = replace(bed, planting=applied(_planting(bed), choice))
        found = find_spacing(planted, amount, project.units)
        if found is None or found.spacing is None:
            raise GeometryError(tr("So many plants do not fit into this bed; ask for fewer."))
        choice = replace(choice, spacing=Length(found.spacing), count=None, density=None)
    given = {
        key: getattr(choice, key)
        for key in ("pattern", "rows", "spacing", "row_spacing", "edge_margin")
    }
    changes = {key: value for key, value in given.items() if value is not None}
    return set_planting(project, choice.bed, **changes)


def apply_cure(project: Project, plan: Plan, finding: Finding) -> Project:
    """Make the smallest change that clears a finding of this plan."""
    match finding.cure:
        case MoveHole(raft, hole, x, y):
            return move_holes(project, _bed_plan(plan, finding.bed), {(raft, hole): (x, y)})
        case LeaveOut(raft, hole):
            return delete_holes(project, _bed_plan(plan, finding.bed), [(raft, hole)])
        case SetLength(field, mm):
            return _set_length(project, finding.bed, field, Length.of(mm))
        case DropHandEdit(raft, x, y):
            return _drop_hand_edit(project, finding.bed, Blank(raft, Length.of(x), Length.of(y)))
        case DropFromZone(zone, raft):
            return _drop_from_zone(project, finding.bed, zone, raft)
        case TakeFoam(now, mm):
            return take_foam(project, now, mm)
        case TakePot(pot, mm):
            return take_pot(project, pot, mm)
        case TakeFill(text):
            water = find_bed(project, finding.bed).water
            return set_bed(
                project, finding.bed, water=replace(water, metered=parse_volume(text, None))
            )
        case SetTarget(run, plants):
            return set_run(project, run, target=plants)
        case SealEdge():
            return set_bed(project, finding.bed, edge_seal=True)
        case None:
            raise GeometryError(tr("No single change clears this; it takes a decision of yours."))


def accept(project: Project, finding: Finding, note: str) -> Project:
    """Leave a finding as it is, with the reason; a new note replaces an old one."""
    accepted = Accepted(finding.key, note)
    refuse_out_of_bounds(accepted)
    return replace(project, accepted=(*_others(project, finding.key), accepted))


def unaccept(project: Project, key: str) -> Project:
    """Look at a finding again, by its key."""
    return replace(project, accepted=_others(project, key))


def find_bed(project: Project, bed: str) -> Bed:
    """Return the bed of this name."""
    for each in project.beds:
        if each.name == bed:
            return each
    raise GeometryError(tr("There is no bed “{bed}”.", bed=bed))


class _Spot(NamedTuple):
    """A place on a kind of raft, in raft coordinates, just as the plan has it."""

    kind: str
    x: float
    y: float


class _Hand:
    """The hand edits of one bed while they are being changed.

    Rafts of one kind share their hand edits: with interchangeable rafts all of one shape and one
    planting, else each raft is a kind of its own.
    """

    def __init__(self, project: Project, plan: BedPlan) -> None:
        self._project = project
        self._bed = plan.bed.name
        self._planting = _planting(find_bed(project, self._bed))
        self._plantings = plan.plantings
        self._rafts = {raft.name: raft for raft in plan.rafts}
        self._kinds: dict[str, str] = {}
        if self._planting.joints == "interchangeable":
            kinds = raft_kinds(plan.bed, plan.layout)
            first: dict[object, str] = {}
            for raft in plan.rafts:
                kind = kinds.get(raft.name, raft.design.shape)
                self._kinds[raft.name] = first.setdefault(kind, raft.name)
        self._blanks = list(self._planting.blanks)
        self._pins = dict(enumerate(self._planting.pins))
        self._numbers = {
            self._spot(pin.raft, pin.x.mm, pin.y.mm): number for number, pin in self._pins.items()
        }
        self._fresh = count(len(self._pins))
        self._left_out: set[_Spot] = set()
        self._holes: dict[int, dict[str, int]] = {}

    def move(self, hole: HoleName, x: Coordinate, y: Coordinate) -> None:
        number = self.pin(hole)
        self._pins[number] = replace(self._pins[number], x=_place(x), y=_place(y))

    def add(self, raft: str, x: Coordinate, y: Coordinate) -> None:
        if raft not in self._rafts:
            raise GeometryError(tr("There is no raft {raft} in this bed.", raft=raft))
        self._pins[next(self._fresh)] = Pin(raft, _place(x), _place(y))

    def add_beside(self, more: Iterable[tuple[str, Coordinate, Coordinate]]) -> None:
        places: dict[str, list[tuple[float, float]]] = {}
        added: set[_Spot] = set()
        for raft, x, y in more:
            spot = self._spot(raft, _place(x).mm, _place(y).mm)
            if spot not in added:
                added.add(spot)
                self.add(raft, x, y)
                places.setdefault(raft, []).append((spot.x, spot.y))
        for raft, near in places.items():
            self._hold_sites(raft, near)

    def _hold_sites(self, raft: str, places: list[tuple[float, float]]) -> None:
        """Pin the sites that would make room for holes added at these places.

        Pins take their sites in their order, so these go before the added ones.
        """
        holes = self._rafts[raft].design.holes
        reach = np.array([each.spacing.mm / 2 for each in self._plantings])[holes.numbers]
        held = np.zeros(len(holes), dtype=np.bool_)
        for x, y in places:
            held |= np.hypot(holes.xy[:, 0] - x, holes.xy[:, 1] - y) <= reach + TOLERANCE_MM
        before = dict(self._pins)
        for at in np.flatnonzero(held & ~holes.pinned).tolist():
            x, y = holes.xy[at].tolist()
            number = self.pin((raft, holes.names[at]))
            self._pins[number] = replace(self._pins[number], x=fine_length(x), y=fine_length(y))
        fresh = {number: pin for number, pin in self._pins.items() if number not in before}
        self._pins = {**fresh, **before}

    def pin(self, hole: HoleName) -> int:
        spot = self._spot_of(hole)
        if spot not in self._numbers:
            home = Length.rounded(spot.x), Length.rounded(spot.y)
            self._numbers[spot] = next(self._fresh)
            self._pins[self._numbers[spot]] = Pin(hole[0], *home, home)
        return self._numbers[spot]

    def unpin(self, hole: HoleName) -> None:
        number = self._numbers.get(self._spot_of(hole))
        if number is not None:
            self._pins.pop(number, None)

    def leave_out(self, hole: HoleName) -> None:
        spot = self._spot_of(hole)
        if spot in self._left_out:
            return
        self._left_out.add(spot)
        if spot not in self._numbers:
            place = Length.rounded(spot.x), Length.rounded(spot.y)
            self._blanks.append(Blank(hole[0], *place))
            return
        pin = self._pins.pop(self._numbers[spot])
        if pin.home is not None:
            self._blanks.append(Blank(pin.raft, *pin.home))

    def done(self) -> Project:
        planting = replace(
            self._planting, pins=tuple(self._pins.values()), blanks=tuple(self._blanks)
        )
        self._refuse_locked(planting)
        return _with_planting(self._project, self._bed, planting)

    def _refuse_locked(self, planting: Planting) -> None:
        """Refuse what changes a locked raft, or one that shares its hand edits."""
        locked = locked_names(self._project, self._bed, "raft") & self._rafts.keys()
        if not locked:
            return
        before, after = self._planting, planting
        changed: set[Pin | Blank] = {*before.pins, *before.blanks}
        changed ^= {*after.pins, *after.blanks}
        kinds = {self._kinds.get(each.raft, each.raft) for each in changed}
        alike = {name for name in locked if self._kinds.get(name, name) in kinds}
        refuse_locked(self._project, self._bed, "raft", alike)

    def _spot(self, raft: str, x: float, y: float) -> _Spot:
        return _Spot(self._kinds.get(raft, raft), x, y)

    def _spot_of(self, hole: HoleName) -> _Spot:
        raft, name = hole
        placed = self._rafts.get(raft)
        if placed is not None:
            holes = placed.design.holes
            if id(holes) not in self._holes:
                self._holes[id(holes)] = {each: at for at, each in enumerate(holes.names)}
            index = self._holes[id(holes)].get(name)
            if index is not None:
                return self._spot(raft, *holes.xy[index].tolist())
        raise GeometryError(tr("There is no hole {name} in raft {raft}.", name=name, raft=raft))


def fine_length(mm: float | Fraction) -> Length:
    """Make a length of a computed place: whole micrometres where it is some, else to 1e-7 mm.

    Whole micrometres alone would bring holes a known distance apart too near, by more than the
    tolerance.
    """
    exact = Fraction(mm)
    whole = Fraction(round(exact * 1000), 1000)
    if abs(whole - exact) <= Fraction(1, 10**9):
        return Length(whole)
    return Length(Fraction(round(exact * 10**7), 10**7))


def _place(mm: Coordinate) -> Length:
    if isinstance(mm, Length):
        refuse_out_of_bounds(mm, "x")
        return mm
    if not isfinite(mm):
        raise GeometryError(tr("A place needs two numbers."))
    length = Length.rounded(mm)
    refuse_out_of_bounds(length, "x")
    return length


def _planting(bed: Bed) -> Planting:
    if bed.planting is None:
        raise GeometryError(tr("“{name}” is not planted yet; plant the bed first.", name=bed.name))
    return bed.planting


def _with_bed(project: Project, bed: str, changed: Bed) -> Project:
    beds = tuple(changed if each.name == bed else each for each in project.beds)
    return replace(project, beds=beds)


def _with_planting(project: Project, bed: str, planting: Planting) -> Project:
    return _with_bed(project, bed, replace(find_bed(project, bed), planting=planting))


def _consistent(project: Project) -> Project:
    for fault in project_faults(project):
        raise GeometryError(f"{fault.what[:1].upper()}{fault.what[1:]}; {fault.cure}.")
    return project


def _others(project: Project, key: str) -> tuple[Accepted, ...]:
    return tuple(accepted for accepted in project.accepted if accepted.key != key)


def _bed_of(accepted: Accepted, project: Project) -> str | None:
    """Find the bed that a note is about: the longest name that fits, as names may have spaces."""
    _, _, rest = accepted.key.partition(" ")
    fitting = [bed.name for bed in project.beds if f"{rest} ".startswith(f"{bed.name} ")]
    return max(fitting, key=len, default=None)


def _bed_plan(plan: Plan, bed: str) -> BedPlan:
    for bed_plan in plan.beds:
        if bed_plan.bed.name == bed:
            return bed_plan
    raise GeometryError(tr("There is no bed “{bed}”.", bed=bed))


def _set_length(project: Project, bed: str, field: str, length: Length) -> Project:
    """Set a length by its dotted key in the project file, seen from its bed."""
    part, _, key = field.rpartition(".")
    change: dict[str, Any] = {key: length}
    if part == "planting":
        return set_planting(project, bed, **change)
    if part.startswith("zones."):
        zone = find_bed(project, bed).zones[int(part.removeprefix("zones."))]
        return set_zone(project, bed, zone.name, **change)
    if part.startswith("obstacles."):
        obstacles = list(find_bed(project, bed).obstacles)
        number = int(part.removeprefix("obstacles."))
        obstacles[number] = replace(obstacles[number], **change)
        return set_bed(project, bed, obstacles=tuple(obstacles))
    if not part:
        return set_bed(project, bed, **change)
    return set_bed(project, bed, **{part: replace(getattr(find_bed(project, bed), part), **change)})


def _drop_from_zone(project: Project, bed: str, zone: str, raft: str) -> Project:
    """Take a raft out of a zone; a zone without rafts and without a shape goes."""
    own = find_zone(find_bed(project, bed), zone)
    rafts = tuple(name for name in own.rafts if name != raft)
    if not raft or not (rafts or own.shape):
        return remove_zone(project, bed, zone)
    return set_zone(project, bed, zone, rafts=rafts)


def _drop_hand_edit(project: Project, bed: str, gone: Blank) -> Project:
    def kept(edit: Pin | Blank) -> bool:
        off = abs(edit.x.mm - gone.x.mm) + abs(edit.y.mm - gone.y.mm)
        return edit.raft != gone.raft or off > TOLERANCE_MM

    planting = _planting(find_bed(project, bed))
    pins = tuple(pin for pin in planting.pins if kept(pin))
    blanks = tuple(blank for blank in planting.blanks if kept(blank))
    return set_planting(project, bed, pins=pins, blanks=blanks)
