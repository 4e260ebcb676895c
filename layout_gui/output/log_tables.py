"""The log as tables for other programs: rafts made, batches grown, notes."""

import csv
from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from typing import Final, TextIO

from geometry.model.log import Log
from geometry.units import Length
from layout_gui.output.tables import plain

RAFTS: Final = "rafts-made.csv"
BATCHES: Final = "batches.csv"
NOTES: Final = "notes.csv"

RAFTS_HEADER: Final = (
    "label", "bed", "raft", "design", "code", "made", "length_mm", "width_mm",
    "hole_diameter_mm", "sites", "coats", "washes", "washed", "retired",
)  # fmt: skip
BATCHES_HEADER: Final = (
    "run", "sown", "seeds", "up", "set", "picked", "picked_on", "grams", "per_m2",
)  # fmt: skip
NOTES_HEADER: Final = ("day", "about", "of", "text")
"""The columns of each table, in order. Days as ISO 8601 has them; what is not known is empty."""


def write_rafts(log: Log, stream: TextIO) -> None:
    """Write one row for each raft made; one that lies in no bed has neither bed nor raft."""
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(RAFTS_HEADER)
    for made in log.rafts:
        table.writerow(
            (
                plain(made.label), *map(plain, made.place), plain(made.design), plain(made.code),
                _cell(made.made), _cell(made.length), _cell(made.width), _cell(made.hole_diameter),
                _cell(made.sites), _cell(made.coats), _cell(made.washes), _cell(made.washed),
                "yes" if made.retired else "no",
            )
        )  # fmt: skip


def write_batches(log: Log, stream: TextIO) -> None:
    """Write one row for each batch: numbers of plants, grams of all that was picked together."""
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(BATCHES_HEADER)
    for batch in log.batches:
        rest = (getattr(batch, name) for name in BATCHES_HEADER[1:])
        table.writerow((plain(batch.run), *map(_cell, rest)))


def write_notes(log: Log, stream: TextIO) -> None:
    """Write one row for each note."""
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(NOTES_HEADER)
    for note in log.notes:
        text = " ".join(note.text.splitlines())
        table.writerow((_cell(note.day), note.about, plain(note.of), plain(text)))


TABLES: Final[Mapping[str, Callable[[Log, TextIO], None]]] = {
    RAFTS: write_rafts,
    BATCHES: write_batches,
    NOTES: write_notes,
}
"""What writes each file."""


def _cell(value: date | Length | Fraction | int | None) -> str:
    match value:
        case None:
            return ""
        case date():
            return value.isoformat()
        case Length():
            return _decimal(value.exact)
        case Fraction():
            return _decimal(value)
        case _:
            return f"{value}"


def _decimal(value: Fraction) -> str:
    return f"{float(value):.6f}".rstrip("0").rstrip(".")
