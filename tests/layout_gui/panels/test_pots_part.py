"""The pot of a bed, its seat and the saws, in the fields of the station Holes."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.now import Now
from layout_gui.panels.pots_part import PotsPart
from layout_gui.project.edits import add_zone, fresh_zone
from layout_gui.project.edits_supplies import set_supplies
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, make_project

pytestmark = OFFSCREEN
SMALL = "net pot, 2 in rim"


def make_part(qtbot: QtBot) -> tuple[PotsPart, Document]:
    document = make_document(make_project())
    part = PotsPart(document)
    qtbot.addWidget(part)
    keep_showing(document, part.show_now)
    part.show()
    part.fold.press.click()
    return part, document


def test_a_starting_pot_is_one_step_and_shows_how_it_sits_and_which_saw_to_take(
    qtbot: QtBot,
) -> None:
    part, document = make_part(qtbot)
    assert not part.picture.isVisible()
    assert part.saws.rows == []

    part.starts[0].click()

    assert document.project.beds[0].planting.pot == SMALL  # type: ignore[union-attr]
    assert part.words.text() == (
        f"A hole of 50 mm for {SMALL}: loose, 6.5 mm of play, rim on 0.4 mm of foam."
    )
    assert part.fold.note.text() == f"{SMALL}: loose"
    assert part.picture.isVisible()
    # Common practice, no source (job map H4): 1 3/4 in for a 2 in pot.
    assert part.saws.rows == [
        (
            "44.45 mm (1 3/4 in)",
            "slips in, 1 mm of play, rim on 3.2 mm of foam; not among your saws",
        )
    ]
    assert not part.picture.grab().toImage().isNull()

    document.undo_stack.undo()
    assert document.project.pots == ()


def test_each_owned_saw_has_a_row_and_drills_with_one_press(qtbot: QtBot) -> None:
    part, document = make_part(qtbot)
    part.starts[0].click()
    saws = tuple(Length.of(size) for size in ("1 3/4 in", "50 mm", "2 1/2 in"))
    supplies = replace(document.project.supplies, saws=saws)
    document.apply("Saws", set_supplies(document.project, supplies))

    assert [(size, words.split(",")[0]) for size, words in part.saws.rows] == [
        ("44.45 mm (1 3/4 in)", "slips in"),
        ("50 mm", "loose"),
        ("63.5 mm (2 1/2 in)", "falls through"),
    ]
    assert part.saws.rows[1][1].endswith("drilled now")
    press = part.saws.buttons[0]
    assert isinstance(press, QPushButton)
    press.click()

    assert document.project.beds[0].planting.hole_diameter == saws[0]  # type: ignore[union-attr]
    assert part.words.text().startswith(f"A hole of 44.5 mm for {SMALL}: slips in")
    assert document.undo_stack.undoText() == "Drill with 44.45 mm"


def test_the_picked_zone_shows_its_own_pot_and_drills_its_own_holes(qtbot: QtBot) -> None:
    part, document = make_part(qtbot)
    part.starts[0].click()
    bed = document.project.beds[0]
    zone = fresh_zone(bed, rafts=("R1",))
    document.apply("Zone", add_zone(document.project, bed.name, zone))
    part.show_now(Now(document.project, document.plan, bed.name, zone=zone.name))

    assert part.words.text().startswith(f"In the zone “{zone.name}”: A hole of 50 mm")
    press = part.saws.buttons[0]
    assert isinstance(press, QPushButton)
    press.click()

    bed = document.project.beds[0]
    assert bed.zones[0].rules.hole_diameter == Length.of("1 3/4 in")
    assert bed.planting.hole_diameter == Length.of(50)  # type: ignore[union-attr]


@pytest.mark.parametrize(("text", "kept"), [("35 mm", True), ("70 mm", False)])
def test_a_measure_of_the_picked_pot_is_one_step_or_refused(
    qtbot: QtBot, text: str, kept: bool
) -> None:
    part, document = make_part(qtbot)
    part.starts[0].click()

    part.form.editor("pot-foot").committed.emit(Length.of(text))  # type: ignore[union-attr]

    assert (document.project.pots[0].foot == Length.of(text)) is kept
    assert (document.undo_stack.count() == 2) is kept


def test_removing_a_pot_that_is_named_says_so_and_is_one_step(qtbot: QtBot) -> None:
    part, document = make_part(qtbot)
    part.starts[2].click()
    assert part.items.list.item(0).text() == "25 mm plug in a collar, in 1 place"
    assert not part.form.editor("pot-rim").isVisible()
    assert part.form.editor("pot-collar").isVisible()

    part.items.buttons["Remove"].click()

    assert document.undo_stack.undoText() == ("Remove pot 25 mm plug in a collar, named in 1 place")
    assert document.project.pots == ()
    assert document.project.beds[0].planting.pot == ""  # type: ignore[union-attr]
    document.undo_stack.undo()
    assert document.project.beds[0].planting.pot  # type: ignore[union-attr]
