"""What happens when a measuring page is wanted before there is a bed: asked, written, opened."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QUrl, Signal
from PySide6.QtGui import QDesktopServices

from geometry.beds.shapes import ShapeName
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.dialogs.asker import Asks
from layout_gui.panels.background import Background, IsWanted
from layout_gui.windows.settings import Settings


def _open(path: Path) -> None:
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))


class Measuring(QObject):
    """Writes the measuring page of a shape, and opens it to be printed.

    ``said`` tells that it is written, ``failed`` why it is not.
    """

    said = Signal(str)
    failed = Signal(str)

    def __init__(
        self,
        asks: Asks,
        settings: Settings,
        parent: QObject | None = None,
        opens: Callable[[Path], object] = _open,
    ) -> None:
        super().__init__(parent)
        self._asks = asks
        self._settings = settings
        self._opens = opens
        self._path = Path()
        self._background = Background(self)
        self._background.done.connect(self._on_done)
        self._background.failed.connect(self._on_failed)

    def ask(self, shape: ShapeName, unit: Unit) -> None:
        """Ask where to write the measuring page of a shape."""
        name = f"measuring-{shape.replace(' ', '-')}.pdf"
        self._asks.file_to_export(
            self._settings.export_folder / name, lambda path: self._write(path, shape, unit)
        )

    def _write(self, path: Path, shape: ShapeName, unit: Unit) -> None:
        texts = self._settings.page_texts
        self._settings.export_folder = path.parent
        self._path = path

        def work(_is_wanted: IsWanted) -> Path:
            from layout_gui.output.measuring_file import (  # noqa: PLC0415  loaded when first used
                write_measuring,
            )
            from layout_gui.panels.page_setup import read_setup  # noqa: PLC0415  the same

            return write_measuring(path, [shape], read_setup(texts).plain, unit)

        self._background.ask(work)

    def _on_done(self, path: Path) -> None:
        self.said.emit(tr("{name} is written.", name=path.name))
        self._opens(path)

    def _on_failed(self, error: BaseException) -> None:
        if not isinstance(error, OSError):
            raise error
        from layout_gui.project.faults import access_error  # noqa: PLC0415  loaded when first used

        told = access_error(self._path, "written", error)
        self.failed.emit(str(told))
