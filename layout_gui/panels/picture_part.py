"""The wish for pictures beside the files: a switch, and how fine they are."""

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.tongue import tr
from layout_gui.output.documents import BY_FILE
from layout_gui.output.drawings import kind_of
from layout_gui.output.pictures import Pictures, is_page_picture
from layout_gui.panels.fields import ChoiceField, SwitchField
from layout_gui.screen.pictures import pictures

_DPI: Final = (75, 150, 300, 600)
_USUAL: Final = 150


class PicturePart(QWidget):
    """Offers a picture of every page and every drawing that is written."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.switch = SwitchField()
        self.switch.setText(tr("Pictures of pages and rafts, PNG"))
        self.switch.setAccessibleName(self.switch.text())
        self.switch.setToolTip(tr("A picture of every page and every raft drawing that is written"))
        self.switch.committed.connect(lambda _on: self._show_dots())
        self.dots = ChoiceField()
        self.dots.setAccessibleName(tr("Dots per inch of the pictures"))
        self.dots.set_options([(dpi, tr("{n} dots per inch", n=dpi)) for dpi in _DPI])
        self.dots.show_value(_USUAL)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        box.addWidget(self.switch)
        box.addWidget(self.dots)
        self._show_dots()

    def wish(self) -> Pictures | None:
        """Return what is wished for; None without the tick."""
        dpi = self.dots.value()
        return pictures(dpi) if self.switch.isChecked() and isinstance(dpi, int) else None

    def there(self, folder: Path, files: Iterable[str]) -> list[str]:
        """Name the pictures in a folder that those of these files might replace."""
        if not self.switch.isChecked():
            return []
        rafts = (file for file in files if kind_of(file) in {".svg", ".dxf"})
        drawings = {f"{file.rpartition('.')[0]}.png" for file in rafts}
        documents = [file for file in files if file in BY_FILE]
        found: list[str] = []
        with suppress(OSError):  # a folder that cannot be read is told when it is written
            for path in folder.iterdir():
                is_page = any(is_page_picture(path.name, file) for file in documents)
                if is_page or path.name in drawings:
                    found.append(path.name)
        return sorted(found)

    def _show_dots(self) -> None:
        self.dots.setVisible(self.switch.isChecked())
