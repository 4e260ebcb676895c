"""The guide in the window: when it is open, which station it stands at, what is in the middle."""

from typing import Protocol

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.beds.shapes import ShapeName
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.canvas.view import BedView
from layout_gui.document.document import Document
from layout_gui.panels.guide import BEFORE_FOAM, DONE, Guide
from layout_gui.panels.now import Now
from layout_gui.panels.parts import label
from layout_gui.panels.shape_picture import ShapePicture
from layout_gui.panels.start import StartPage
from layout_gui.panels.stations import StationName
from layout_gui.screen.theme import Theme
from layout_gui.windows.files import Files


class _Window(Protocol):
    document: Document
    files: Files
    view: BedView
    start: StartPage

    def now(self) -> Now: ...
    def go_to(self, station: StationName) -> None: ...
    def refresh(self) -> None: ...
    def set_units(self, unit: Unit) -> None: ...
    def print_measuring(self, shape: ShapeName, unit: Unit) -> None: ...


class Guiding(QObject):
    """Opens and leaves the guide. ``panel`` is the guide, ``stage`` the middle before a bed is."""

    turned = Signal()
    """The guide was opened, left, or went to another question."""

    def __init__(self, window: _Window, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self._window = window
        self._is_going = False
        self._path = window.document.path
        self.is_on = False
        self.panel = Guide(window.document, theme, window.start.unit)
        self._picture = ShapePicture(theme, needed_only=True)
        self.stage = _stage(self._picture)
        self.panel.setVisible(False)
        self.panel.left.connect(self.leave)
        self.panel.went_to.connect(self._go_along)
        self.panel.shape_picked.connect(self._picture.show_shape)
        self.panel.measuring_wanted.connect(
            lambda shape: window.print_measuring(shape, self.panel.unit)
        )
        self.panel.unit_wanted.connect(window.set_units)
        self.panel.save_wanted.connect(window.files.save)
        self.panel.look_wanted.connect(lambda: self._finish("Holes"))
        self.panel.make_wanted.connect(lambda: self._finish("Make"))

    def begin(self) -> None:
        """Open the guide at the first question that is not answered yet."""
        self.is_on = True
        self.panel.setVisible(True)
        self._path = self._window.document.path
        if not self._window.document.project.beds:
            self.panel.choose_unit(self._window.start.unit)
        self._window.refresh()
        self.panel.open(self._window.now())
        self.panel.begin()

    def leave(self) -> None:
        """Close the guide; what is answered stays."""
        if not self.is_on:
            return
        self.is_on = False
        self.panel.setVisible(False)
        self.panel.let_go()
        self._window.view.set_foam(is_shown=True)
        self._window.refresh()
        self.turned.emit()
        if self._window.document.project.beds:
            self._window.view.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self._window.start.begin()

    @property
    def hint(self) -> str:
        """What the keys do at this question."""
        if self.panel.at == DONE:
            return tr("Esc: leave the guide")
        return tr("Enter: next question · Esc: leave the guide")

    def visit(self, _station: StationName) -> None:
        """Leave the guide when the grower goes to a station alone: its fields are wanted."""
        if not self._is_going:
            self.leave()

    def show_now(self, now: Now) -> None:
        """Let the guide show this moment; leave it when another project was opened."""
        if not self.is_on:
            return
        document = self._window.document
        is_fresh = not document.undo_stack.count() and bool(now.project.beds)
        if is_fresh and document.path != self._path:
            self.leave()
        else:
            self.panel.show_now(now)
            self._show_foam(now)

    def _show_foam(self, now: Now) -> None:
        """Show the water alone as long as nobody has asked about foam."""
        is_asked = self.panel.at not in BEFORE_FOAM or bool(now.project.sheets)
        self._window.view.set_foam(is_shown=is_asked or now.planting is not None)

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self.panel.set_theme(theme)
        self._picture.set_theme(theme)

    def _go_along(self, station: StationName) -> None:
        self._is_going = True
        self._window.go_to(station)
        self._is_going = False
        self.turned.emit()

    def _finish(self, station: StationName) -> None:
        self.leave()
        self._window.go_to(station)


def _stage(picture: ShapePicture) -> QWidget:
    made = QWidget()
    box = QVBoxLayout(made)
    box.setContentsMargins(60, 40, 60, 60)
    words = label(tr("Your bed will lie here, at scale"), "quiet")
    words.setAlignment(Qt.AlignmentFlag.AlignCenter)
    box.addWidget(picture, 1)
    box.addWidget(words)
    return made
