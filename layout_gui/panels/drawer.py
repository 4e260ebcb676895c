"""The drawer under the drawing: a bar that is always in sight, and one leaf at a time below it."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from geometry.tongue import tr
from layout_gui.panels.flow import flowing
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Elided, Room, button
from layout_gui.screen.theme import Theme

_LEAF: Final = 262
"""How high a leaf is at least."""
_ANY_HEIGHT: Final = 16_777_215
_FOLDED: Final = "\N{BLACK UP-POINTING SMALL TRIANGLE}"
_OPEN: Final = "\N{BLACK DOWN-POINTING SMALL TRIANGLE}"


class Leaf(QWidget):
    """What the drawer can hold. A leaf does its work only while it is open."""

    about_changed = Signal()
    """What ``about`` or ``is_working`` say has changed."""

    def __init__(self, key: str, title: str, tip: str, parent: QWidget | None = None) -> None:
        """``key`` names the leaf in the program, ``title`` and ``tip`` on the screen."""
        super().__init__(parent)
        self.key, self.title, self.tip = key, title, tip
        self._is_open = False

    @property
    def is_open(self) -> bool:
        """Whether the leaf is pulled up."""
        return self._is_open

    @property
    def about(self) -> str:
        """A few words for the bar while the leaf is open."""
        return ""

    @property
    def is_working(self) -> bool:
        """Whether something is being worked out that ``stop`` would end."""
        return False

    def set_open(self, *, is_open: bool) -> None:
        """Begin to show what is asked for, or leave it; the drawer calls this."""
        self._is_open = is_open

    def stop(self) -> None:
        """Leave the work at what is known so far."""

    def show_now(self, now: Now) -> None:
        """Show this moment, at once or when the leaf is next opened."""
        raise NotImplementedError

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""


class Drawer(QWidget):
    """Holds the leaves, one of them open or all folded."""

    folded = Signal()
    """Another leaf is open, or none."""

    def __init__(self, leaves: Sequence[Leaf], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._leaves = {leaf.key: leaf for leaf in leaves}
        self._last = leaves[0].key
        self._handles: dict[str, QToolButton] = {}
        self._rooms: dict[str, Room] = {}
        self._about = Elided()
        self._about.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._tools: list[QToolButton] = []
        self._stop = button(tr("Stop"), self._on_stop, "link")
        self._stop.setToolTip(tr("Leave it at what is worked out so far"))
        self._stop.hide()
        self._bar = QHBoxLayout()
        self._bar.setContentsMargins(12, 5, 12, 5)
        self._bar_frame = QFrame()
        self._bar_frame.setProperty("role", "bar")
        self._bar_frame.setLayout(self._bar)
        # A leaf that wants more room than there is must not squeeze it.
        self._bar_frame.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self._bar_frame)
        for leaf in leaves:
            self._handles[leaf.key] = self._make_handle(leaf)
            leaf.about_changed.connect(self._show_about)
            self._rooms[leaf.key] = Room(leaf)
            self._rooms[leaf.key].hide()
            box.addWidget(self._rooms[leaf.key], 1)
        self._row = flowing(*self._handles.values())
        self._bar.addWidget(self._row)
        self._bar.addWidget(self._about, 1)
        self._bar.addWidget(self._stop)
        self._show_state()

    @property
    def open_leaf(self) -> Leaf | None:
        """The leaf that is pulled up; None while the drawer is folded."""
        return next((leaf for leaf in self._leaves.values() if leaf.is_open), None)

    @property
    def is_open(self) -> bool:
        """Whether a leaf is pulled up."""
        return self.open_leaf is not None

    def add_view_actions(self, actions: Sequence[QAction]) -> None:
        """Put words for the view of the bed at the right end of the bar."""
        for action in actions:
            tool = QToolButton()
            tool.setProperty("role", "plain")
            tool.setDefaultAction(action)
            self._bar.addWidget(tool)
            self._tools.append(tool)
        self._fit_bar()

    @property
    def wanted_height(self) -> int:
        """How high it is to be so that nothing in it needs to be scrolled to."""
        leaf = self.open_leaf
        inside = self._rooms[leaf.key].least_height(self.width()) if leaf else 0
        return self._bar_frame.sizeHint().height() + inside

    def set_open(self, *, is_open: bool, key: str = "") -> None:
        """Pull up a leaf in the place of the other, or fold the drawer.

        Without a key it is the leaf that was open last.
        """
        wanted = (key or self._last) if is_open else ""
        before = self.open_leaf
        if before is not None and before.key != wanted:
            before.set_open(is_open=False)
            self._rooms[before.key].hide()
        if wanted:
            self._last = wanted
            self._rooms[wanted].show()
            self._leaves[wanted].set_open(is_open=True)
        self._show_state()
        self.folded.emit()

    def is_up(self, key: str) -> bool:
        """Whether this leaf is pulled up."""
        return self._leaves[key].is_open

    def toggle(self, key: str) -> None:
        """Pull up this leaf, or fold the drawer if it is up already."""
        self.set_open(is_open=not self._leaves[key].is_open, key=key)

    def show_now(self, now: Now) -> None:
        """Let every leaf know this moment."""
        for leaf in self._leaves.values():
            leaf.show_now(now)

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        for leaf in self._leaves.values():
            leaf.set_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out the words for the view, which stand in a menu too, where there is no room."""
        super().resizeEvent(event)
        self._fit_bar()

    def _fit_bar(self) -> None:
        """Words for the view make room for the others; then the handles take several lines."""
        for key, leaf in self._leaves.items():
            self._handles[key].setText(f"{_OPEN if leaf.is_open else _FOLDED}  {leaf.title}")
        working = [self._stop] if self._is_working else []
        told = [self._about] if self._about.text() else []
        wanted = self._wanted(*self._handles.values(), *self._tools, *told, *working)
        has_room = wanted <= self.width()
        for tool in self._tools:
            tool.setVisible(has_room)
        margins, row = self._bar.contentsMargins(), self._row.layout()
        stop = self._stop.sizeHint().width() + self._bar.spacing() if self._is_working else 0
        room = self.width() - margins.left() - margins.right() - stop
        if row is not None and room > 0:
            width = min(row.sizeHint().width(), room)
            self._row.setFixedSize(width, row.heightForWidth(width))
        bar = self._bar_frame.sizeHint().height()
        self.setMinimumHeight(_LEAF + bar if self.is_open else bar)
        self.setMaximumHeight(_ANY_HEIGHT if self.is_open else bar)

    def _wanted(self, *parts: QWidget) -> int:
        margins = self._bar.contentsMargins()
        inside = sum(part.sizeHint().width() + self._bar.spacing() for part in parts)
        return inside + margins.left() + margins.right()

    def _make_handle(self, leaf: Leaf) -> QToolButton:
        handle = QToolButton()
        handle.setProperty("role", "handle")
        handle.setObjectName(leaf.key)
        handle.setAccessibleName(leaf.title)
        handle.setCheckable(True)
        handle.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        handle.setToolTip(leaf.tip)
        handle.clicked.connect(lambda: self.toggle(leaf.key))
        return handle

    def _on_stop(self) -> None:
        if self.open_leaf is not None:
            self.open_leaf.stop()

    def _show_state(self) -> None:
        for key, leaf in self._leaves.items():
            self._handles[key].setChecked(leaf.is_open)
        self._show_about()

    def _show_about(self) -> None:
        leaf = self.open_leaf
        self._about.show_text(leaf.about if leaf else "")
        self._stop.setVisible(self._is_working)
        self._fit_bar()

    @property
    def _is_working(self) -> bool:
        return self.open_leaf is not None and self.open_leaf.is_working
