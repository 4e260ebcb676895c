"""What the Edit menu does with whole beds: to the clipboard and from it, between windows too."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QGuiApplication

from geometry.errors import GeometryError
from geometry.tongue import listed, tr, tr_n
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection


class BedWork:
    """Copies the bed that is shown, and pastes beds as one undo step."""

    def __init__(
        self,
        document: Document,
        selection: Selection,
        refuse: Callable[[str], object],
        say: Callable[[str], object],
    ) -> None:
        self._document = document
        self._selection = selection
        self._refuse = refuse
        self._say = say

    def copy(self) -> None:
        """Put the bed that is shown on the clipboard."""
        from layout_gui.project import bed_text  # noqa: PLC0415  loaded when first used

        bed = self._selection.bed
        QGuiApplication.clipboard().setText(bed_text.write_bed(self._document.project, bed))
        self._say(tr("{bed} copied; paste it here or in another window", bed=bed))

    def paste(self) -> None:
        """Add the beds that the clipboard holds and show the first of them."""
        from layout_gui.project import bed_text  # noqa: PLC0415  loaded when first used

        text = QGuiApplication.clipboard().text()
        try:
            project, names = bed_text.paste_beds(self._document.project, text)
        except GeometryError as error:
            self._refuse(str(error))
            return
        words = tr_n("Paste bed {names}", "Paste beds {names}", len(names), names=listed(names))
        self._document.apply(words, project)
        self._selection.set_bed(names[0])
        self._say(words)
