"""The canvas: the selected bed at scale. The only place where pixels become millimetres."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGraphicsView, QWidget

from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.screen.theme import Theme


class BedView(QGraphicsView):
    """Shows the bed named by the selection and lets its holes be picked, moved and added."""

    pointer_moved = Signal(object)
    """A ``Pointer`` (bed coordinates in mm, name of the raft under it), None outside the view."""

    hint_changed = Signal(str)
    """What can be done now, in a few words; empty when there is nothing to say."""

    def __init__(
        self, document: Document, selection: Selection, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._theme = theme

    def set_theme(self, theme: Theme) -> None:
        """Draw with other colours from now on."""
        raise NotImplementedError

    def set_bed(self, name: str) -> None:
        """Show another bed, whole."""
        raise NotImplementedError

    def set_canopy(self, diameter_mm: float | None) -> None:
        """Show every plant's leaves as a circle of this width; None shows none."""
        raise NotImplementedError

    def fit(self) -> None:
        """Show the whole bed."""
        raise NotImplementedError

    def zoom_in(self) -> None:
        """Come nearer by one step, the middle of the view staying where it is."""
        raise NotImplementedError

    def zoom_out(self) -> None:
        """Step back by one step, the middle of the view staying where it is."""
        raise NotImplementedError

    def zoom_100(self) -> None:
        """Show the bed at its true size, as far as the screen tells its own."""
        raise NotImplementedError

    def arm_add_hole(self) -> None:
        """Let the next click on foam add a hole there; Escape takes it back."""
        raise NotImplementedError

    def delete_selected(self) -> None:
        """Leave out the selected holes."""
        raise NotImplementedError

    def toggle_pins(self) -> None:
        """Pin the selected holes; unpin them when all are pinned already."""
        raise NotImplementedError

    def select_all(self) -> None:
        """Select every hole of the bed."""
        raise NotImplementedError

    def show_place(self, bed: str, point: tuple[float, float]) -> None:
        """Bring a place of a bed (bed coordinates, mm) to the middle and mark it softly, once."""
        raise NotImplementedError
