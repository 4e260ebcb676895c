"""The bounds of the project file and the rules that hold between its values.

One table for files and edits: what may not be read may not be typed either.
"""

import unicodedata
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import date
from fractions import Fraction
from typing import Any, Final

from geometry.afloat.water import WARMEST_C
from geometry.errors import GeometryError
from geometry.flow.period import day_fault
from geometry.model.bed import Bed, Split
from geometry.model.log import BatchGrown, Log, RaftMade
from geometry.model.outlines import LShape, Measured, Outline, Polygon, Rectangle
from geometry.model.planting import COARSEST_STEP_MM, FINEST_STEP_MM
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.run import Pause, Run, SlowTime
from geometry.model.sheet import HEAVIEST_FOAM, Sheet
from geometry.model.supplies import Coverage, Supplies, Volume
from geometry.model.wanted import HIGHEST_PER_M2, MOST_WANTED, Density
from geometry.model.water import Water
from geometry.model.zone import Zone
from geometry.tongue import mark, tr
from geometry.units import LONGEST_MM, Length, finite_decimal
from layout_gui.project.faults import Fault

LONGEST_NAME: Final = 200
LONGEST_NOTE: Final = 2000
MOST_RAFTS: Final = 100_000
MOST_SITES: Final = 2_000_000
MOST_GUIDE_LINES: Final = 1_000
MOST_LOCKS: Final = 100_000
MOST_SAWS: Final = 100

MOST_DAYS: Final = 36_500
"""From a sowing to its last picking."""

LONGEST_DRAWING: Final = 8_000_000

_LONGEST: Final = {
    **dict.fromkeys(("note", "key", "notes", "text"), LONGEST_NOTE),
    "drawing": LONGEST_DRAWING,
}
_LINES: Final = frozenset({"notes", "text", "drawing"})
"""Texts that may have lines."""

EXAMPLE: Final = mark('write a length such as 200 or "8 in"')


@dataclass(frozen=True, slots=True)
class Bound:
    """The least and the most of a length in mm; with ``above`` the least itself is too small."""

    least: Fraction
    above: bool = False
    most: Fraction = Fraction(LONGEST_MM)

    def fault(self, mm: Fraction) -> tuple[str, str] | None:
        """Say what is wrong with a length and what to write instead; None when it is within."""
        above, below = mm.as_integer_ratio()
        if above > LONGEST_MM * below:
            return tr("must be at most 1000 m"), tr(EXAMPLE)
        if mm > self.most:
            return tr("must be at most {most} mm", most=finite_decimal(self.most)), tr(EXAMPLE)
        over = above * self.least.denominator - self.least.numerator * below
        if over < 0 or (self.above and over == 0):
            match self.least:
                case least if least > 0 and mm > 0:
                    return tr("must be at least {least} mm", least=finite_decimal(least)), tr(
                        EXAMPLE
                    )
                case least if least > 0 or self.above:
                    return tr("must be above 0"), tr(EXAMPLE)
                case 0:
                    return tr("must not be below 0"), tr(EXAMPLE)
                case _:
                    return tr("must be at least -1000 m"), tr(EXAMPLE)
        return None


SIZE: Final = Bound(Fraction(0), above=True)
GAP: Final = Bound(Fraction(0))
FINE: Final = Bound(Fraction(1, 100))
STEP: Final = Bound(FINEST_STEP_MM, most=COARSEST_STEP_MM)
PLACE: Final = Bound(Fraction(-LONGEST_MM))

BOUNDS: Final[dict[str, Bound]] = {
    **dict.fromkeys(("length", "width", "widths", "lengths", "diagonals", "diameter"), SIZE),
    **dict.fromkeys(("notch_length", "notch_width", "width_start", "width_end"), SIZE),
    **dict.fromkeys(("thickness", "saw_depth"), SIZE),
    **dict.fromkeys(("corner_radius", "clearance", "joint_gap"), GAP),
    **dict.fromkeys(("edge_margin", "web", "kerf", "trim"), GAP),
    **dict.fromkeys(("tolerance", "keep_offcut"), GAP),
    **dict.fromkeys(("along", "across"), SIZE),
    **dict.fromkeys(("spacing", "row_spacing", "hole_diameter"), FINE),
    "saws": FINE,
    "roll": SIZE,
    "depth": SIZE,
    **dict.fromkeys(("low", "high", "film", "wobble", "wet", "freeboard", "above"), GAP),
    "gap": SIZE,
    **dict.fromkeys(("body", "foot", "planted_width", "mature_width"), FINE),
    **dict.fromkeys(("rim", "rim_height", "collar", "collar_hole"), GAP),
    "round_to": STEP,
    **dict.fromkeys(("x", "y", "points", "home", "shift_along", "shift_across"), PLACE),
    **dict.fromkeys(("centre", "corner", "at"), PLACE),
}
"""The bound of each length, by its name in the model and in the file alike."""

FIELD_NAMES: Final = {
    "name": mark("Name"),
    "note": mark("Note"),
    "key": mark("Key"),
    "author": mark("Author"),
    "revision": mark("Revision"),
    "date": mark("Date"),
    "notes": mark("Notes"),
    "crop": mark("Crop"),
    "length": mark("Length"),
    "width": mark("Width"),
    "widths": mark("Widths"),
    "lengths": mark("Lengths"),
    "diagonals": mark("Diagonals"),
    "diameter": mark("Diameter"),
    "corner_radius": mark("Corner radius"),
    "notch_length": mark("Notch length"),
    "notch_width": mark("Notch width"),
    "width_start": mark("Width start"),
    "width_end": mark("Width end"),
    "points": mark("Points"),
    "centre": mark("Centre"),
    "corner": mark("Corner"),
    "x": mark("X"),
    "y": mark("Y"),
    "at": mark("At"),
    "home": mark("Home"),
    "clearance": mark("Clearance"),
    "joint_gap": mark("Joint gap"),
    "edge_margin": mark("Edge margin"),
    "web": mark("Web"),
    "spacing": mark("Spacing"),
    "row_spacing": mark("Row spacing"),
    "hole_diameter": mark("Hole diameter"),
    "round_to": mark("Round to"),
    "shift_along": mark("Shift along"),
    "shift_across": mark("Shift across"),
    "along": mark("Along"),
    "across": mark("Across"),
    "kerf": mark("Kerf"),
    "trim": mark("Trim"),
    "tolerance": mark("Tolerance"),
    "keep_offcut": mark("Keep offcut"),
    "thickness": mark("Thickness"),
    "saw_depth": mark("Depth of the hole saw"),
    "score": mark("Score"),
    "quantity": mark("Quantity"),
    "count": mark("Count"),
    "density": mark("Density"),
    "price": mark("Price"),
    "saws": mark("Saws"),
    "roll": mark("Roll"),
    "pack": mark("Pack"),
    "coats": mark("Coats"),
    "spares": mark("Spares"),
    "depth": mark("Depth"),
    "low": mark("Low water"),
    "high": mark("High water"),
    "film": mark("Paint film"),
    "wobble": mark("Wobble"),
    "wet": mark("Wet depth"),
    "freeboard": mark("Freeboard"),
    "above": mark("Above the water"),
    "gap": mark("Widest gap"),
    "open_water": mark("Open water"),
    "body": mark("Body"),
    "foot": mark("Foot"),
    "rim": mark("Rim"),
    "rim_height": mark("Rim height"),
    "collar": mark("Collar"),
    "collar_hole": mark("Hole of the collar"),
    "planted_width": mark("Width when planted"),
    "mature_width": mark("Width when grown up"),
    "pot": mark("Pot"),
    "label": mark("Label"),
    "run": mark("What was sown"),
    "grams": mark("Weight"),
    "per_m2": mark("Plants per m²"),
    "text": mark("Text"),
    "sites": mark("Sites"),
    "stages": mark("Stages"),
    **dict.fromkeys(("first", "last", "until"), mark("The day")),
    **dict.fromkeys(("sown", "picked_on", "made", "washed", "day"), mark("The day")),
    "washes": mark("Washes"),
}
"""What each part of a project is called at the start of a sentence."""

COUNTS: Final = {
    "along": (1, MOST_RAFTS),
    "across": (1, MOST_RAFTS),
    "quantity": (0, 10**6),
    "count": (1, MOST_WANTED),
    "pack": (1, 10**6),
    "coats": (0, 20),
    "spares": (0, 100),
    **dict.fromkeys(("days", "every", "pick_every"), (1, 3650)),
    **dict.fromkeys(("turn_days", "stands"), (0, 365)),
    "picks": (1, 100),
    **dict.fromkeys(("target", "seed_pack", "plug_pack"), (1, 10**9)),
    **dict.fromkeys(("sites", "seeds", "up", "set", "picked", "washes"), (0, 10**9)),
}
"""The least and the most of each count."""


@dataclass(frozen=True, slots=True)
class Range:
    """The least and the most of a number; with ``above`` the least itself is too small."""

    least: Fraction
    most: int
    above: bool = False

    def fault(self, value: Fraction) -> tuple[str, str] | None:
        """Say what is wrong with a number and what to write instead; None when it is within."""
        if self.least <= value <= self.most and not (self.above and value == self.least):
            return None
        least = finite_decimal(self.least)
        words = (
            tr("must be above {least} and at most {most}", least=least, most=self.most)
            if self.above
            else tr("must be from {least} to {most}", least=least, most=self.most)
        )
        return words, tr("write a number within these bounds")


_NONE: Final = Fraction(0)
RANGES: Final[dict[str, Range]] = {
    "grams": Range(_NONE, 10**9, above=True),
    **dict.fromkeys(("lift_one", "lift_two"), Range(_NONE, 10_000, above=True)),
    **dict.fromkeys(("survival", "sound", "open_water"), Range(_NONE, 1, above=True)),
    "celsius": Range(_NONE, int(WARMEST_C)),
    **dict.fromkeys(("swelling", "warming", "expansion"), Range(_NONE, 100)),
    "factor": Range(Fraction(1, 10), 10),
    "soaked": Range(_NONE, int(HEAVIEST_FOAM), above=True),
    "per_m2": Range(_NONE, 100_000, above=True),
}
"""The bounds of each number that is neither a length nor a count nor money."""

HIGHEST_PRICE: Final = 10**9


def text_fault(text: str, longest: int = LONGEST_NAME) -> tuple[str, str] | None:
    """Say what is wrong with a name or a note; None when it can be shown and printed."""
    if len(text) > longest:
        return tr("must be at most {longest} characters", longest=longest), tr("shorten it")
    if not text.isprintable() and any(
        unicodedata.category(sign) in {"Cc", "Cs", "Zl", "Zp"} for sign in text
    ):
        return tr("must not hold control characters or half characters"), tr("type it anew")
    return None


def foam_fault() -> tuple[str, str]:
    """Say between what the density of foam must lie, and what to write."""
    return (
        tr("must be above 0 and at most {most} kg/m³", most=int(HEAVIEST_FOAM)),
        tr("write a number such as 32"),
    )


def outline_fault(outline: Outline) -> tuple[str, str, str] | None:
    """Find what two numbers of an outline forbid each other: key, what is wrong, what to do."""
    match outline:
        case Rectangle(length, width, corner_radius):
            if 2 * corner_radius.exact > min(length.exact, width.exact):
                cure = tr("write a smaller radius")
                return "corner_radius", tr("must be at most half the shorter side"), cure
        case LShape():
            for key, side in (("notch_length", outline.length), ("notch_width", outline.width)):
                if getattr(outline, key).exact >= side.exact:
                    return (
                        key,
                        tr("must be less than the {key}", key=key[6:]),
                        tr("write a smaller notch"),
                    )
        case Measured():
            if len(outline.diagonals) == 1:
                return (
                    "diagonals",
                    tr("must be two or none"),
                    tr("measure both diagonals or neither"),
                )
        case Polygon(points):
            for axis in range(2):
                places = [point[axis].exact for point in points]
                if max(places) - min(places) > LONGEST_MM:
                    return "points", tr("must span at most 1000 m"), tr("write smaller numbers")
        case _:
            pass
    return None


def sheet_fault(sheet: Sheet) -> tuple[str, str, str] | None:
    """Find what the values of a sheet forbid each other: key, what is wrong, what to do."""
    if sheet.tolerance.exact >= min(sheet.length.exact, sheet.width.exact):
        return (
            "tolerance",
            tr("must be less than the shorter side"),
            tr("write how much may be missing"),
        )
    if sheet.score is not None and not (sheet.score.across or sheet.score.along):
        cure = tr('write how far apart they lie, such as {"across": "16 in"}, or take it out')
        return "score", tr("has no lines"), cure
    return None


def water_fault(water: Water) -> tuple[str, str, str] | None:
    """Find what the values of a water forbid each other: key, what is wrong, what to do."""
    if water.depth is not None and water.low.exact >= water.depth.exact:
        return "low", tr("must be less than the depth"), tr("write how far the water falls")
    return None


def run_fault(run: Run) -> tuple[str, str, str] | None:
    """Find what the values of a run forbid each other: key, what is wrong, what to do."""
    days = sum(stage.days for stage in run.stages) + run.stands
    if days + (run.picks - 1) * run.pick_every > MOST_DAYS:
        return (
            "stages",
            tr("take more than {most} days to the last picking", most=MOST_DAYS),
            tr("write shorter stages or fewer pickings"),
        )
    return None


def pot_fault(pot: Pot) -> tuple[str, str, str] | None:
    """Find what the values of a pot forbid each other: key, what is wrong, what to do."""
    if pot.foot.exact > pot.body.exact:
        return "foot", tr("must be at most as wide as the body"), tr("measure the pot again")
    if 0 < pot.rim.exact < pot.body.exact:
        return (
            "rim",
            tr("must be at least as wide as the body"),
            tr("measure the outside of the lip, or write 0 for a plug"),
        )
    return _collar_fault(pot)


def _collar_fault(pot: Pot) -> tuple[str, str, str] | None:
    collar, hole = pot.collar.exact, pot.collar_hole.exact
    if collar and pot.rim.exact:
        return "collar", tr("must be 0 for a pot with a rim"), tr("write one of the two")
    if 0 < collar <= pot.body.exact:
        return "collar", tr("must be wider than the body"), tr("measure the outside of the disc")
    if bool(collar) is not bool(hole) or hole > collar:
        return (
            "collar_hole",
            tr("must be narrower than its collar, and above 0 where there is one"),
            tr("measure both, or write 0 for both"),
        )
    return None


def project_faults(project: Project) -> Iterator[Fault]:
    """Yield what is wrong between the parts of a project whose single values are in bounds."""
    names: Counter[str] = Counter()
    rafts = 0
    for number, bed in enumerate(project.beds):
        names[bed.name] += 1
        if names[bed.name] == 2:
            yield Fault(
                f"/beds/{number}/name",
                tr("“{name}” is the name of another bed", name=bed.name),
                tr("give each bed a name of its own"),
            )
        yield from _zone_faults(bed, f"/beds/{number}/zones")
        if isinstance(bed.rafts, Split):
            rafts += bed.rafts.along * bed.rafts.across
            if rafts > MOST_RAFTS:
                yield Fault(
                    f"/beds/{number}/rafts",
                    tr("the project has more than {most} rafts", most=MOST_RAFTS),
                    tr("write fewer along or across"),
                )
                return
    for number, choice in enumerate(project.choices):
        if choice.bed not in names:
            yield Fault(
                f"/choices/{number}/bed",
                tr("there is no bed “{bed}”", bed=choice.bed),
                tr("name one of the beds or take the choice out"),
            )
    for number, line in enumerate(project.guide_lines):
        if line.bed not in names:
            yield Fault(
                f"/guide_lines/{number}/bed",
                tr("there is no bed “{bed}”", bed=line.bed),
                tr("name one of the beds or take the line out"),
            )
    for number, lock in enumerate(project.locks):
        if lock.bed not in names:
            yield Fault(
                f"/locks/{number}/bed",
                tr("there is no bed “{bed}”", bed=lock.bed),
                tr("name one of the beds or take the lock out"),
            )
    yield from _running_faults(project)


def _running_faults(project: Project) -> Iterator[Fault]:
    """Yield names of pots, crops and runs that are used twice, or that nothing bears."""
    groups = {
        "pots": [pot.name for pot in project.pots],
        "crops": [crop.name for crop in project.crops],
        "runs": [run.name for run in project.runs],
    }
    for key, names in groups.items():
        seen: set[str] = set()
        for number, name in enumerate(names):
            if name.casefold() in seen:
                yield Fault(
                    f"/{key}/{number}/name",
                    tr("“{name}” is there already", name=name),
                    tr("give each a name of its own"),
                )
            seen.add(name.casefold())
    for number, bed in enumerate(project.beds):
        zoned = [
            (f"/beds/{number}/zones/{at}/planting/pot", zone.rules.pot)
            for at, zone in enumerate(bed.zones)
        ]
        own = bed.planting.pot if bed.planting else ""
        for place, pot in [(f"/beds/{number}/planting/pot", own), *zoned]:
            if pot and pot not in groups["pots"]:
                yield Fault(
                    place,
                    tr("there is no pot “{pot}”", pot=pot),
                    tr("name one of the pots or take this out"),
                )
    beds = {bed.name for bed in project.beds}
    for number, run in enumerate(project.runs):
        for at, stage in enumerate(run.stages):
            more = [(f"more_beds/{n}", name) for n, name in enumerate(stage.more_beds)]
            for key, name in [("bed", stage.bed), *more] if stage.bed else more:
                if name not in beds:
                    yield Fault(
                        f"/runs/{number}/stages/{at}/{key}",
                        tr("there is no bed “{bed}”", bed=name),
                        tr("name one of the beds or take this out"),
                    )
    yield from log_faults(project.log)


def log_faults(log: Log) -> Iterator[Fault]:
    """Yield rafts made and batches grown that cannot be told apart by their names."""
    named = (
        ("rafts", "label", [made.label for made in log.rafts]),
        ("batches", "sown", [batch.name for batch in log.batches]),
    )
    for kind, key, names in named:
        seen: set[str] = set()
        for number, name in enumerate(names):
            if name.casefold() in seen:
                yield Fault(
                    f"/log/{kind}/{number}/{key}",
                    tr("“{name}” is in the log already", name=name),
                    tr("give each a name of its own"),
                )
            seen.add(name.casefold())


def _zone_faults(bed: Bed, place: str) -> Iterator[Fault]:
    if bed.zones and bed.planting is None:
        yield Fault(place, tr("stand in a bed without planting"), tr("plant the bed first"))
    names: Counter[str] = Counter()
    for number, zone in enumerate(bed.zones):
        names[zone.name] += 1
        if names[zone.name] == 2:
            yield Fault(
                f"{place}/{number}/name",
                tr("“{name}” is the name of another zone", name=zone.name),
                tr("give each zone of a bed a name of its own"),
            )
        if (zone.shape is None) == (not zone.rafts):
            yield Fault(
                f"{place}/{number}",
                tr("has neither a shape nor rafts, or both"),
                tr("keep one of the two"),
            )
        if zone.shape is not None and (zone.centre is None) == (zone.corner is None):
            yield Fault(
                f"{place}/{number}/shape",
                tr("has no place, or two"),
                tr('write a "centre" or a "corner", such as [300, 60]'),
            )


def refuse_out_of_bounds(value: Any, label: str = "") -> None:
    """Refuse a value of the model, or a part of one, that no project file may hold.

    Raises:
        GeometryError: with the label, what is wrong and what to do.
    """
    for name, what, cure in _own_faults(value, label):
        words = tr(FIELD_NAMES.get(name, name.replace("_", " ").capitalize()))
        raise GeometryError(f"{words} {what}; {cure}.")


def _own_faults(value: Any, name: str) -> Iterator[tuple[str, str, str]]:
    found: tuple[str, str] | None = None
    match value:
        case Length():
            found = BOUNDS[name].fault(value.exact)
        case str():
            longest = _LONGEST.get(name, LONGEST_NAME)
            found = text_fault(value.replace("\n", " ") if name in _LINES else value, longest)
        case bool() | None:
            pass
        case int():
            least, most = COUNTS[name]
            if not least <= value <= most:
                found = (
                    tr("must be from {least} to {most}", least=least, most=most),
                    tr("write a whole number"),
                )
        case Density(per_m2):
            if not 0 < per_m2 <= HIGHEST_PER_M2:
                found = (
                    tr(
                        "must be above 0 and at most {most} per m²",
                        most=HIGHEST_PER_M2,
                    ),
                    tr("write 24/m2"),
                )
        case Coverage() | Volume():
            pass  # read within their bounds
        case date():
            found = day_fault(value)
        case Fraction() if name in RANGES:
            found = RANGES[name].fault(value)
            if found is None and finite_decimal(value) is None:
                found = tr("has more digits than a number needs"), tr("round it")
        case Fraction() if name == "density":
            if not 0 < value <= HEAVIEST_FOAM or finite_decimal(value) is None:
                found = foam_fault()
        case Fraction():
            if not 0 <= value <= HIGHEST_PRICE or finite_decimal(value) is None:
                found = (
                    tr("must be a decimal from 0 to {most}", most=HIGHEST_PRICE),
                    tr("write one such as 14.5"),
                )
        case tuple():
            for part in value:
                yield from _own_faults(part, name)
        case _:
            for part in fields(value):
                yield from _own_faults(getattr(value, part.name), part.name)
            yield from _between(value)
    if found:
        yield name, *found


def _between(value: Any) -> Iterator[tuple[str, str, str]]:
    match value:
        case Bed() if not value.name:
            yield "name", tr("is missing"), tr("give the bed a name")
        case RaftMade() if not value.label:
            yield "label", tr("is missing"), tr("write what stands on the foam, such as R1")
        case BatchGrown() if not value.run:
            yield "run", tr("is missing"), tr("write what was sown")
        case Zone() if not value.name:
            yield "name", tr("is missing"), tr("give the zone a name")
        case Rectangle() | LShape() | Measured() | Polygon():
            if found := outline_fault(value):
                yield found
        case Sheet():
            if found := sheet_fault(value):
                yield found
        case Water():
            if found := water_fault(value):
                yield found
        case Pot():
            if found := pot_fault(value):
                yield found
        case Run():
            if found := run_fault(value):
                yield found
        case Pause(first, last) | SlowTime(first, last) if last < first:
            yield "last", tr("is before the first day"), tr("write the earlier day first")
        case Supplies(saws) if len(saws) > MOST_SAWS:
            cure = tr("keep those for these rafts")
            yield "saws", tr("must be at most {most} of them", most=MOST_SAWS), cure
        case _:
            pass
