"""Holes as text: rows that a spreadsheet takes and gives back, one hole a line.

Lengths stand in one unit that the heading names; the decimal sign is that of the spoken tongue.
What is read may be far less tidy.
"""

import csv
import re
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft
from geometry.tongue import spoken, tr
from geometry.units import MM_PER, TOLERANCE_MM, Length, Unit, finite_decimal, parse_length
from layout_gui.project.arrange import Ground, exact_pins, has_hole
from layout_gui.project.edits import (
    Coordinate,
    HoleName,
    fine_length,
    place_holes,
)

HEADING: Final = ("raft", "hole", "x", "y", "hole size", "crop", "state", "bed x", "bed y")
"""What the columns of copied rows are called; lengths have the unit behind, "x (mm)"."""

_LENGTHS: Final = frozenset({"x", "y", "hole size", "bed x", "bed y"})
_ALIASES: Final = {"name": "hole", "diameter": "hole size", "size": "hole size"}
_DECIMALS: Final[dict[Unit, int]] = {"mm": 7, "cm": 8, "in": 9}
"""Enough to bring the same place back."""

_FORMULA_SIGNS: Final = ("=", "+", "-", "@")
_UNIT: Final = re.compile(r"[\s_(\[]+(mm|cm|in|m|ft)\.?\s*[)\]]?$", re.IGNORECASE)
MOST_LINES: Final = 100_000
"""So many lines are read at most."""


@dataclass(frozen=True, slots=True)
class HoleRow:
    """One hole that was read: the line it stood in, names as far as given, places.

    ``x``, ``y`` run from the raft's datum corner, ``bed`` is the place in the bed where given.
    """

    line: int
    raft: str
    hole: str
    x: Length
    y: Length
    bed: tuple[Length, Length] | None = None


@dataclass(frozen=True, slots=True)
class Refused:
    """A line that cannot be used, and why."""

    line: int
    reason: str


@dataclass(frozen=True, slots=True)
class Read:
    """What was read: the rows that can be used and the lines that cannot."""

    rows: tuple[HoleRow, ...]
    refused: tuple[Refused, ...]


@dataclass(frozen=True, slots=True)
class Pasted:
    """What pasting leads to, and what of it could not be used."""

    project: Project
    moved: int
    added: int
    there_already: int
    refused: tuple[Refused, ...]
    targets: tuple[tuple[str, float, float], ...]
    """The raft and place (raft coordinates, mm) of every hole that was pasted."""

    @property
    def count(self) -> int:
        """How many holes are moved or added."""
        return self.moved + self.added


def write_rows(plan: BedPlan, names: Iterable[HoleName], unit: Unit) -> str:
    """Write holes as lines of columns with tabs between, under a heading; in the order given."""
    heading = [f"{name} ({unit})" if name in _LENGTHS else name for name in HEADING]
    ground = Ground(plan)
    index = _indexes(plan)
    exact = exact_pins(plan)
    crops = [_one_cell(planting.crop) for planting in plan.plantings]
    lines = ["\t".join(heading)]
    for raft_name, hole in names:
        raft = ground.rafts.get(raft_name)
        at = index[id(raft.design.holes)].get(hole) if raft is not None else None
        if raft is None or at is None:
            continue
        holes = raft.design.holes
        x, y = holes.xy[at].tolist()
        place = exact.get((x, y)) or (fine_length(x).exact, fine_length(y).exact)
        size = fine_length(float(holes.diameters[at])).exact
        crop = crops[int(holes.numbers[at])]
        numbers = (*place, size, *ground.in_bed(raft, place))
        x_text, y_text, size_text, bed_x, bed_y = (_decimal(value, unit) for value in numbers)
        state = state_words(raft, at)
        cells = (raft_name, hole, x_text, y_text, size_text, crop, state, bed_x, bed_y)
        lines.append("\t".join(cells))
    return "\n".join(lines) + "\n"


def state_words(raft: PlacedRaft, at: int) -> str:
    """Say how a hole came to its place and whether it is plugged."""
    holes = raft.design.holes
    is_pinned = bool(holes.pinned[at])
    if holes.plugged is not None and bool(holes.plugged[at]):
        return tr("pinned, plugged") if is_pinned else tr("pattern, plugged")
    return tr("pinned") if is_pinned else tr("pattern")


def read_rows(text: str, unit: Unit, rafts: Collection[str] = ()) -> Read:
    """Read lines of holes: columns between tabs, semicolons, commas or spaces.

    A heading names the columns and their units in any order; without one a line holds x and y,
    with the hole or the raft before them, or the raft and the hole. ``rafts`` are names that are
    rafts. A number without a unit is in that of its column, else in ``unit``.
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n").replace("\0", "").split("\n")
    numbered = [(number, line) for number, line in enumerate(lines, start=1) if line.strip()]
    over = numbered[MOST_LINES:]
    del numbered[MOST_LINES:]
    if any("\t" in line for _, line in numbered):
        read = _read_cut(numbered, _cut_at("\t"), unit, rafts)
    elif any(";" in line for _, line in numbered):
        read = _read_cut(numbered, _cut_at(";"), unit, rafts)
    else:
        ways = [_read_cut(numbered, cut, unit, rafts) for cut in (_cut_at(","), str.split)]
        read = max(ways, key=lambda way: len(way.rows))
    if over:
        reason = tr("only {most} lines are read at once", most=MOST_LINES)
        return Read(read.rows, (*read.refused, Refused(over[0][0], reason)))
    return read


def paste_rows(
    project: Project, plan: BedPlan, read: Read, *, raft: str = "", moving: bool
) -> Pasted:
    """Put rows that were read where they say, on their rafts.

    With ``moving`` a row that names a hole of the plan moves it; all others add one. ``raft`` is
    for rows that name none. A hole that stands there already is left alone.
    """
    placed = {each.name: each for each in plan.rafts}
    only = next(iter(placed)) if len(placed) == 1 else ""
    index = _indexes(plan)
    refused = list(read.refused)
    to: dict[HoleName, tuple[Coordinate, Coordinate]] = {}
    more: list[tuple[str, Coordinate, Coordinate]] = []
    targets: list[tuple[str, float, float]] = []
    there = 0
    for row in read.rows:
        name = row.raft or raft or only
        on = placed.get(name)
        if on is None:
            refused.append(Refused(row.line, _no_raft(name)))
            continue
        x, y = fine_length(row.x.exact), fine_length(row.y.exact)
        targets.append((name, x.mm, y.mm))
        at = index[id(on.design.holes)].get(row.hole) if moving else None
        if at is not None:
            if (name, row.hole) in to:
                targets.pop()
                reason = tr("hole {hole} of {raft} has a line already", hole=row.hole, raft=name)
                refused.append(Refused(row.line, reason))
            elif np.abs(on.design.holes.xy[at] - (x.mm, y.mm)).max() < TOLERANCE_MM:
                there += 1
            else:
                to[name, row.hole] = x, y
        elif has_hole(on, x.mm, y.mm):
            there += 1
        else:
            more.append((name, x, y))
    refused.sort(key=lambda each: each.line)
    changed = place_holes(project, plan, to, more) if to or more else project
    return Pasted(changed, len(to), len(more), there, tuple(refused), tuple(targets))


def paste_at(
    project: Project, plan: BedPlan, read: Read, at: tuple[float, float], grid_mm: Fraction
) -> Pasted:
    """Add rows that were read as a group whose middle comes to a place of the bed.

    The group keeps its distances; its first hole comes to whole steps of ``grid_mm`` from the
    datum corner of its raft. Each hole is added to the raft it comes to lie on; one that comes to
    lie over water, to the raft under the others.
    """
    if not read.rows:
        return Pasted(project, 0, 0, 0, read.refused, ())
    ground = Ground(plan)
    places = _places_in_bed(ground, read.rows)
    xs, ys = [x for x, _ in places], [y for _, y in places]
    dx = Fraction(at[0]) - (min(xs) + max(xs)) / 2
    dy = Fraction(at[1]) - (min(ys) + max(ys)) / 2
    rafts = [ground.raft_at(float(x + dx), float(y + dy)) for x, y in places]
    fallback = next((raft for raft in rafts if raft is not None), None)
    if fallback is None:
        raise GeometryError(tr("There is no raft to paste to; point at one first."))
    own = rafts[0] or fallback
    first = ground.on_raft(own, (places[0][0] + dx, places[0][1] + dy))
    sign = -1 if own.turned else 1
    dx += sign * (round(first[0] / grid_mm) * grid_mm - first[0])
    dy += sign * (round(first[1] / grid_mm) * grid_mm - first[1])
    rows: list[HoleRow] = []
    for row, (x, y) in zip(read.rows, places, strict=True):
        raft = ground.raft_at(float(x + dx), float(y + dy)) or fallback
        to = ground.on_raft(raft, (x + dx, y + dy))
        rows.append(HoleRow(row.line, raft.name, "", Length(to[0]), Length(to[1])))
    return paste_rows(project, plan, Read(tuple(rows), read.refused), moving=False)


def refusal_sentences(refused: Sequence[Refused], most: int = 8) -> str:
    """Say line by line what cannot be used and why; after so many lines only how many more."""
    lines = [
        tr("Line {number}: {reason}.", number=each.line, reason=each.reason.rstrip("."))
        for each in refused[:most]
    ]
    if len(refused) > most:
        lines.append(tr("… and {n} lines more.", n=len(refused) - most))
    return "\n".join(lines)


# ------------------------------------------------------------------------------------------------


def _indexes(plan: BedPlan) -> dict[int, dict[str, int]]:
    """For the holes of each design, by their id, where each name stands."""
    return {
        id(design.holes): {name: at for at, name in enumerate(design.holes.names)}
        for design in plan.designs
    }


def _decimal(value: Fraction, unit: Unit) -> str:
    scale = 10 ** _DECIMALS[unit]
    text = finite_decimal(Fraction(round(value / MM_PER[unit] * scale), scale)) or "0"
    return text.replace(".", spoken().decimal_sign)


def _one_cell(text: str) -> str:
    """A name that stays in its cell and that no spreadsheet runs."""
    plain = " ".join(text.split())
    return f"'{plain}" if plain.startswith(_FORMULA_SIGNS) else plain


def _cut_at(sign: str) -> Callable[[str], list[str]]:
    def cut(line: str) -> list[str]:
        try:
            return [cell.strip() for cell in next(csv.reader([line], delimiter=sign))]
        except csv.Error:
            return [line]

    return cut


def _read_cut(
    lines: Sequence[tuple[int, str]],
    cut: Callable[[str], list[str]],
    unit: Unit,
    rafts: Collection[str],
) -> Read:
    rows: list[HoleRow] = []
    refused: list[Refused] = []
    columns: Mapping[str, tuple[int, str]] | None = None
    for number, line in lines:
        cells = cut(line)
        try:
            if columns is None:
                rows.append(_bare_row(number, cells, unit, rafts))
            else:
                rows.append(_headed_row(number, cells, columns, unit))
        except GeometryError as error:
            if heading := _heading(cells):
                columns = heading
            else:
                refused.append(Refused(number, str(error)))
    return Read(tuple(rows), tuple(refused))


def _heading(cells: Sequence[str]) -> Mapping[str, tuple[int, str]]:
    """Return for each known column its place and its unit; nothing if this is no heading."""
    known = {**{name: name for name in HEADING}, **_ALIASES}
    known |= {tr(name).lower(): name for name in HEADING}
    found: dict[str, tuple[int, str]] = {}
    for at, cell in enumerate(cells):
        unit = _UNIT.search(cell)
        words = (cell[: unit.start()] if unit and unit.start() else cell).replace("_", " ")
        name = known.get(words.strip().lower())
        if name is not None and name not in found:
            found[name] = at, unit[1].lower() if unit and unit.start() else ""
    return found if {"x", "y"} <= found.keys() else {}


def _headed_row(
    number: int, cells: Sequence[str], columns: Mapping[str, tuple[int, str]], unit: Unit
) -> HoleRow:
    def text(name: str) -> str:
        at = columns[name][0] if name in columns else len(cells)
        return cells[at].strip() if at < len(cells) else ""

    def length(name: str) -> Length:
        if not text(name):
            raise GeometryError(tr("{column} is missing", column=name))
        return _length(text(name), columns[name][1], unit)

    bed = None
    if text("bed x") and text("bed y"):
        bed = length("bed x"), length("bed y")
    return HoleRow(number, text("raft"), text("hole"), length("x"), length("y"), bed)


def _bare_row(number: int, cells: Sequence[str], unit: Unit, rafts: Collection[str]) -> HoleRow:
    while cells and not cells[-1]:
        cells = cells[:-1]
    if len(cells) < 2:
        raise GeometryError(tr("a hole needs x and y"))
    raft = hole = ""
    if len(cells) == 3:
        raft, hole = (cells[0], "") if cells[0] in rafts else ("", cells[0])
    elif len(cells) > 3:
        raft, hole = cells[:2]
    start = min(len(cells) - 2, 2)
    return HoleRow(
        number, raft, hole, _length(cells[start], "", unit), _length(cells[start + 1], "", unit)
    )


def _length(text: str, column_unit: str, unit: Unit) -> Length:
    if column_unit in ("m", "ft"):
        try:
            return parse_length(text, None)
        except GeometryError:
            return parse_length(f"{text} {column_unit}", None)
    own: dict[str, Unit] = {"mm": "mm", "cm": "cm", "in": "in"}
    return parse_length(text, own.get(column_unit, unit))


def _no_raft(name: str) -> str:
    if not name:
        return tr("it names no raft; select one first")
    return tr("there is no raft {raft} in this bed", raft=name)


def _places_in_bed(ground: Ground, rows: Sequence[HoleRow]) -> list[tuple[Fraction, Fraction]]:
    beds = [row.bed for row in rows if row.bed is not None]
    if len(beds) == len(rows):
        return [(x.exact, y.exact) for x, y in beds]
    if len({row.raft for row in rows}) > 1:
        raise GeometryError(
            tr("These rows lie on several rafts and do not say where in the bed; paste in place.")
        )
    raft = ground.rafts.get(rows[0].raft)
    places = [(row.x.exact, row.y.exact) for row in rows]
    return [ground.in_bed(raft, place) for place in places] if raft is not None else places
