"""The head of the window: the project's name, the menus, the last step, and the units."""

from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QMenuBar,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.panels.parts import Elided, Press
from layout_gui.panels.tips import plain_tip


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
        self.menu_bar = QMenuBar()
        self.menu_bar.setNativeMenuBar(False)
        self.menu_bar.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Preferred)
        self._steps = QHBoxLayout()
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
