"""A bed goes from one window to another over the clipboard."""

from dataclasses import replace

from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui.document.selection import Selection
from layout_gui.windows.bed_work import BedWork
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project

pytestmark = OFFSCREEN


def test_a_bed_is_copied_into_another_project_and_beside_itself(qtbot: QtBot) -> None:
    source = make_document(make_project())
    bed = source.project.beds[0]
    picked, said, refused = Selection(), [], []
    picked.set_bed(bed.name)
    BedWork(source, picked, refused.append, said.append).copy()

    target, shown = make_document(Project("other")), Selection()
    there = BedWork(target, shown, refused.append, said.append)
    there.paste()
    there.paste()

    assert target.project.beds == (bed, replace(bed, name=f"{bed.name} 2"))
    assert shown.bed == f"{bed.name} 2"
    assert target.undo_stack.undoText() == f"Paste bed {bed.name} 2"
    assert refused == []

    before = target.project
    for rubbish in ("", "{}", "A1\t10\t20", '{"format": "raftwright", "version": 1, "name": "x"}'):
        QGuiApplication.clipboard().setText(rubbish)
        there.paste()
    assert refused == ["There is no bed on the clipboard: copy one first."] * 4
    assert target.project is before
