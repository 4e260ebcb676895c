"""The offer to move the joints, and the line about what the joint rule costs."""

import pytest
from pytestqt.qtbot import QtBot

from geometry.model.bed import Bed, One, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import JointRule, Planting
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.joints_offer import JointsOffer
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, make_project

pytestmark = OFFSCREEN


def bed_that_gains(joints: JointRule = "separate", **changes: object) -> Bed:
    """Two rafts of 640 mm: 520 mm for centres hold three columns, 80 mm more hold a fourth."""
    planting = Planting(
        Length.of(200), Length.of(50), pattern="square", edge_margin=Length.of(60), joints=joints
    )
    bed = Bed(
        "Bench",
        Rectangle(Length.of(1290), Length.of(580)),
        joint_gap=Length.of(10),
        rafts=Split(2),
        planting=planting,
    )
    return Bed(**{name: changes.get(name, getattr(bed, name)) for name in Bed.__slots__})


def make_offer(qtbot: QtBot, bed: Bed) -> tuple[JointsOffer, Document]:
    document = make_document(make_project(bed))
    offer = JointsOffer(document)
    qtbot.addWidget(offer)
    keep_showing(document, offer.show_now)
    return offer, document


def test_a_better_place_is_found_taken_and_undone(qtbot: QtBot) -> None:
    offer, document = make_offer(qtbot, bed_that_gains())
    before = document.project

    offer.look_button.click()
    assert offer.is_looking
    assert offer.look_button.isHidden()
    qtbot.waitUntil(lambda: not offer.is_looking, timeout=60_000)

    assert offer.result.text() == (
        "Moving the joints 80 mm along the bed gives 3 more plants: 21 instead of 18. "
        "It takes 2 raft designs instead of 1."
    )
    offer.take_button.click()
    assert document.project.beds[0].rafts == Split(2, 1, Length.of(80))
    assert document.plan.plants == 21
    assert document.undo_stack.undoText() == "Move the joints"
    assert offer.result.text() == ""
    document.undo_stack.undo()
    assert document.project == before


def test_the_search_can_be_cancelled_and_changes_end_it(qtbot: QtBot) -> None:
    offer, document = make_offer(qtbot, bed_that_gains())

    offer.look()
    offer.cancel_button.click()
    assert not offer.is_looking
    assert not offer.look_button.isHidden()

    offer.look()
    document.apply("", make_project(bed_that_gains(joint_gap=Length.of(12))))
    assert not offer.is_looking
    assert offer.result.text() == ""


@pytest.mark.parametrize(
    ("joints", "words"),
    [
        ("interchangeable", "12 in this bed, bed-wide 18: being interchangeable costs 6."),
        ("bed-wide", "Interchangeable rafts would hold 12, 6 fewer than bed-wide."),
    ],
)
def test_what_the_joint_rule_costs_is_told_when_the_project_rests(
    qtbot: QtBot, joints: JointRule, words: str
) -> None:
    # Rafts of 585: bed-wide three columns each; between seams 395 mm hold two (by hand).
    bed = bed_that_gains(joints, outline=Rectangle(Length.of(1180), Length.of(580)))
    offer, _ = make_offer(qtbot, bed)
    qtbot.waitUntil(lambda: bool(offer.cost.text()), timeout=10_000)
    assert offer.cost.text() == words


def test_without_joints_there_is_nothing_to_offer(qtbot: QtBot) -> None:
    offer, document = make_offer(qtbot, bed_that_gains(rafts=One()))
    assert offer.isHidden()
    offer.look()
    assert not offer.is_looking
    document.apply("", make_project(bed_that_gains(planting=None)))
    assert offer.isHidden()
