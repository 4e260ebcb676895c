"""What a sight of a station is: see ``sights`` for those there are."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from layout_gui.panels.now import Now
from layout_gui.screen.theme import Theme


class SightView(QWidget):
    """What stands in the middle of the window in place of the bed seen from above."""

    went_to = Signal(str)
    """A station that is to be gone to."""

    said = Signal(str)
    """A sentence for the last line."""

    def show_now(self, now: Now) -> None:
        """Show this moment; asked again and again, only while it is in sight."""
        raise NotImplementedError

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        raise NotImplementedError
