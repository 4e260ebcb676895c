"""What the columns of the log show and take, as text; also whole rows out of a spreadsheet.

Lengths are read in the grower's unit unless they carry another one, days as the reader that is
handed in reads them, weights in grams, or with g, kg, oz or lb behind them.
"""

import csv
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any, Final

from geometry.errors import GeometryError
from geometry.model.log import BatchGrown, Note, RaftMade
from geometry.model.project import Project
from geometry.tongue import mark, signed, tr
from geometry.units import Length, Unit, exact_text, finite_decimal, parse_length
from layout_gui.project.edits_log import (
    Entry,
    Kind,
    check_entry,
    fresh_label,
    one_a_place,
    subject_of,
    with_log,
)

GRAMS: Final = {
    "g": Fraction(1),
    "kg": Fraction(1000),
    "oz": Fraction(28349523125, 10**9),
    "lb": Fraction(45359237, 10**5),
}
"""Exactly, by the international avoirdupois pound of 0.45359237 kg (agreement of 1959)."""

_NUMBER: Final = re.compile(r"(\d{1,12}(?:[.,]\d{1,9})?)\s*([a-z/²2]*)", re.IGNORECASE)
_PER_FT2: Final = Fraction(9290304, 10**8)
MOST_LINES: Final = 10_000
_LONGEST_LINE: Final = 20_000

DayReader = Callable[[str], date]
DayWriter = Callable[[date], str]


def iso_day(text: str) -> date:
    """Read a day such as "2026-03-31".

    Raises:
        GeometryError: it is none.
    """
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise GeometryError(
            tr("“{text}” is no day of the calendar; write one such as 2026-03-31.", text=text)
        ) from None


@dataclass(frozen=True, slots=True)
class Ways:
    """How values are written and read: the unit of lengths, and days."""

    project: Project
    write_day: DayWriter = date.isoformat
    read_day: DayReader = iso_day

    @property
    def unit(self) -> Unit:
        """The unit of a bare length."""
        return self.project.units


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its key in the model, its title, and how its value goes to text and back.

    ``read`` gives the changes to make in the entry; None is a column that only tells.
    """

    key: str
    title: str
    write: Callable[[Any, Ways], str]
    read: Callable[[str, Ways], dict[str, object]] | None = None
    is_number: bool = False
    sort_key: Callable[[Any], object] | None = None

    @property
    def is_length(self) -> bool:
        """Whether its figures are lengths, so that the unit belongs into the title."""
        return self.key in {"length", "width", "hole_diameter"}


def _text(key: str, title: str) -> Column:
    return Column(
        key,
        title,
        lambda entry, _ways: getattr(entry, key).replace("\n", " "),
        lambda text, _ways: {key: text.strip()},
    )


def _day(key: str, title: str, *, needed: bool = False) -> Column:
    def read(text: str, ways: Ways) -> dict[str, object]:
        if not text.strip() and not needed:
            return {key: None}
        return {key: ways.read_day(text)}

    def write(entry: Any, ways: Ways) -> str:
        day = getattr(entry, key)
        return "" if day is None else ways.write_day(day)

    return Column(key, title, write, read, sort_key=lambda entry: getattr(entry, key))


def _length(key: str, title: str) -> Column:
    def read(text: str, ways: Ways) -> dict[str, object]:
        return {key: parse_length(text, ways.unit) if text.strip() else None}

    def write(entry: Any, ways: Ways) -> str:
        length: Length | None = getattr(entry, key)
        if length is None:
            return ""
        return exact_text(length, ways.unit).removesuffix(f" {ways.unit}")

    def sort_key(entry: Any) -> object:
        length: Length | None = getattr(entry, key)
        return None if length is None else length.exact

    return Column(key, title, write, read, is_number=True, sort_key=sort_key)


def _count(key: str, title: str) -> Column:
    def read(text: str, _ways: Ways) -> dict[str, object]:
        plain = text.strip()
        if not plain:
            return {key: None}
        if not (plain.isascii() and plain.isdigit() and len(plain) < 13):
            raise GeometryError(
                tr("“{text}” is no count; write a whole number, or nothing.", text=plain)
            )
        return {key: int(plain)}

    return Column(
        key,
        title,
        lambda entry, _ways: "" if getattr(entry, key) is None else f"{getattr(entry, key)}",
        read,
        is_number=True,
        sort_key=lambda entry: getattr(entry, key),
    )


def _measured(key: str, title: str, units: dict[str, Fraction]) -> Column:
    def read(text: str, _ways: Ways) -> dict[str, object]:
        plain = text.strip()
        if not plain:
            return {key: None}
        found = _NUMBER.fullmatch(plain)
        unit = found[2].lower() if found else ""
        if found is None or (unit and unit not in units):
            named = ", ".join(units)
            raise GeometryError(
                tr("“{text}” is no number; write one, with {units} if need be.", text=plain,
                   units=named)
            )  # fmt: skip
        value = Fraction(found[1].replace(",", ".")) * units.get(unit, Fraction(1))
        return {key: value if finite_decimal(value) else Fraction(round(value * 10**6), 10**6)}

    def write(entry: Any, _ways: Ways) -> str:
        value: Fraction | None = getattr(entry, key)
        return "" if value is None else signed(finite_decimal(value) or f"{float(value):.6f}")

    return Column(
        key, title, write, read, is_number=True, sort_key=lambda entry: getattr(entry, key)
    )


# -- where a raft is, and what a note is about -----------------------------------------------------


def _where(made: RaftMade, _ways: Ways) -> str:
    if made.retired:
        return tr("retired")
    return tr("{bed} {raft}", bed=made.bed, raft=made.raft) if all(made.place) else tr("spare")


def _read_where(text: str, ways: Ways) -> dict[str, object]:
    plain = text.strip()
    match plain.casefold():
        case "" | "spare":
            return {"retired": False, "bed": "", "raft": ""}
        case "retired":
            return {"retired": True}
        case folded if folded == tr("spare").casefold():
            return {"retired": False, "bed": "", "raft": ""}
        case folded if folded == tr("retired").casefold():
            return {"retired": True}
        case folded:
            pass
    beds = sorted((bed.name for bed in ways.project.beds), key=len, reverse=True)
    for bed in beds:
        if folded.startswith(f"{bed.casefold()} ") and (raft := plain[len(bed) :].strip()):
            return {"retired": False, "bed": bed, "raft": raft}
    if len(beds) == 1 and " " not in plain:
        return {"retired": False, "bed": beds[0], "raft": plain}
    raise GeometryError(
        tr(
            "“{text}” is no place; write a bed and a raft, such as {bed} R1, or spare, or retired.",
            text=plain,
            bed=beds[-1] if beds else tr("Bed 1"),
        )
    )


def _about(note: Note, _ways: Ways) -> str:
    if note.about == "project":
        return tr("the project")
    if note.about == "raft":
        return tr("raft {label}", label=note.of)
    return tr("batch {name}", name=note.of)


def subjects(project: Project) -> dict[str, tuple[str, str]]:
    """Return all that a note can be about, by its words."""
    entries: list[Entry] = [*project.log.rafts, *project.log.batches]
    found = {tr("the project"): ("project", "")}
    for entry in entries:
        if (subject := subject_of(entry)) is not None:
            about, of = subject
            words = tr("raft {label}", label=of) if about == "raft" else tr("batch {name}", name=of)
            found[words] = subject
    return found


def _read_about(text: str, ways: Ways) -> dict[str, object]:
    plain = text.strip().casefold()
    known = subjects(ways.project)
    if not plain:
        return {"about": "project", "of": ""}
    for words, (about, of) in known.items():
        if plain in {words.casefold(), of.casefold()}:
            return {"about": about, "of": of}
    raise GeometryError(
        tr(
            "“{text}” is neither a raft nor a batch of the log; name one, or leave this empty for "
            "the project.",
            text=text.strip(),
        )
    )


def _share(batch: BatchGrown, _ways: Ways) -> str:
    if not batch.seeds or batch.picked is None:
        return ""
    return signed(f"{batch.picked / batch.seeds:.0%}".replace("%", " %"))


COLUMNS: Final[dict[Kind, tuple[Column, ...]]] = {
    "rafts": (
        _text("label", mark("label")),
        Column("where", mark("lies in"), _where, _read_where),
        _text("design", mark("raft design")),
        Column("code", mark("code"), lambda made, _ways: made.code),
        _day("made", mark("made on")),
        _length("length", mark("length")),
        _length("width", mark("width")),
        _length("hole_diameter", mark("hole size")),
        _count("sites", mark("sites")),
        _count("coats", mark("coats")),
        _count("washes", mark("washes")),
        _day("washed", mark("washed on")),
    ),
    "batches": (
        _text("run", mark("what")),
        _day("sown", mark("sown on"), needed=True),
        _count("seeds", mark("seeds")),
        _count("up", mark("came up")),
        _count("set", mark("set afloat")),
        _count("picked", mark("picked")),
        _day("picked_on", mark("picked on")),
        _measured("grams", mark("weight of all (g)"), GRAMS),
        _measured("per_m2", mark("plants per m²"), {"/m2": Fraction(1), "/m²": Fraction(1),
                                                    "/ft2": 1 / _PER_FT2, "/ft²": 1 / _PER_FT2}),
        Column("share", mark("picked of sown"), _share, is_number=True),
    ),
    "notes": (
        _day("day", mark("day")),
        Column("about", mark("about"), _about, _read_about),
        _text("text", mark("note")),
    ),
}  # fmt: skip
"""The columns of each of the three lists, in order."""


def read_cell(kind: Kind, key: str, text: str, ways: Ways) -> dict[str, object]:
    """Read what was typed into a cell; return the values of the entry that it changes.

    Raises:
        GeometryError: it cannot be read, or the column only tells.
    """
    column = next(each for each in COLUMNS[kind] if each.key == key)
    if column.read is None:
        raise GeometryError(tr("This column follows from the others."))
    return column.read(text, ways)


def rows_text(kind: Kind, project: Project, numbers: Sequence[int]) -> str:
    """Write rows for a spreadsheet: a heading, then one entry a line, tabs between, days as ISO."""
    ways, columns = Ways(project), COLUMNS[kind]
    entries = getattr(project.log, kind)
    heading = "\t".join(
        f"{tr(each.title)} ({project.units})" if each.is_length else tr(each.title)
        for each in columns
    )
    lines = [
        "\t".join(each.write(entries[number], ways).replace("\n", " ") for each in columns)
        for number in numbers
    ]
    return "\n".join([heading, *lines, ""])


@dataclass(frozen=True, slots=True)
class Refused:
    """A line that cannot be used, and why."""

    line: int
    reason: str


@dataclass(frozen=True, slots=True)
class Pasted:
    """What pasting leads to, and what of it could not be used."""

    project: Project
    added: int
    changed: int
    refused: tuple[Refused, ...]


def paste_rows(kind: Kind, text: str, ways: Ways) -> Pasted:
    """Take rows over out of a spreadsheet; a row that names an entry changes it.

    The first line may be a heading in any order; without one the columns are in their own order.
    A note is changed by no row, for it has no name.
    """
    entries: list[Entry] = list(getattr(ways.project.log, kind))
    known = {_folded(entry): number for number, entry in enumerate(entries)}
    touched: list[int] = []
    refused: list[Refused] = []
    columns: list[Column | None] | None = None
    added = changed = 0
    delimiter = "\t" if "\t" in text else ";" if ";" in text else ","
    lines = [line[:_LONGEST_LINE] for line in text.replace("\0", "").splitlines()]
    for at, cells in enumerate(csv.reader(lines[:MOST_LINES], delimiter=delimiter), 1):
        if not any(cell.strip() for cell in cells):
            continue
        if columns is None:
            columns = _heading(kind, cells)
            if columns is not None:
                continue
            columns = list(COLUMNS[kind])
        try:
            changes = _changes(columns, cells, ways)
            made = _made(kind, changes)
            number = known.get(_folded(made), len(entries)) if kind != "notes" else len(entries)
            entry = made if number == len(entries) else replace(entries[number], **changes)
            check_entry(entry)
        except GeometryError as error:
            refused.append(Refused(at, str(error)))
            continue
        added, changed = added + (number == len(entries)), changed + (number < len(entries))
        entries[number : number + 1] = [entry]
        known[_folded(entry)] = number
        touched.append(number)
    if (more := len(lines) - MOST_LINES) > 0:
        refused.append(Refused(MOST_LINES + 1, tr("{n} lines more were not read.", n=more)))
    rafts = [entry for entry in entries if isinstance(entry, RaftMade)]
    found: Any = one_a_place(rafts, touched) if kind == "rafts" else entries
    log = replace(ways.project.log, **{kind: tuple(found)})
    return Pasted(with_log(ways.project, log), added, changed, tuple(refused))


def _heading(kind: Kind, cells: Sequence[str]) -> list[Column | None] | None:
    known = {tr(each.title).casefold(): each for each in COLUMNS[kind]}
    known |= {each.title.casefold(): each for each in COLUMNS[kind]}
    known |= {each.key.casefold(): each for each in COLUMNS[kind]}
    found = [
        known.get(cell.strip().casefold())
        or known.get(re.sub(r"\s*\([^)]*\)$", "", cell).strip().casefold())
        for cell in cells
    ]
    named = sum(each is not None for each in found)
    return found if named >= max(1, (len(cells) + 1) // 2) else None


def _changes(columns: Sequence[Column | None], cells: Sequence[str], ways: Ways) -> dict[str, Any]:
    """Read the cells of one row that hold something."""
    changes: dict[str, Any] = {}
    for column, cell in zip(columns, cells, strict=False):
        if column is None or not cell.strip():
            continue
        if column.read is not None:
            changes |= column.read(cell, ways)
        elif column.key == "code":
            changes["code"] = cell.strip()
    return changes


def _folded(entry: Entry) -> str:
    return " ".join(subject_of(entry) or ()).casefold()


def _made(kind: Kind, changes: dict[str, Any]) -> Entry:
    needed = {"rafts": ("label",), "batches": ("run", "sown"), "notes": ("text",)}[kind]
    for key in needed:
        if not changes.get(key):
            title = next(each.title for each in COLUMNS[kind] if each.key == key)
            raise GeometryError(tr("The column “{title}” is empty.", title=tr(title)))
    if kind == "rafts":
        return RaftMade(**changes)
    return BatchGrown(**changes) if kind == "batches" else Note(**changes)


def fresh_entry(kind: Kind, project: Project, today: date) -> Entry:
    """Return an entry to begin with: what was written down last is what comes next."""
    if kind == "rafts":
        return RaftMade(fresh_label(project), made=today)
    if kind == "notes":
        return Note("", day=today)
    known = project.log.batches
    run = known[-1].run if known else project.runs[0].name if project.runs else tr("lettuce")
    names = {each.name.casefold() for each in known}
    free = (run if n == 1 else f"{run} {n}" for n in range(1, len(known) + 2))
    return next(
        each for name in free if (each := BatchGrown(name, today)).name.casefold() not in names
    )
