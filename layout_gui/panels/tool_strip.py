"""The tools of the canvas as words along its upper edge; the one in hand stands out."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMenu, QSizePolicy, QToolButton, QWidget

from geometry.tongue import tr
from layout_gui.panels.parts import label

_MARGIN: Final = 8
_SPACING: Final = 2


class ToolStrip(QFrame):
    """Word buttons for actions, in their order; those without room fold into "More".

    Pressing the tool in hand, or Escape, puts it away: ``put_away``.
    """

    put_away = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "strip")
        self.setAccessibleName(tr("Tools"))
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(_MARGIN, 3, _MARGIN, 3)
        self._row.setSpacing(_SPACING)
        self._buttons: dict[str, QToolButton] = {}
        self._actions: dict[str, QAction] = {}
        self._armed = ""
        self._more = _tool(tr("More"))
        self._more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._more.setMenu(QMenu(self._more))
        self._more.setVisible(False)
        self._told = label("", "quiet")
        self._told.setWordWrap(False)
        self._row.addWidget(self._more)
        self._row.addStretch(1)
        self._row.addWidget(self._told)

    @property
    def armed(self) -> str:
        """The name of the action whose tool is in hand; empty for none."""
        return self._armed

    @property
    def tools(self) -> tuple[QToolButton, ...]:
        """The buttons from left to right, the one for the folded tools last."""
        return (*self._buttons.values(), self._more)

    @property
    def words(self) -> tuple[str, ...]:
        """The words of the tools in sight, from left to right."""
        shown = [each.text() for each in self._buttons.values() if not each.isHidden()]
        return (*shown, self._more.text()) if not self._more.isHidden() else tuple(shown)

    def add_tools(self, actions: Sequence[QAction]) -> None:
        """Offer these actions after the others."""
        for action in actions:
            name = action.objectName()
            made = _tool(action.text().replace("&", "").rstrip("…"))
            made.setCheckable(True)
            made.clicked.connect(lambda _on, name=name: self._on_clicked(name))
            action.changed.connect(lambda name=name: self._follow(name))
            self._buttons[name], self._actions[name] = made, action
            self._row.insertWidget(self._row.indexOf(self._more), made)
            self._follow(name)
        self._fold()

    def show_armed(self, name: str) -> None:
        """Show which tool is in hand; an empty name for none."""
        self._armed = name
        for each, tool in self._buttons.items():
            tool.setChecked(each == name)
            tool.setAccessibleDescription(tr("in hand") if each == name else "")
        is_folded = name in self._buttons and self._buttons[name].isHidden()
        self._more.setText(self._buttons[name].text() if is_folded else tr("More"))
        self._told.setText(tr("in hand · Esc puts it away") if name else "")
        self._fold()

    def sizeHint(self) -> QSize:
        """As high as its words need, as wide as there is."""
        high = max(tool.sizeHint().height() for tool in (*self._buttons.values(), self._more))
        return QSize(0, high + 6)

    def minimumSizeHint(self) -> QSize:
        """No width is too small: the tools fold."""
        return QSize(0, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold what has no room."""
        super().resizeEvent(event)
        self._fold()

    def showEvent(self, event: QShowEvent) -> None:
        """Measure the words once the style is known."""
        super().showEvent(event)
        self._fold()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape puts the tool away; other keys are not for the canvas below."""
        if event.key() == Qt.Key.Key_Escape and self._armed:
            self.put_away.emit()
        event.accept()

    def _on_clicked(self, name: str) -> None:
        if name == self._armed:
            self.put_away.emit()
        else:
            self._actions[name].trigger()
        # Whether it is in hand is told by show_armed, not by the click.
        self._buttons[name].setChecked(self._armed == name)

    def _follow(self, name: str) -> None:
        action, tool = self._actions[name], self._buttons[name]
        tool.setEnabled(action.isEnabled())
        tool.setToolTip(action.toolTip())

    def _fold(self) -> None:
        room = self.width() - 2 * _MARGIN
        wide = {name: tool.sizeHint().width() + _SPACING for name, tool in self._buttons.items()}
        told = self._told.sizeHint().width() + _SPACING if self._told.text() else 0
        more = self._more.sizeHint().width() + _SPACING
        self._told.setVisible(bool(told) and sum(wide.values()) + told <= room)
        left = room - (0 if sum(wide.values()) <= room else more)
        folded: list[str] = []
        for name, width in wide.items():
            left -= width
            is_shown = left >= 0 and not folded
            self._buttons[name].setVisible(is_shown)
            if not is_shown:
                folded.append(name)
        menu = self._more.menu()
        menu.clear()
        menu.addActions([self._actions[name] for name in folded])
        self._more.setVisible(bool(folded))


def _tool(text: str) -> QToolButton:
    made = QToolButton()
    made.setProperty("role", "tool")
    made.setText(text)
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made
