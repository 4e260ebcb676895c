"""The sight Crops: found, copied, changed, planted, kept and taken over."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.crops_sight import CropsSight
from layout_gui.panels.holes_panel import crop_options
from layout_gui.panels.words import DASH
from layout_gui.project.crop_file import CropFile
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_document,
    make_project,
    now_of,
)

pytestmark = OFFSCREEN


@pytest.fixture
def document() -> Document:
    return make_document(make_project())


@pytest.fixture
def sight(qtbot: QtBot, document: Document, tmp_path: Path) -> CropsSight:
    made = CropsSight(document, CropFile(tmp_path / "crops.json"))
    qtbot.addWidget(made)
    made.resize(700, 700)
    made.show()
    keep_showing(document, made.show_now)
    return made


def names(sight: CropsSight) -> list[str]:
    items = (sight.table.topLevelItem(at) for at in range(sight.table.topLevelItemCount()))
    return [item.text(0) for item in items if item is not None]


def test_the_crop_of_the_bed_is_shown_with_every_source(qtbot: QtBot, sight: CropsSight) -> None:
    said, figures = sight.details.words, sight.details.figures
    qtbot.waitUntil(lambda: figures.height() > 600)  # none of them is squeezed out of sight

    assert sight.picked == "lettuce, head"
    assert f"24{DASH}32 days" in said
    assert f"40{DASH}60 days" in said
    assert "read in the source" in said
    assert (
        f"No value in common: 24 days (Rutgers Horticultural Engineering) and 40{DASH}60 days"
        in said
    )
    assert f"square grids of 180{DASH}300 mm have 11.1{DASH}30.9 per m²" in said
    assert not sight.details.form.isVisible()


def test_crops_are_found_by_name_and_by_source(sight: CropsSight) -> None:
    sight.filter.setText("walters basil")
    assert names(sight) == ["basil, 8 in"]
    assert "203 mm" in sight.details.words
    sight.filter.setText("memory")
    assert names(sight)[0] == "Swiss chard"
    assert not sight.details.plant.isVisible()  # it is copied and checked first
    sight.filter.setText("no such thing")
    assert names(sight) == []
    assert "Write less" in sight.details.subtitle
    assert not sight.details.plant.isVisible()


def test_a_crop_is_copied_changed_planted_and_removed(
    qtbot: QtBot, sight: CropsSight, document: Document
) -> None:
    sight.details.copy.click()
    assert names(sight)[0] == sight.picked == "my lettuce, head"
    assert crop_options(now_of(document))[1][0] == "my lettuce, head"  # own crops come first
    form = sight.details.form
    assert form.isVisible()
    form.editor("crop-spacing").committed.emit(Length.of("9 in"))  # type: ignore[union-attr]
    form.editor("crop-name").committed.emit("butterhead")  # type: ignore[union-attr]
    form.editor("crop-days").stepped.emit(33)  # type: ignore[union-attr]
    [crop] = document.project.crops
    assert (crop.name, crop.spacing, crop.days) == ("butterhead", Length.of("9 in"), 33)
    assert sight.picked == "butterhead"
    qtbot.keyClick(sight.table, Qt.Key.Key_Return)
    planting = document.project.beds[0].planting
    assert planting is not None
    assert (planting.crop, planting.spacing) == ("butterhead", Length.of("9 in"))
    sight.details.remove.click()
    assert document.project.crops == ()
    for _ in range(6):
        document.undo_stack.undo()
    assert document.project.crops == ()
    assert document.project.beds[0].planting != planting


def test_a_new_crop_is_kept_and_taken_into_another_project(
    qtbot: QtBot, sight: CropsSight, document: Document
) -> None:
    sight.fresh.click()
    assert sight.picked == "new crop"
    sight.details.keep.click()
    assert sight.details.forget.isVisible()
    document.start(replace(make_project(), name="another"))
    sight.taking.aboutToShow.emit()
    [offered] = sight.taking.actions()
    offered.trigger()
    assert [crop.name for crop in document.project.crops] == ["new crop"]
    sight.details.forget.click()
    sight.taking.aboutToShow.emit()
    assert "None kept yet" in sight.taking.actions()[0].text()
