"""The log as pages and tables: read back by an independent library, its sums right.

Source: job map, check L3 (register count = in bed + spare + retired).
"""

import csv
from datetime import date
from fractions import Fraction
from pathlib import Path

from pypdf import PdfReader

from geometry.model.log import BatchGrown, Note, RaftMade
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.output.export import export, file_names
from layout_gui.project.edits_log import add_entries, not_noted, note_made, set_entry
from tests.layout_gui.panels.desk import make_project

DAY = date(2026, 3, 1)


def test_the_log_is_written_as_a_register_and_as_tables(tmp_path: Path) -> None:
    project = make_project()
    plan = make_plan(project)
    project = note_made(project, plan, not_noted(project, plan), DAY)
    project = set_entry(project, "rafts", 0, length=Length.of("22 7/8 in"), sites=8)
    project = set_entry(project, "rafts", 1, retired=True)
    project = add_entries(project, "rafts", [RaftMade("=old"), RaftMade("R9", bed="x", raft="R9")])
    batch = BatchGrown("heads", DAY, 40, 36, None, 30, None, Fraction(6000), Fraction(21))
    project = add_entries(project, "batches", [batch])
    project = add_entries(project, "notes", [Note("split\nat A1", "raft", "R1", DAY)])
    plan = make_plan(project)
    names = frozenset({"register.pdf", "rafts-made.csv", "batches.csv", "notes.csv"})

    assert not names & set(file_names(plan))
    assert len(export(plan, tmp_path, names)) == 4

    pages = [page.extract_text() for page in PdfReader(tmp_path / "register.pdf").pages]
    assert "4 rafts: 1 in beds, 2 spare, 1 retired." in pages[0]
    assert "6.00" in pages[1]
    assert "at A1" in pages[2]
    rafts = _rows(tmp_path / "rafts-made.csv")
    assert [row["label"] for row in rafts] == ["R1", "R2", "'=old", "R9"]
    assert (rafts[0]["length_mm"], rafts[0]["bed"], rafts[0]["sites"]) == ("581.025", "Bench", "8")
    assert (rafts[1]["retired"], rafts[1]["raft"]) == ("yes", "")
    assert _rows(tmp_path / "batches.csv") == [
        {
            "run": "heads", "sown": "2026-03-01", "seeds": "40", "up": "36", "set": "",
            "picked": "30", "picked_on": "", "grams": "6000", "per_m2": "21",
        }
    ]  # fmt: skip
    assert _rows(tmp_path / "notes.csv")[0]["text"] == "split at A1"


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))
