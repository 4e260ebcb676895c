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
from layout_gui.screen.theme import LIGHT
from layout_gui.windows.helping import place_for
from layout_gui.windows.look import dress
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN
from tests.layout_gui.windows.everywhere import every_view, make_full_project, settle, waiting
from tests.layout_gui.windows.open_window import discard, make_window
from tests.layout_gui.windows.test_helping import is_there

pytestmark = OFFSCREEN

MOST_STEPS = 400
LEAST_TARGET_PX = 24


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    dress(LIGHT)
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


def nameless(window: MainWindow) -> list[str]:
    return [
        name_of(widget)
        for widget in window.findChildren(QWidget)
        if is_meant(widget)
        and is_in_sight(widget, window)
        and not widget.accessibleName()
        and not (isinstance(widget, QAbstractButton) and widget.text())
    ]


def too_small(window: MainWindow) -> list[str]:
    """What is hard to hit: WCAG 2.2, 2.5.8 wants 24 px each way."""
    return [
        f"{name_of(widget)}: {widget.width()} x {widget.height()}"
        for widget in window.findChildren(QWidget)
        if is_meant(widget)
        and is_in_sight(widget, window)
        and min(widget.width(), widget.height()) < LEAST_TARGET_PX
    ]


def without_help(window: MainWindow, view: str) -> list[str]:
    first = view.partition(" ")[0]
    station = first if first in STATIONS else "Holes"
    return [
        name_of(widget)
        for widget in window.findChildren(QWidget)
        if is_meant(widget) and is_in_sight(widget, window)
        and not is_there(place_for(widget, station))
    ]  # fmt: skip


def picture(window: MainWindow, widget: QWidget) -> QImage:
    """The window where a widget is, with a little around it."""
    corner = widget.mapTo(window, QPoint(0, 0))
    around = QRect(corner, widget.size()).adjusted(-4, -4, 4, 4)
    return window.grab(around).toImage()


def unseen(window: MainWindow, kinds: set[object]) -> Iterator[str]:
    """Name what looks the same with the keyboard as without; one of each kind, new ones only.

    The others of a kind are painted alike, and in every palette the colour of what has the keyboard
    stands out (``test_theme``).
    """
    for widget in window.findChildren(QWidget):
        kind = (type(widget), widget.property("role"), widget.property("place"))
        if not is_meant(widget) or not is_in_sight(widget, window) or kind in kinds:
            continue
        kinds.add(kind)
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        settle()
        for room in window.findChildren(QScrollArea):
            if room.isAncestorOf(widget):
                room.ensureWidgetVisible(widget)  # as the Tab key does
        settle()
        if widget.visibleRegion().isEmpty():
            yield name_of(widget)
            continue
        with_keyboard = picture(window, widget)
        window.setFocus()
        settle()
        if with_keyboard == picture(window, widget):
            yield name_of(widget)


def test_every_control_of_every_view_can_be_reached_named_hit_and_asked_about(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.document.start(make_full_project())
    found: dict[str, str] = {}
    kinds: set[object] = set()
    for view in every_view(window, waiting(qtbot)):
        found.update((f"unreached: {name}", view) for name in unreached(window))
        found.update((f"nameless: {name}", view) for name in nameless(window))
        found.update((f"small: {name}", view) for name in too_small(window))
        found.update((f"no help: {name}", view) for name in without_help(window, view))
        found.update((f"unseen: {name}", view) for name in unseen(window, kinds))
    assert len(kinds) > 20
    assert not found, "\n".join(f"{view}: {what}" for what, view in found.items())
