"""The whole window from the keyboard: Tab reaches every control, and where it is can be seen."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QScrollArea,
    QWidget,
)
from pytestqt.qtbot import QtBot

from layout_gui.canvas.view import BedView
from layout_gui.panels.stations import STATIONS
from layout_gui.screen.theme import DARK, LIGHT, Theme
from layout_gui.windows.look import dress
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN

MOST_STEPS = 400
DRAWERS = ("", "what-if", "holes")


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    yield made
    discard(made)


def is_meant(widget: QWidget) -> bool:
    """Tell whether a person has to be able to get to this widget by Tab."""
    if not widget.focusPolicy() & Qt.FocusPolicy.TabFocus or widget.focusProxy() is not None:
        return False
    # What only scrolls is scrolled by the keys of what is in it; parts of a field belong to it.
    only_scrolls = isinstance(widget, QAbstractScrollArea) and not isinstance(
        widget, (QAbstractItemView, BedView)
    )
    owner = widget.parentWidget()
    belongs = isinstance(widget, QLineEdit) and isinstance(owner, (QAbstractSpinBox, QComboBox))
    return not only_scrolls and not belongs


def is_in_sight(widget: QWidget, window: QWidget) -> bool:
    return widget.isVisibleTo(window) and widget.isEnabled() and widget.width() > 0


def walk(window: MainWindow) -> list[QWidget]:
    """Press Tab until it comes round; return what had the keyboard on the way."""
    window.setFocus()
    seen: list[QWidget] = []
    for _ in range(MOST_STEPS):
        here = QApplication.focusWidget()
        if isinstance(here, BedView):
            # On the bed Tab goes from hole to hole; Escape until it leaves.
            window.selection.clear()
            QTest.keyClick(here, Qt.Key.Key_Escape)
        target = here if here is not None else window
        QTest.keyClick(target, Qt.Key.Key_Tab)
        now = QApplication.focusWidget()
        if now is None:
            continue
        owner = now.focusProxy() or now
        if seen and owner is seen[0] and len(seen) > 1:
            break
        if not seen or owner is not seen[-1]:
            seen.append(owner)
    return seen


def name_of(widget: QWidget) -> str:
    words = widget.text() if isinstance(widget, QAbstractButton) else ""
    return f"{type(widget).__name__} {widget.objectName()} {widget.accessibleName()} {words}"


def unreached(window: MainWindow) -> list[str]:
    """Names of the controls in sight that a walk by Tab does not come to."""
    reached = set(map(id, walk(window)))
    return [
        name_of(widget)
        for widget in window.findChildren(QWidget)
        if is_meant(widget)
        and is_in_sight(widget, window)
        and id(widget) not in reached
        and not is_one_of_a_group(widget, reached)
    ]


def is_one_of_a_group(widget: QWidget, reached: set[int]) -> bool:
    """Of buttons of which one is down, Tab comes to one; the arrows go on from there."""
    group = widget.group() if isinstance(widget, QAbstractButton) else None
    return group is not None and any(id(each) in reached for each in group.buttons())


def test_tab_reaches_everything_before_there_is_a_bed(window: MainWindow) -> None:
    assert not (missed := unreached(window)), "\n".join(missed)


@pytest.mark.parametrize("station", STATIONS)
def test_tab_reaches_every_control_of_a_station(
    qtbot: QtBot, window: MainWindow, station: str
) -> None:
    window.document.start(make_project())
    window.go_to(station)
    window.drawer.set_open(is_open=False)
    qtbot.waitUntil(lambda: not window.document.is_busy, timeout=20_000)
    if station == "Make":
        qtbot.waitUntil(lambda: window.make_view.pages.count() > 0, timeout=20_000)

    assert not (missed := unreached(window)), "\n".join(missed)


def test_tab_reaches_every_control_of_the_drawer(qtbot: QtBot, window: MainWindow) -> None:
    window.document.start(make_project())
    qtbot.waitUntil(lambda: not window.document.is_busy, timeout=20_000)
    window.drawer.set_open(is_open=True)
    qtbot.waitUntil(lambda: window.whatif.inside is not None, timeout=20_000)

    assert not (missed := unreached(window)), "\n".join(missed)


def test_every_control_has_a_name_for_those_who_listen(qtbot: QtBot, window: MainWindow) -> None:
    window.document.start(make_project())
    qtbot.waitUntil(lambda: not window.document.is_busy, timeout=20_000)
    for station in STATIONS:
        window.go_to(station)

    nameless = [
        name_of(widget)
        for widget in window.findChildren(QWidget)
        if is_meant(widget)
        and widget.window() is window
        and not widget.accessibleName()
        and not (isinstance(widget, QAbstractButton) and widget.text())
    ]
    assert not nameless, "\n".join(nameless)


def picture(window: MainWindow, widget: QWidget) -> QImage:
    """The window where a widget is, with a little around it."""
    corner = widget.mapTo(window, QPoint(0, 0))
    around = QRect(corner, widget.size()).adjusted(-4, -4, 4, 4)
    return window.grab(around).toImage()


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_where_the_keyboard_is_can_be_seen(qtbot: QtBot, window: MainWindow, theme: Theme) -> None:
    window.set_theme(theme.name)
    window.document.start(make_project())
    window.drawer.set_open(is_open=False)
    qtbot.waitUntil(lambda: not window.document.is_busy, timeout=20_000)
    unseen = []
    for station in ("Bed", "Holes", "Make"):
        window.go_to(station)
        for widget in walk(window):
            if not widget.isVisible():
                continue
            for column in window.findChildren(QScrollArea):
                if column.isAncestorOf(widget):
                    column.ensureWidgetVisible(widget)  # as the Tab key does
            widget.setFocus(Qt.FocusReason.TabFocusReason)
            QApplication.processEvents()
            if widget.visibleRegion().isEmpty():
                unseen.append(f"out of sight: {name_of(widget)}")
                continue
            with_keyboard = picture(window, widget)
            window.setFocus()
            QApplication.processEvents()
            if with_keyboard == picture(window, widget):
                unseen.append(name_of(widget))
    dress(LIGHT)

    assert not unseen, "\n".join(sorted(set(unseen)))
