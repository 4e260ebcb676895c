"""What the shopping list goes by, typed in the window."""

from fractions import Fraction
from typing import Any

import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from geometry.model.supplies import Packed, Strip, parse_coverage, parse_volume
from geometry.units import Length, parse_length
from layout_gui.document.document import Document
from layout_gui.panels.fields import LengthField
from layout_gui.panels.supplies_part import SuppliesPart
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, make_project

pytestmark = OFFSCREEN


def make_part(qtbot: QtBot) -> tuple[SuppliesPart, Document]:
    document = make_document(make_project())
    part = SuppliesPart(document)
    qtbot.addWidget(part)
    keep_showing(document, part.show_now)
    part.show()
    return part, document


def enter(part: SuppliesPart, name: str, text: str) -> None:
    editor = part.form.editor(f"supplies-{name}")
    if isinstance(editor, LengthField):
        editor.committed.emit(parse_length(text, None))
        return
    assert isinstance(editor, QLineEdit)
    editor.setText(text)
    editor.editingFinished.emit()


def test_the_fields_stay_away_until_they_are_wanted(qtbot: QtBot) -> None:
    part, _ = make_part(qtbot)

    assert part.words.text() == "no saws noted; 5 % spares; 2 coats of paint."
    assert not part.form.isVisible()
    part.fold.press.click()
    assert part.form.isVisible()
    part.fold.press.click()
    assert not part.form.isVisible()


@pytest.mark.parametrize(
    ("name", "text", "key", "value"),
    [
        ("saws", "50; 2 in", "saws", (Length.of(50), Length.of("2 in"))),
        ("pots-price", "6,50", "pots", Packed(None, Fraction("6.5"))),
        ("strip-roll", "10 m", "strip", Strip(Length.of("10 m"))),
    ],
)
def test_what_is_typed_is_one_step_that_can_be_undone(
    qtbot: QtBot, name: str, text: str, key: str, value: Any
) -> None:
    part, document = make_part(qtbot)
    before = document.project

    enter(part, name, text)

    assert getattr(document.project.supplies, key) == value
    document.undo_stack.undo()
    assert document.project == before


def test_paint_is_typed_as_the_tin_says(qtbot: QtBot) -> None:
    part, document = make_part(qtbot)

    enter(part, "coverage", "350 ft2/gal")
    enter(part, "tin", "2.5 L")

    paint = document.project.supplies.paint
    assert paint.coverage == parse_coverage("350 ft2/gal", None)
    assert paint.tin == parse_volume("2.5 L", None)
    enter(part, "tin", "")
    assert document.project.supplies.paint.tin is None


def test_counts_have_a_least_that_means_none(qtbot: QtBot) -> None:
    part, document = make_part(qtbot)

    part.form.editor("supplies-spares").stepped.emit(None)  # type: ignore[union-attr]
    part.form.editor("supplies-coats").stepped.emit(None)  # type: ignore[union-attr]

    assert document.project.supplies.spares == 0
    assert part.words.text() == "no saws noted; 0 % spares; no paint."


@pytest.mark.parametrize(
    ("name", "text"), [("saws", "fifty"), ("saws", "0"), ("coverage", "much"), ("tin", "5 kg")]
)
def test_what_cannot_be_is_refused_in_a_sentence(qtbot: QtBot, name: str, text: str) -> None:
    part, document = make_part(qtbot)
    before = document.project

    enter(part, name, text)

    assert document.project == before
    assert part.form.rows[f"supplies-{name}"].note.text().startswith("! ")
