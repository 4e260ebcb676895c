"""Editors: what they read, refuse, step and leave alone."""

from collections.abc import Callable
from fractions import Fraction

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QKeySequence, QShortcut, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from geometry.units import Length, Unit
from layout_gui.panels.fields import (
    MIXED,
    ChoiceField,
    CountField,
    LengthField,
    LengthsField,
    NumberField,
    SwitchField,
    TextField,
)
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN

NONE = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
CTRL = Qt.KeyboardModifier.ControlModifier


class Stage(QWidget):
    """An active window with fields, and a neighbour that the focus can move to."""

    def __init__(self, qtbot: QtBot, *fields: QWidget) -> None:
        super().__init__()
        self.neighbour = QLineEdit()
        box = QVBoxLayout(self)
        for field in (self.neighbour, *fields):
            box.addWidget(field)
        qtbot.addWidget(self)
        with qtbot.waitActive(self):
            self.show()
            self.activateWindow()
        self.neighbour.setFocus()

    def leave(self) -> None:
        self.neighbour.setFocus()


def make_length(qtbot: QtBot, value: object, unit: Unit = "mm") -> tuple[LengthField, Stage]:
    field = LengthField()
    field.set_unit(unit)
    field.show_value(value)
    stage = Stage(qtbot, field)
    field.setFocus()
    return field, stage


def heard(signal: object) -> list[object]:
    values: list[object] = []
    signal.connect(values.append)  # type: ignore[attr-defined]
    return values


def wheel(field: QWidget, steps: int, modifiers: Qt.KeyboardModifier = NONE) -> bool:
    """Turn the wheel over a field; return whether the field took the event."""
    place = QPointF(5, 5)
    event = QWheelEvent(
        place,
        place,
        QPoint(),
        QPoint(0, 120 * steps),
        Qt.MouseButton.NoButton,
        modifiers,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(field, event)
    return event.isAccepted()


@pytest.mark.parametrize(
    ("typed", "unit", "exact"),
    [
        ("200", "mm", Fraction(200)),
        ("20", "cm", Fraction(200)),
        ("7 1/2 in", "mm", Fraction(381, 2)),
        ("7 1/2", "in", Fraction(381, 2)),
        ("0,19 m", "in", Fraction(190)),
    ],
)
def test_a_length_is_read_in_the_units_of_the_project(
    qtbot: QtBot, typed: str, unit: Unit, exact: Fraction
) -> None:
    field, _stage = make_length(qtbot, Length.of(185), unit)
    committed = heard(field.committed)

    QTest.keyClicks(field, typed)
    QTest.keyClick(field, Qt.Key.Key_Return)

    assert committed == [Length(exact)]


def test_leaving_the_field_commits_and_leaving_it_untouched_does_not(qtbot: QtBot) -> None:
    field, stage = make_length(qtbot, Length.of("7 1/64 in"))
    committed = heard(field.committed)

    stage.leave()
    assert committed == []
    field.setFocus()
    QTest.keyClicks(field, "180")
    stage.leave()

    assert committed == [Length.of(180)]


def test_a_text_that_is_no_length_is_refused_with_the_reason_and_stays(qtbot: QtBot) -> None:
    field, stage = make_length(qtbot, Length.of(185))
    refused, committed = heard(field.refused), heard(field.committed)

    QTest.keyClicks(field, "1 200 mm")
    stage.leave()

    assert committed == []
    assert "two numbers in a row" in str(refused[-1])
    assert field.text() == "1 200 mm"
    field.show_value(Length.of(185))
    assert field.text() == "1 200 mm"


def test_escape_brings_the_old_value_back(qtbot: QtBot) -> None:
    field, _stage = make_length(qtbot, Length.of(185))
    reverted, refused = [], heard(field.refused)
    field.reverted.connect(lambda: reverted.append(True))

    QTest.keyClicks(field, "hello")
    QTest.keyClick(field, Qt.Key.Key_Escape)

    assert field.text() == "185 mm"
    assert reverted == [True]
    assert refused[-1] == ""


def test_undo_in_a_field_is_the_windows_unless_there_is_a_text_to_undo(qtbot: QtBot) -> None:
    field, stage = make_length(qtbot, Length.of(185))
    undone: list[bool] = []
    QShortcut(QKeySequence.StandardKey.Undo, stage, lambda: undone.append(True))

    QTest.keyClicks(field, "190")
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert undone == []
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "185 mm"
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)

    assert undone == [True]


def test_a_text_being_typed_is_left_alone_but_another_value_replaces_a_refused_one(
    qtbot: QtBot,
) -> None:
    field, stage = make_length(qtbot, Length.of(185))
    QTest.keyClicks(field, "17")
    field.show_value(Length.of(200))
    assert field.text() == "17"

    field.revert()
    QTest.keyClicks(field, "??")
    stage.leave()
    refused = heard(field.refused)
    field.show_value(Length.of(150))

    assert field.text() == "150 mm"
    assert refused == [""]


@pytest.mark.parametrize(
    ("unit", "modifiers", "exact"),
    [
        ("mm", NONE, Fraction(191)),
        ("mm", SHIFT, Fraction(200)),
        ("mm", CTRL, Fraction(1901, 10)),
        ("in", NONE, Fraction(190) + Fraction(254, 160)),
        ("in", SHIFT, Fraction(190) + Fraction(254, 16)),
        ("in", CTRL, Fraction(190) + Fraction(254, 1600)),
    ],
)
def test_arrows_and_wheel_step_by_a_millimetre_or_a_sixteenth(
    qtbot: QtBot, unit: Unit, modifiers: Qt.KeyboardModifier, exact: Fraction
) -> None:
    field, _stage = make_length(qtbot, Length.of(190), unit)
    stepped = heard(field.stepped)

    QTest.keyClick(field, Qt.Key.Key_Up, modifiers)
    QTest.keyClick(field, Qt.Key.Key_Down, modifiers)
    wheel(field, 1, modifiers)

    assert stepped == [Length(exact), Length.of(190), Length(exact)]


def test_a_value_shown_again_stays_ready_to_be_typed_over(qtbot: QtBot) -> None:
    field, stage = make_length(qtbot, Length.of(2400))
    values = heard(field.committed)

    field.show_value(Length.of(2400))
    field.set_unit("in")
    QTest.keyClicks(field, "93")
    stage.leave()

    assert values == [Length.of("93 in")]


def test_a_step_never_goes_below_zero(qtbot: QtBot) -> None:
    field, _stage = make_length(qtbot, Length.of("0.5 mm"))
    stepped = heard(field.stepped)

    QTest.keyClick(field, Qt.Key.Key_Down)

    assert stepped == []
    assert field.text() == "0.5 mm"


def test_the_wheel_changes_nothing_without_the_focus(qtbot: QtBot) -> None:
    choice, count = ChoiceField(), CountField()
    choice.set_options(((1, "one"), (2, "two")))
    choice.show_value(1)
    count.show_value(3)
    length, stage = make_length(qtbot, Length.of(190))
    stage.leave()
    for field in (choice, count):
        qtbot.addWidget(field)
        field.show()

    taken = [wheel(field, 1) for field in (length, choice, count)]

    assert taken == [False, False, False]
    assert (length.value(), choice.value(), count.value()) == (Length.of(190), 1, 3)


def test_an_empty_length_is_refused_unless_it_means_something(qtbot: QtBot) -> None:
    field, _stage = make_length(qtbot, Length.of(185))
    refused, committed = heard(field.refused), heard(field.committed)
    field.lineEdit().clear()
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert committed == []
    assert refused[-1]

    free = LengthField(empty_means="as the spacing")
    free.show_value(Length.of(185))
    stage = Stage(qtbot, free)
    assert stage.isVisible()
    free.setFocus()
    committed = heard(free.committed)
    free.lineEdit().clear()
    QTest.keyClick(free, Qt.Key.Key_Return)
    assert committed == [None]


def test_values_that_differ_are_shown_as_mixed_and_not_committed(qtbot: QtBot) -> None:
    field, stage = make_length(qtbot, MIXED)
    committed = heard(field.committed)

    stage.leave()

    assert field.text() == ""
    assert field.lineEdit().placeholderText() == "mixed"
    assert committed == []
    field.setFocus()
    QTest.keyClicks(field, "40")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert committed == [Length.of(40)]


@pytest.mark.parametrize(
    ("make", "text", "reason"),
    [
        (TextField, "", "A name is needed"),
        (NumberField, "cheap", "not a number"),
        (NumberField, "-3", "below zero"),
        (lambda: LengthsField(counts=(0, 2)), "2000", "0 or 2 lengths"),
        (lambda: LengthsField(counts=(1, 2)), "2000; x", "x"),
    ],
)
def test_other_texts_are_refused_with_a_reason(
    qtbot: QtBot, make: Callable[[], TextField], text: str, reason: str
) -> None:
    field = make()
    qtbot.addWidget(field)
    field.show_value("before" if type(field) is TextField else None)
    refused, committed = heard(field.refused), heard(field.committed)

    field.setText(text or " ")
    field.editingFinished.emit()

    assert committed == []
    assert reason in str(refused[-1])


@pytest.mark.parametrize(
    ("make", "text", "value"),
    [
        (TextField, "South bed", "South bed"),
        (lambda: NumberField(empty_means="not known"), "14,50", Fraction(29, 2)),
        (
            lambda: LengthsField(counts=(1, 2, 3)),
            "58 cm; 577 mm",
            (Length.of(580), Length.of(577)),
        ),
    ],
)
def test_other_texts_are_read(
    qtbot: QtBot, make: Callable[[], TextField], text: str, value: object
) -> None:
    field = make()
    qtbot.addWidget(field)
    committed = heard(field.committed)

    field.setText(text)
    field.editingFinished.emit()

    assert committed == [value]


def test_the_least_count_stands_for_what_empty_means(qtbot: QtBot) -> None:
    field = CountField(empty_means="as many as needed")
    qtbot.addWidget(field)
    field.show_value(None)
    stepped = heard(field.stepped)

    assert field.text() == "as many as needed"
    field.stepUp()
    field.stepDown()

    assert stepped == [1, None]


def test_showing_a_value_commits_nothing(qtbot: QtBot) -> None:
    choice, count, switch = ChoiceField(), CountField(), SwitchField()
    for field in (choice, count, switch):
        qtbot.addWidget(field)
    choice.set_options(((1, "one"), (2, "two")))
    values = [*heard(choice.committed), *heard(count.stepped), *heard(switch.committed)]

    choice.show_value(2)
    count.show_value(9)
    switch.show_value(True)

    assert values == []
    assert (choice.value(), count.value(), switch.isChecked()) == (2, 9, True)


def test_a_choice_and_a_switch_can_be_mixed(qtbot: QtBot) -> None:
    choice, switch = ChoiceField(), SwitchField()
    for field in (choice, switch):
        qtbot.addWidget(field)
    choice.set_options(((1, "one"), (2, "two")))
    committed = heard(choice.committed)

    choice.show_value(MIXED)
    switch.show_value(MIXED)

    assert choice.value() is None
    assert choice.placeholderText() == "mixed"
    assert switch.checkState() is Qt.CheckState.PartiallyChecked
    choice.activated.emit(1)
    assert committed == [2]
