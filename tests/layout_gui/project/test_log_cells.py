"""Cells and rows of the log: read as growers type them, and taken out of spreadsheets."""

from datetime import date
from fractions import Fraction

import pytest

from geometry.errors import GeometryError
from geometry.model.log import BatchGrown, Note, RaftMade
from geometry.units import Length
from layout_gui.project.edits_log import Kind, add_entries
from layout_gui.project.log_cells import Ways, paste_rows, read_cell, rows_text
from tests.layout_gui.panels.desk import make_project

PROJECT = add_entries(
    add_entries(make_project(units="in"), "rafts", [RaftMade("R1", bed="Bench", raft="R1")]),
    "batches",
    [BatchGrown("heads", date(2026, 3, 1), 40)],
)
WAYS = Ways(PROJECT)


@pytest.mark.parametrize(
    ("kind", "key", "text", "found"),
    [
        ("rafts", "length", "22 7/8", {"length": Length.of("22 7/8 in")}),
        ("rafts", "length", "581 mm", {"length": Length.of("581 mm")}),
        ("rafts", "sites", "", {"sites": None}),
        ("rafts", "made", "2026-03-31", {"made": date(2026, 3, 31)}),
        ("rafts", "where", "Retired", {"retired": True}),
        ("rafts", "where", "bench R2", {"retired": False, "bed": "Bench", "raft": "R2"}),
        ("rafts", "where", "R2", {"retired": False, "bed": "Bench", "raft": "R2"}),
        ("batches", "grams", "2 lb", {"grams": Fraction(90718474, 10**5)}),
        ("batches", "grams", "1,5 kg", {"grams": Fraction(1500)}),
        ("batches", "per_m2", "2.25/ft2", {"per_m2": Fraction(24218798, 10**6)}),
        ("notes", "about", "r1", {"about": "raft", "of": "R1"}),
        ("notes", "about", "batch heads 2026-03-01", {"about": "batch", "of": "heads 2026-03-01"}),
    ],
)
def test_cells_are_read_as_growers_type_them(
    kind: Kind, key: str, text: str, found: dict[str, object]
) -> None:
    read = read_cell(kind, key, text, WAYS)
    assert {name: getattr(value, "exact", value) for name, value in read.items()} == {
        name: getattr(value, "exact", value) for name, value in found.items()
    }


@pytest.mark.parametrize(
    ("kind", "key", "text", "reason"),
    [
        ("rafts", "sites", "9.5", "no count"),
        ("rafts", "made", "31.02.2026", "no day of the calendar"),
        ("rafts", "where", "the shed", "is no place"),
        ("batches", "sown", "", "no day of the calendar"),
        ("batches", "grams", "two", "no number"),
        ("batches", "share", "5", "follows from the others"),
        ("notes", "about", "R9", "neither a raft nor a batch"),
    ],
)
def test_what_cannot_be_read_is_told(kind: Kind, key: str, text: str, reason: str) -> None:
    with pytest.raises(GeometryError, match=reason):
        read_cell(kind, key, text, WAYS)


def test_rows_go_to_a_spreadsheet_and_come_back_changed_with_rubbish_told_apart() -> None:
    text = rows_text("batches", PROJECT, [0])
    assert text.splitlines()[0].startswith("what\tsown on\tseeds")
    heading, row, *_ = text.splitlines()
    new = row.replace("2026-03-01", "2026-03-08")
    slip = row.replace("2026-03-01", "2026-03-15").replace("\t40\t", "\t40\t50")

    pasted = paste_rows(
        "batches", "\n".join([heading, row.replace("40", "44"), "", new, "what?", slip]), WAYS
    )

    assert (pasted.added, pasted.changed) == (1, 1)
    assert [each.seeds for each in pasted.project.log.batches] == [44, 40]
    assert [each.line for each in pasted.refused] == [5, 6]
    assert "“sown on” is empty" in pasted.refused[0].reason
    assert "50 plants are more than the 40" in pasted.refused[1].reason


def test_rows_without_a_heading_are_in_the_order_of_the_columns() -> None:
    pasted = paste_rows("rafts", "R1;spare\nR2;Bench R1;;K7M-3QF\nR3;Bench R1", WAYS)
    assert [made.place for made in pasted.project.log.rafts] == [
        ("", ""),
        ("", ""),
        ("Bench", "R1"),
    ]
    assert pasted.project.log.rafts[1].code == "K7M-3QF"
    notes = paste_rows("notes", "2026-05-01\tR1\tsplit\n\t\tbuy foam", WAYS).project.log.notes
    assert notes == (
        Note("split", "raft", "R1", date(2026, 5, 1)),
        Note("buy foam", "project", "", None),
    )
