"""Every length field of the window, typed into as a grower does: units, refusals, steps, wheel."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget

from geometry.drawing.paper import COMMON
from geometry.plan import make_plan
from geometry.units import Length, Unit, both_units, parse_length
from layout_gui.document.document import Document
from layout_gui.panels.crops_sight import CropsSight
from layout_gui.panels.fields import LengthField
from layout_gui.panels.length_dialog import LengthDialog
from layout_gui.panels.printer_dialog import PrinterDialog
from layout_gui.panels.stations import STATIONS
from layout_gui.project import edits
from layout_gui.project.crop_file import CropFile
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN

READ: Final[tuple[tuple[Unit, str, str], ...]] = (
    ("mm", '7 1/2"', "190.5"),
    ("mm", "7.5in", "190.5"),
    ("mm", "7½ in", "190.5"),
    ("mm", "1' 6 1/2\"", "469.9"),
    ("mm", "1ft 6.5in", "469.9"),
    ("in", "2 3/8", "60.325"),
    ("mm", "7 1/2\N{DOUBLE PRIME}", "190.5"),
    ("mm", "1\N{RIGHT SINGLE QUOTATION MARK} 6 1/2\N{RIGHT DOUBLE QUOTATION MARK}", "469.9"),
    ("mm", "19 cm", "190"),
    ("in", "0,19 m", "190"),
    ("mm", '3/4"', "19.05"),
    ("mm", "190.5", "190.5"),
    ("cm", "1m 20cm", "1200"),
    ("cm", "1,200 mm", "1.2"),
    ("in", "6 ft 3", "1905"),
)
REFUSED: Final = (
    ("1 200 mm", "two numbers in a row"),
    ("1.200,5 mm", "one decimal mark"),
    ('7 1/0"', "0 below the line"),
    ("nan", "is no length"),
    ("1e400", "is no unit here"),
    ("12 apples", "is no unit here"),
)
"""Both from one table of cases; what each of them is to mean is common practice, no source."""

STEPS: Final = (
    (Qt.Key.Key_Up, Qt.KeyboardModifier.NoModifier, 1),
    (Qt.Key.Key_Down, Qt.KeyboardModifier.NoModifier, -1),
    (Qt.Key.Key_PageUp, Qt.KeyboardModifier.NoModifier, 10),
    (Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier, 10),
    (Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier, Fraction(-1, 10)),
)


class _Every:
    """The window with every panel, sight and dialog that has a length field."""

    def __init__(self, window: MainWindow, dialogs: list[QWidget]) -> None:
        self.window, self.dialogs = window, dialogs
        self.fields = window.findChildren(LengthField)
        for dialog in dialogs:  # each speaks the unit that it was made with
            self.fields += dialog.findChildren(LengthField)

    def share(self, case: object, cases: Sequence[object]) -> list[LengthField]:
        """Every fourth field, others for the next case: each field sees a quarter of all cases."""
        return self.fields[cases.index(case) % 4 :: 4]


@pytest.fixture(scope="module")
def every(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[_Every]:
    folder = tmp_path_factory.mktemp("fields")
    window = make_window(folder)
    window.document.start(make_project())
    now = window.now()
    for station in STATIONS:
        window.fields.panel(station).show_now(now)
    guide = window.guiding.panel
    for page in (guide.inside_page, guide.levels_page, guide.foam_page, guide.crop_page):
        page.show_now(now)
    crops = CropsSight(window.document, CropFile(folder / "crops.json"))
    crops.show_now(now)
    dialogs: list[QWidget] = [
        crops,
        LengthDialog("Move", [("x", Length.of(100))], "mm", "Move", lambda _at, _lengths: ""),
        PrinterDialog((), "", COMMON, "mm", "", lambda: None),
    ]
    yield _Every(window, dialogs)
    for dialog in dialogs:
        dialog.deleteLater()
    discard(window)


def put(field: LengthField, text: str) -> None:
    """Type over all of a field, every letter with a key."""
    field.lineEdit().selectAll()
    for letter in text:
        event = QKeyEvent(
            QEvent.Type.KeyPress, Qt.Key.Key_unknown, Qt.KeyboardModifier.NoModifier, letter
        )
        QApplication.sendEvent(field, event)
    assert field.text() == text


def key(field: LengthField, what: Qt.Key, held: Qt.KeyboardModifier) -> None:
    QApplication.sendEvent(field, QKeyEvent(QEvent.Type.KeyPress, what, held))


def about(field: LengthField) -> str:
    return f"{field.objectName()} ({field.accessibleName()})"


def test_no_panel_hides_a_length_field_from_these_tests(every: _Every) -> None:
    names = {field.objectName() or field.accessibleName() for field in every.fields}

    assert len(every.fields) > 90
    assert names >= {
        "length", "guide-length", "guide-lean-depth", "guide-board-width", "Length inside",
        "spacing", "hole-x", "wall-depth", "water-low", "kerf", "raft-shift_along",
    }  # fmt: skip
    assert all(field.accessibleName() for field in every.fields)


@pytest.mark.parametrize(("unit", "text", "mm"), READ)
def test_every_field_reads_a_length_and_says_it_in_both_systems(
    every: _Every, unit: Unit, text: str, mm: str
) -> None:
    meant = Length(Fraction(mm))
    for field in every.share((unit, text, mm), READ):
        if unit != "mm" and field.window() is not every.window:
            continue
        field.set_unit(unit)
        value = field.value()
        put(field, text)
        assert both_units(meant) in field.accessibleDescription(), about(field)
        key(field, Qt.Key.Key_Escape, Qt.KeyboardModifier.NoModifier)
        assert field.value() is value, about(field)
        assert not isinstance(value, Length) or parse_length(field.text(), None) == value


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_every_field_refuses_with_the_reason_beside_it_and_keeps_its_value(
    every: _Every, text: str, reason: str
) -> None:
    project = every.window.document.project
    for field in every.share((text, reason), REFUSED):
        before, value = field.text(), field.value()
        put(field, text)
        assert reason in field.accessibleDescription(), about(field)
        key(field, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier)
        assert field.text() == text, about(field)
        key(field, Qt.Key.Key_Escape, Qt.KeyboardModifier.NoModifier)
        assert (field.text(), field.value()) == (before, value), about(field)
        assert reason not in field.accessibleDescription(), about(field)
    assert every.window.document.project is project


@pytest.mark.parametrize(("unit", "step"), [("mm", "1"), ("cm", "1"), ("in", "1.5875")])
def test_every_field_steps_by_a_millimetre_or_a_sixteenth(
    every: _Every, unit: Unit, step: str
) -> None:
    for field in every.fields if unit == "in" else every.fields[::5]:
        field.set_unit(unit)
        value = field.value()
        field.blockSignals(True)  # what a step does to the project is another matter
        for what, held, times in STEPS:
            field.settle(Length.of(200))
            key(field, what, held)
            assert field.value() == Length(200 + times * Fraction(step)), about(field)
        field.settle(value)
        field.blockSignals(False)


def test_the_wheel_over_a_field_without_the_keyboard_changes_nothing(every: _Every) -> None:
    place, turn = QPointF(5, 5), QPoint(0, 120)
    none = Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase
    for field in every.fields:
        before = field.text()
        event = QWheelEvent(
            place, place, QPoint(), turn, Qt.MouseButton.NoButton, none[0], none[1], False
        )
        QApplication.sendEvent(field, event)
        assert not event.isAccepted(), about(field)
        assert field.text() == before


def test_units_change_what_is_shown_and_nothing_else(every: _Every) -> None:
    document: Document = every.window.document
    project = document.project
    for unit in ("in", "cm", "mm"):
        every.window.set_units(unit)
        assert edits.set_units(document.project, "mm") == project
        for field in every.fields:
            if field.isVisibleTo(every.window) and isinstance(value := field.value(), Length):
                assert parse_length(field.text(), unit) == value, about(field)
    assert make_plan(document.project).beds == document.plan.beds
