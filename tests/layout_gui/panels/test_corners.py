"""A free outline is typed corner by corner."""

from pytestqt.qtbot import QtBot

from geometry.model.outlines import Outline, Polygon, Rectangle
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.corners import Corners
from layout_gui.panels.now import Now
from layout_gui.panels.outlines import outline_of_kind
from layout_gui.project import edits
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
)

pytestmark = OFFSCREEN

BOX = Rectangle(Length.of(1200), Length.of(600))


def read(now: Now) -> Outline | None:
    return now.bed.outline if now.bed else None


def write(now: Now, outline: Outline) -> Project:
    return edits.set_outline(now.project, "Bench", outline)


def make_corners(qtbot: QtBot, outline: Outline) -> tuple[Corners, Document]:
    document = make_document(make_project(make_bench(outline=outline, obstacles=())))
    corners = Corners(read, write, document, "bed")
    qtbot.addWidget(corners)
    corners.show()
    keep_showing(document, corners.show_now)
    return corners, document


def points(document: Document) -> list[tuple[float, float]]:
    outline = document.project.beds[0].outline
    assert isinstance(outline, Polygon)
    return [(x.mm, y.mm) for x, y in outline.points]


def test_another_kind_of_outline_has_no_corners_to_type(qtbot: QtBot) -> None:
    corners, _ = make_corners(qtbot, BOX)

    assert not corners.isVisible()


def test_the_picked_corner_is_moved_by_typing(qtbot: QtBot) -> None:
    corners, document = make_corners(qtbot, outline_of_kind(BOX, Polygon))
    assert corners.isVisible()

    corners.items.list.setCurrentRow(2)
    corners.form.editor("corner-x").committed.emit(Length.of(1100))
    corners.form.editor("corner-y").committed.emit(Length.of("50 cm"))

    assert points(document) == [(0, 0), (1200, 0), (1100, 500), (0, 600)]
    assert document.undo_stack.undoText() == "From the bottom 50 cm"


def test_a_corner_is_added_half_way_and_removed_again(qtbot: QtBot) -> None:
    corners, document = make_corners(qtbot, outline_of_kind(BOX, Polygon))
    corners.items.list.setCurrentRow(3)

    corners.items.buttons["Add"].click()
    assert points(document)[-1] == (0, 300)
    assert corners.items.row == 4
    corners.items.buttons["Remove"].click()
    assert len(points(document)) == 4


def test_three_corners_are_the_fewest(qtbot: QtBot) -> None:
    corners, document = make_corners(qtbot, outline_of_kind(BOX, Polygon))

    corners.items.buttons["Remove"].click()

    assert len(points(document)) == 3
    assert not corners.items.buttons["Remove"].isEnabled()
