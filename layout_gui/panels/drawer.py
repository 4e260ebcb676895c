"""The drawer under the drawing: a bar that is always in sight, and one leaf at a time below it."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from geometry.tongue import tr
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Elided, button
from layout_gui.screen.theme import Theme

_HEIGHT: Final = 300
_SHORTEST: Final = 40
_SHORTER: Final = 8
"""How narrow the title of a handle may become, and in which steps."""
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
            self._bar.addWidget(self._handles[leaf.key])
            leaf.about_changed.connect(self._show_about)
            leaf.hide()
            box.addWidget(leaf, 1)
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

    def set_open(self, *, is_open: bool, key: str = "") -> None:
        """Pull up a leaf in the place of the other, or fold the drawer.

        Without a key it is the leaf that was open last.
        """
        wanted = (key or self._last) if is_open else ""
        before = self.open_leaf
        if before is not None and before.key != wanted:
            before.set_open(is_open=False)
            before.hide()
        if wanted:
            self._last = wanted
            self._leaves[wanted].show()
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
        """Words for the view make room for the others; then long titles are shortened alike."""
        self._title_handles(_ANY_HEIGHT)
        stop = [] if self._stop.isHidden() else [self._stop]
        told = [self._about] if self._about.text() else []
        wanted = self._wanted(*self._handles.values(), *self._tools, *told, *stop)
        has_room = wanted <= self.width()
        for tool in self._tools:
            tool.setVisible(has_room)
        titles = [
            self.fontMetrics().horizontalAdvance(each.title) for each in self._leaves.values()
        ]
        most = max(titles, default=0)
        while most > _SHORTEST and self._wanted(*self._handles.values()) > self.width():
            most -= _SHORTER
            self._title_handles(most)

    def _wanted(self, *parts: QWidget) -> int:
        margins = self._bar.contentsMargins()
        inside = sum(part.sizeHint().width() + self._bar.spacing() for part in parts)
        return inside + margins.left() + margins.right()

    def _title_handles(self, most: int) -> None:
        for key, leaf in self._leaves.items():
            handle = self._handles[key]
            title = handle.fontMetrics().elidedText(leaf.title, Qt.TextElideMode.ElideRight, most)
            handle.setText(f"{_OPEN if leaf.is_open else _FOLDED}  {title}")

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
        bar = self._bar_frame.sizeHint().height()
        self.setMinimumHeight(_HEIGHT if self.is_open else bar)
        self.setMaximumHeight(_ANY_HEIGHT if self.is_open else bar)
        self._show_about()

    def _show_about(self) -> None:
        leaf = self.open_leaf
        self._about.show_text(leaf.about if leaf else "")
        self._stop.setVisible(leaf is not None and leaf.is_working)
        self._fit_bar()
