"""The guide by itself: what it asks about beside the answers, and what clears it."""

import pytest
from pytestqt.qtbot import QtBot

from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.units import Length, Unit
from layout_gui.document.document import Document
from layout_gui.panels.guide import DONE, Guide
from layout_gui.project.first import first_project
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_document,
    make_project,
    now_of,
)

pytestmark = OFFSCREEN

mm = Length.of


def make_guide(qtbot: QtBot, document: Document, unit: Unit = "mm") -> Guide:
    guide = Guide(document, LIGHT, unit)
    qtbot.addWidget(guide)
    guide.open(now_of(document))
    keep_showing(document, guide.show_now)
    return guide


def test_a_slip_of_the_pen_is_asked_about_and_holds_nothing_up(qtbot: QtBot) -> None:
    bed = Bed("Bed 1", Rectangle(mm(93), mm(580)), mm(1))
    document = make_document(make_project(bed))
    guide = make_guide(qtbot, document)
    guide.go_to("inside")

    assert guide.asked == (
        "Is the bed's length really 93 mm? Usual is 200 mm or more. Was 2362.2 mm meant?"
    )
    assert guide.cure.text() == "Set the bed's length to 2362.2 mm"
    guide.go_on()
    assert guide.at == "levels"
    guide.go_back()
    guide.cure.click()

    assert document.project.beds[0].outline == Rectangle(mm(2362.2), mm(580))
    assert document.undo_stack.undoText() == "Set the bed's length to 2362.2 mm"
    assert guide.asked == ""
    assert guide.cure.isHidden()


def test_a_bed_too_narrow_for_a_hole_says_why_and_what_makes_room(qtbot: QtBot) -> None:
    document = make_document(first_project(mm(1200), mm(125), "lettuce, head", "mm"))
    guide = make_guide(qtbot, document)
    assert guide.at == DONE
    assert document.plan.plants == 0

    assert guide.asked.startswith("There is no room for a hole. ")
    assert guide.cure.text() == "Set the edge margin to 52.5 mm"
    guide.cure.click()

    assert document.plan.plants > 0
    assert document.undo_stack.count() == 1
    assert not guide.done_page.look.isHidden()


@pytest.mark.parametrize(("width", "is_full"), [(60, False), (580, True)])
def test_the_end_offers_only_what_can_come_next(qtbot: QtBot, width: int, *, is_full: bool) -> None:
    document = make_document(first_project(mm(1200), mm(width), "lettuce, head", "mm"))
    page = make_guide(qtbot, document).done_page

    assert page.look.isHidden() is not is_full
    assert page.make.isHidden() is not is_full
    assert not page.save.isHidden()
    assert not page.answers["inside"].isHidden()
