"""What happens when a comparison is exported: the file is asked for, written, and named."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from geometry.compare.comparison import Comparison
from geometry.tongue import tr
from layout_gui.dialogs.asker import Asks
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.whatif import WhatIf
from layout_gui.windows.settings import Settings


class Comparing(QObject):
    """Answers the wish to export what stands in the drawer."""

    said = Signal(str)
    """What was done, in a few words."""

    def __init__(
        self,
        whatif: WhatIf,
        document: Document,
        selection: Selection,
        asks: Asks,
        settings: Settings,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._whatif = whatif
        self._document = document
        self._selection = selection
        self._asks = asks
        self._settings = settings
        whatif.export_wanted.connect(self.export)

    def export(self, kind: str) -> None:
        """Ask where to write the comparison of the bed in sight, as "pdf" or "csv"."""
        comparison, project = self._whatif.comparison, self._document.project
        if comparison is None or not comparison.results:
            return
        bed = self._selection.bed or (project.beds[0].name if project.beds else "")
        stem = "".join(sign if sign.isalnum() or sign in " -_" else "-" for sign in bed).strip()
        name = tr("{bed} compared", bed=stem or project.name or "bed")
        suggested = self._settings.export_folder / f"{name}.{kind}"
        self._asks.file_to_export(suggested, self._writer(bed, comparison))

    def _writer(self, bed: str, comparison: Comparison) -> Callable[[Path], None]:
        project = self._document.project

        def write(path: Path) -> None:
            from layout_gui.output.export import (  # noqa: PLC0415  loaded when first used
                UnknownFileError,
                export_comparison,
            )
            from layout_gui.project.faults import access_error  # noqa: PLC0415  the same

            try:
                # The dialog has asked before a file is replaced.
                export_comparison(project, ((bed, comparison),), path, replaces=True)
            except UnknownFileError as error:
                self._document.failed.emit(str(error))
            except OSError as error:
                told = access_error(error.filename or path, "written", error)
                self._document.failed.emit(str(told))
            else:
                self._settings.export_folder = path.parent
                self.said.emit(tr("{name} is written.", name=path.name))

        return write
