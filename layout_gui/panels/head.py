"""The head of the window: the project's name, the menus, the last step, and the units."""

from typing import Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QMenuBar,
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyleOptionMenuItem,
    QToolButton,
    QWidget,
)

from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.panels.parts import Elided, Press
from layout_gui.panels.tips import plain_tip

_REST: Final = 120
"""Room for the gaps, and for a few letters of the project's name."""


class _Menus(QMenuBar):
    """Menus that are given all the room they need.

    Qt reckons that room from where the menus lie now; counted from the right that comes out less
    each time, until none is left.
    """

    def sizeHint(self) -> QSize:
        """As wide as all menus together."""
        option = QStyleOptionMenuItem()
        width, height = 0, super().sizeHint().height()
        for action in self.actions():
            self.initStyleOption(option, action)
            text = self.fontMetrics().size(Qt.TextFlag.TextShowMnemonic, action.text())
            kind = QStyle.ContentsType.CT_MenuBarItem
            size = self.style().sizeFromContents(kind, option, text, self)
            width, height = width + size.width(), max(height, size.height())
        metric, which = self.style().pixelMetric, QStyle.PixelMetric
        gaps = len(self.actions()) * metric(which.PM_MenuBarItemSpacing, None, self)
        ends = metric(which.PM_MenuBarHMargin, None, self) + metric(
            which.PM_MenuBarPanelWidth, None, self
        )
        return QSize(width + gaps + 2 * ends, height)

    def minimumSizeHint(self) -> QSize:
        """No less: a menu that is folded away is hard to find."""
        return self.sizeHint()


class Head(QFrame):
    """One line. The unit buttons and the steps back and forward are the window's own actions."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "head")
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 8, 16, 8)
        row.setSpacing(8)
        # Both give way before a menu is folded away.
        self._name, self._state = Elided("title"), Elided()
        for part in (self._name, self._state):
            part.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Preferred)
        self.menu_bar = _Menus()
        self.menu_bar.setNativeMenuBar(False)
        self.menu_bar.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Preferred)
        self._steps = QHBoxLayout()
        self._tools: list[QToolButton] = []
        self._units = QHBoxLayout()
        self._units.setSpacing(0)
        row.addWidget(self._name)
        row.addWidget(self._state)
        row.addSpacing(10)
        row.addWidget(self.menu_bar)
        row.addStretch(1)
        row.addLayout(self._steps)
        row.addStretch(1)
        row.addLayout(self._units)

    def add_step(self, action: QAction) -> None:
        """Show an action that goes one step back or forward."""
        tool = QToolButton()
        tool.setProperty("role", "plain")
        tool.setDefaultAction(action)
        tool.setMaximumWidth(230)
        self._steps.addWidget(tool)
        self._tools.append(tool)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out the steps, which stand in a menu too, where there is no room."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        units = sum(press.sizeHint().width() for press in self.findChildren(Press))
        steps = sum(tool.sizeHint().width() + self._steps.spacing() for tool in self._tools)
        for tool in self._tools:
            tool.setVisible(self.menu_bar.sizeHint().width() + units + steps + _REST < self.width())

    def add_units(self, actions: dict[Unit, QAction]) -> None:
        """Show the units as buttons of which one is down."""
        group = QButtonGroup(self)
        for place, (unit, action) in enumerate(actions.items()):
            press = Press(unit)
            press.setCheckable(True)
            press.setProperty("role", "segment")
            press.setProperty("place", ("first", "middle", "last")[place])
            press.setAccessibleName(tr("Show lengths in {unit}", unit=unit))
            press.setToolTip(action.toolTip())
            press.clicked.connect(action.trigger)
            action.changed.connect(lambda press=press, action=action: _follow(press, action))
            group.addButton(press)
            self._units.addWidget(press)

    def show_file(self, name: str, state: str) -> None:
        """Say what is open and whether it is saved."""
        self._name.setText(name if len(name) <= 30 else f"{name[:29]}…")
        self._name.setToolTip(plain_tip(name))
        self._state.show_text(state)


def _follow(press: QPushButton, action: QAction) -> None:
    press.setChecked(action.isChecked())
    press.setEnabled(action.isEnabled())
