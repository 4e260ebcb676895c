"""Every box of the measuring page has one field in the window, and every field its box."""

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from geometry.beds.shapes import SHAPES, ShapeName
from geometry.drawing.measuring import OBSTACLE_COLUMNS, floor_blank, lean_blanks, measure_blanks
from geometry.model.bed import Bed, Obstacle, Spot
from geometry.model.outlines import Disc, Outline, Rectangle
from geometry.model.project import Project
from geometry.units import Length, Unit
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.bed_panel import BedPanel
from layout_gui.panels.form import Form
from layout_gui.panels.guide import Guide
from layout_gui.panels.levels_part import LevelsPart
from layout_gui.project.first import outline_of, usual_outline, values_of
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, now_of

pytestmark = OFFSCREEN


def _guide(qtbot: QtBot, outline: Outline, unit: Unit = "mm") -> tuple[Guide, Document]:
    document = make_document(Project("test", unit, (Bed("Bed 1", outline),)))
    guide = Guide(document, LIGHT, unit)
    qtbot.addWidget(guide)
    keep_showing(document, guide.show_now)
    guide.open(now_of(document))
    return guide, document


def _shown(*forms: Form) -> list[str]:
    return [name for form in forms for name, row in form.rows.items() if not row.editor.isHidden()]


@pytest.mark.parametrize("shape", SHAPES)
def test_each_measure_has_one_box_and_one_field(qtbot: QtBot, shape: ShapeName) -> None:
    guide, document = _guide(qtbot, usual_outline(shape, "mm"))
    guide.go_to("inside", now_of(document))
    page = guide.inside_page

    if shape == "free":
        assert not page.corners.isHidden()
        assert list(page.corners.form.rows) == ["guide-corner-x", "guide-corner-y"]
        return
    boxes = [blank.field for blank in measure_blanks(shape)]
    assert sorted(boxes) == sorted(_shown(page.form, page.again_form))
    for name in boxes:
        assert len(page.findChildren(QWidget, name)) == 1


@pytest.mark.parametrize("shape", SHAPES)
def test_walls_that_lean_have_a_box_for_each_field(qtbot: QtBot, shape: ShapeName) -> None:
    guide, document = _guide(qtbot, usual_outline(shape, "mm"))
    guide.go_to("levels", now_of(document))
    page = guide.levels_page
    boxes = [blank.field for blank in lean_blanks(shape)]
    levels = LevelsPart(document)
    qtbot.addWidget(levels)

    assert len(levels.findChildren(QWidget, floor_blank().field)) == 1
    assert _shown(page.floor) == ["guide-floor"]
    assert page.walls.isEnabled() is bool(boxes)
    if boxes:
        page.walls.committed.emit(True)
        assert boxes == _shown(page.form)


@pytest.mark.parametrize("shape", [shape for shape in SHAPES if shape != "free"])
def test_what_is_written_into_the_boxes_comes_back_from_the_bed(shape: ShapeName) -> None:
    sizes = {"length": 2000, "width": 900, "diameter": 900, "corner_radius": 80}
    names = [blank.field.removeprefix("guide-") for blank in measure_blanks(shape)]
    usual = {"diagonal-1": 2190, "diagonal-2": 2195}
    values = {
        name: Length.of(
            sizes.get(name) or usual.get(name) or (1990 if name.startswith("length") else 450)
        )
        for name in names
    }

    assert values_of(shape, outline_of(shape, values)) == values


@pytest.mark.parametrize("shape", [Disc(Length.of(40)), Rectangle(Length.of(90), Length.of(30))])
def test_what_is_measured_of_an_obstacle_has_its_fields(qtbot: QtBot, shape: Outline) -> None:
    pipe = Obstacle("pipe", shape, Spot(Length.of(300), Length.of(60)))
    bed = Bed("Bed 1", usual_outline("rectangle", "mm"), obstacles=(pipe,))
    document = make_document(Project("test", "mm", (bed,)))
    panel = BedPanel(document, Selection())
    qtbot.addWidget(panel)
    panel.show_now(now_of(document))
    columns = {field for field, _, _ in OBSTACLE_COLUMNS}
    shown = set(_shown(panel.obstacle_form))
    others = {"obstacle-kind", "obstacle-at", "obstacle-corner_radius"}

    assert {name for name in shown - others if "turn" not in name} == columns - (
        {"obstacle-length", "obstacle-width"} if isinstance(shape, Disc) else {"obstacle-diameter"}
    )
    assert "bed-name" in panel.form.rows


def test_the_guide_asks_for_the_page_of_the_picked_shape(qtbot: QtBot) -> None:
    guide, document = _guide(qtbot, usual_outline("rectangle", "in"), "in")
    guide.go_to("shape", now_of(document))
    guide.shape_page.tiles["round"].setChecked(True)

    with qtbot.waitSignal(guide.measuring_wanted) as wanted:
        guide.shape_page.measuring.click()

    assert wanted.args == ["round"]
    assert guide.unit == "in"
