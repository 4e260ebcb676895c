"""Yield, a sight of the station Grow: what plants weighed at which density, here and elsewhere."""

from importlib import import_module
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from layout_gui.panels.background import Background
from layout_gui.panels.now import Now
from layout_gui.panels.sight_view import SightView
from layout_gui.screen.theme import Theme


class YieldSight(SightView):
    """Its inside is made when it is first looked at, for the plots take longer than a blink."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._now: Now | None = None
        self._theme: Theme | None = None
        self.inside: Any = None
        self._door = Background(self)
        self._door.done.connect(self._on_loaded)
        self._door.failed.connect(self._on_failed)
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        if self.inside is not None:
            self.inside.show_now(now)
        elif not self._door.is_busy:
            self._door.ask(lambda _is_wanted: import_module("layout_gui.panels.yield_desk"))

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        self._theme = theme
        if self.inside is not None:
            self.inside.set_theme(theme)

    def _on_loaded(self, module: Any) -> None:
        self.inside = module.YieldDesk(self._theme)
        self._box.addWidget(self.inside)
        if self._now is not None:
            self.inside.show_now(self._now)

    def _on_failed(self, error: BaseException) -> None:
        raise error
