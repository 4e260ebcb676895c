"""The step curve under the pointer and the keyboard."""

from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from geometry.compare.steps import Step
from geometry.tongue import number
from layout_gui.panels.curve import StepCurve, legend
from layout_gui.panels.curve_reading import Reading, Series
from layout_gui.screen.theme import DARK, LIGHT, THEMES, Theme
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


def line(*ends: tuple[str, int]) -> tuple[Step, ...]:
    return tuple(Step(Fraction(spacing), count) for spacing, count in ends)


SERIES: Series = {
    "square": line(("140", 48), ("170", 40), ("193.6", 36), ("210", 20), ("250", 16)),
    "best": line(("150.2", 48), ("193.6", 36), ("250", 24)),
}


@pytest.fixture
def curve(qtbot: QtBot) -> Iterator[StepCurve]:
    holder = QWidget()  # the library's own way to close a curve crashes
    qtbot.addWidget(holder)
    made = StepCurve(LIGHT)
    box = QVBoxLayout(holder)
    box.addWidget(made)
    holder.resize(500, 320)
    made.show_curve(SERIES, now_mm=185, now_plants=36, own="square", unit="mm")
    with qtbot.waitExposed(holder):
        holder.show()
    yield made
    holder.hide()


def pixel(curve: StepCurve, spacing: float, plants: float) -> QPoint:
    """Where a place of the curve lies on the widget."""
    return curve.mapFromScene(curve.plotItem.vb.mapViewToScene(QPointF(spacing, plants)))


def move_to(
    qtbot: QtBot, curve: StepCurve, place: tuple[float, float], happened: Callable[[], bool]
) -> None:
    """Move the pointer onto a place until it is heard: moves that follow fast are dropped."""

    def moved() -> bool:
        _move(curve, *place)
        return happened()

    qtbot.waitUntil(moved)


def _move(curve: StepCurve, spacing: float, plants: float) -> None:
    # An event of its own, for the cursor of the platform may hit a tool tip.
    at = QPointF(pixel(curve, spacing, plants))
    move = QMouseEvent(
        QEvent.Type.MouseMove,
        at,
        curve.viewport().mapToGlobal(at),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(curve.viewport(), move)


def heard(signal: object) -> list[object]:
    values: list[object] = []
    signal.connect(values.append)  # type: ignore[attr-defined]
    return values


def test_the_pointer_says_what_is_under_it(qtbot: QtBot, curve: StepCurve) -> None:
    said = heard(curve.said)

    move_to(qtbot, curve, (180.2, 36), lambda: bool(said))

    assert str(said[-1]).startswith("180 mm (≈ 7 1/16 in), square: 36 plants, as many as now.")
    assert "The same up to 193.6 mm; at 170 mm 4 more." in str(said[-1])
    assert str(said[-1]) in curve.accessibleDescription()
    move_to(qtbot, curve, (230, 23), lambda: "best of all" in str(said[-1]))
    fewer = "square: 16 plants, 20 fewer than now"
    move_to(qtbot, curve, (230, 17), lambda: fewer in str(said[-1]))


def test_a_click_picks_the_place_and_near_an_end_the_end(curve: StepCurve) -> None:
    picked = heard(curve.picked)

    QTest.mouseClick(curve.viewport(), Qt.MouseButton.LeftButton, pos=pixel(curve, 180.2, 36))
    QTest.mouseClick(curve.viewport(), Qt.MouseButton.LeftButton, pos=pixel(curve, 193.4, 36))
    QTest.mouseClick(curve.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(2, 2))

    first, end = picked
    assert isinstance(first, Reading)
    assert isinstance(end, Reading)
    assert first.spacing == 180
    assert (end.spacing, end.plants, end.pattern) == (Fraction("193.6"), 36, "square")


def test_the_arrows_go_from_step_to_step(qtbot: QtBot, curve: StepCurve) -> None:
    curve.activateWindow()
    curve.setFocus()
    qtbot.waitUntil(curve.hasFocus)

    def press(key: Qt.Key) -> tuple[str, float, int]:
        QTest.keyClick(curve, key)
        at = curve.cursor_at
        assert at is not None
        return at.pattern, float(at.spacing), at.plants

    assert curve.cursor_at is not None
    assert curve.cursor_at.spacing == 185
    assert press(Qt.Key.Key_Right) == ("square", 193.6, 36)
    assert press(Qt.Key.Key_Right) == ("square", 210, 20)
    assert press(Qt.Key.Key_Left) == ("square", 193.6, 36)
    assert press(Qt.Key.Key_Left) == ("square", 170, 40)
    assert press(Qt.Key.Key_End) == ("square", 250, 16)
    assert press(Qt.Key.Key_Right) == ("square", 250, 16)
    assert press(Qt.Key.Key_Home) == ("square", 140, 48)
    assert press(Qt.Key.Key_Left) == ("square", 140, 48)
    assert press(Qt.Key.Key_Down) == ("best", 140, 48)
    assert press(Qt.Key.Key_Right) == ("best", 150.2, 48)
    assert press(Qt.Key.Key_Up) == ("square", 150.2, 40)


def test_enter_tries_and_at_the_tried_place_uses(qtbot: QtBot, curve: StepCurve) -> None:
    picked, used = heard(curve.picked), []
    curve.wanted.connect(lambda: used.append(True))
    curve.activateWindow()
    curve.setFocus()
    qtbot.waitUntil(curve.hasFocus)
    QTest.keyClick(curve, Qt.Key.Key_Right)

    QTest.keyClick(curve, Qt.Key.Key_Return)
    assert (len(picked), used) == (1, [])
    curve.show_tried(193.6)
    QTest.keyClick(curve, Qt.Key.Key_Return)
    assert (len(picked), used) == (1, [True])


def test_the_keyboard_is_seen_to_be_here(qtbot: QtBot, curve: StepCurve) -> None:
    curve.clearFocus()
    before = curve.grab().toImage()
    curve.activateWindow()
    curve.setFocus()
    qtbot.waitUntil(curve.hasFocus)

    assert curve.grab().toImage().pixelColor(1, 100) != before.pixelColor(1, 100)


@pytest.mark.parametrize("theme", THEMES.values(), ids=list(THEMES))
def test_a_dashed_line_shows_on_the_wide_one_in_every_theme(curve: StepCurve, theme: Theme) -> None:
    curve.set_theme(theme)
    alike = line(("140", 48), ("193.6", 36), ("250", 24))
    curve.show_curve(
        {"best": alike, "staggered": alike}, now_mm=245, now_plants=24, own="best", unit="mm"
    )
    curve.clearFocus()
    picture = curve.grab().toImage()

    start, end = pixel(curve, 200, 24), pixel(curve, 240, 24)
    along = {picture.pixelColor(x, start.y()).lightness() for x in range(start.x(), end.x())}
    assert max(along) - min(along) > 60


def test_each_line_has_a_sign_of_its_own() -> None:
    words = legend(["square", "staggered", "best", "hexagonal", "mixed", "rings", "rows"])

    signs = [part.split()[0] for part in words.split("     ")]
    assert len(set(signs)) == 7


def test_a_new_curve_keeps_the_place_and_other_colours_draw_another_one(
    curve: StepCurve, qtbot: QtBot
) -> None:
    curve.activateWindow()
    curve.setFocus()
    qtbot.waitUntil(curve.hasFocus)
    QTest.keyClick(curve, Qt.Key.Key_Right)
    light = curve.grab().toImage()

    curve.set_theme(DARK)
    assert curve.grab().toImage() != light
    wider = {"square": line(("140", 48), ("193.6", 37), ("250", 16))}
    curve.show_curve(wider, now_mm=185, now_plants=37, own="square", unit="mm")

    assert curve.cursor_at is not None
    assert (curve.cursor_at.spacing, curve.cursor_at.plants) == (Fraction("193.6"), 37)


@pytest.mark.parametrize("plants", [(47.6, 48.4), (0.0, 3.0), (10.0, 940.0), (900.0, 65_000.0)])
def test_plants_are_marked_in_whole_numbers(curve: StepCurve, plants: tuple[float, float]) -> None:
    axis = curve.plotItem.getAxis("left")

    levels = axis.tickValues(*plants, 200)

    marks = [mark for _, marks in levels for mark in marks]
    assert marks
    assert all(mark == int(mark) for mark in marks)
    assert axis.tickStrings(marks, 1.0, 1.0) == [number(mark) for mark in marks]
