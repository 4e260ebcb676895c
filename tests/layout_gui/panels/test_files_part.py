"""Every file that a plan can be written as has a switch, and only the usual ones are in sight."""

from pytestqt.qtbot import QtBot

from geometry.plan import make_plan
from layout_gui.output.drawings import kind_of
from layout_gui.output.export import file_names, offered_names
from layout_gui.panels.files_part import FilesPart
from tests.layout_gui.panels.desk import OFFSCREEN, make_project

pytestmark = OFFSCREEN

PLAN = make_plan(make_project())


def make_part(qtbot: QtBot) -> FilesPart:
    part = FilesPart()
    qtbot.addWidget(part)
    part.show()
    return part


def test_each_file_that_can_be_written_has_a_switch_and_each_switch_a_file(qtbot: QtBot) -> None:
    part = make_part(qtbot)

    assert part.switches.keys() == {kind_of(name) for name in offered_names(PLAN)}
    folded = [kind for _, kinds in part.folds for kind in kinds]
    in_sight = {kind for kind, switch in part.switches.items() if switch.isVisible()}
    assert len(folded) == len(set(folded))
    assert in_sight == part.switches.keys() - set(folded)
    assert part.kinds == in_sight
    assert in_sight < {kind_of(name) for name in file_names(PLAN)}


def test_a_fold_says_how_many_of_its_files_are_chosen(qtbot: QtBot) -> None:
    part = make_part(qtbot)
    fold, kinds = part.folds[-1]
    assert fold.note.isHidden()

    fold.press.click()
    for kind in (".dxf", ".svg"):
        part.switches[kind].click()

    assert {".dxf", ".svg"} < kinds
    assert part.switches[".dxf"].isVisible()
    assert fold.note.text() == "2 files chosen"
    assert fold.note.isVisible()
    assert "2 files chosen" in fold.press.accessibleName()
    assert fold.press.accessibleName().endswith("open")
    fold.press.click()
    assert not part.switches[".dxf"].isVisible()
    assert part.kinds >= {".dxf", ".svg"}
