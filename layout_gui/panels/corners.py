"""The corners of a free outline: a list of places, the picked one as two fields."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.errors import GeometryError
from geometry.model.outlines import Polygon
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import Length, exact_text
from layout_gui.document.document import Document
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.outlines import Read, Write
from layout_gui.panels.parts import ItemList

Corner = tuple[Length, Length]


class Corners(QWidget):
    """Shown while the outline is a free one. ``title`` names it for a screen reader.

    ``picked`` is the number of the corner that is selected on the bed.
    """

    corner_picked = Signal(int)

    def __init__(
        self,
        read: Read,
        write: Write,
        document: Document,
        title: str,
        prefix: str = "",
        *,
        picked: Callable[[Now], int | None] = lambda _now: None,
    ) -> None:
        super().__init__()
        self._read = read
        self._write = write
        self._document = document
        self._picked = picked
        self._now: Now | None = None
        self.items = ItemList(
            title,
            ((mark("Add"), self._add), (mark("Remove"), self._remove)),
        )
        self.items.picked.connect(self._on_picked)
        self.form = Form(
            (
                self._field(0, f"{prefix}corner-x", mark("From the left")),
                self._field(1, f"{prefix}corner-y", mark("From the bottom")),
            ),
            document,
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.items)
        box.addWidget(self.form)

    def show_now(self, now: Now) -> None:
        """Show the corners of this moment, or nothing for another kind of outline."""
        self._now = now
        corners = self._corners(now)
        self.setVisible(bool(corners))
        unit = now.project.units
        texts = [
            f"{number}.  {exact_text(x, unit)},  {exact_text(y, unit)}"
            for number, (x, y) in enumerate(corners, start=1)
        ]
        picked = self._picked(now)
        self.items.show_items(texts, max(self.items.row, 0) if picked is None else picked)
        self.items.buttons["Remove"].setEnabled(len(corners) > 3)
        self._show_fields()

    def _on_picked(self, row: int) -> None:
        self._show_fields()
        if row >= 0:
            self.corner_picked.emit(row)

    def _show_fields(self) -> None:
        if self._now is not None and 0 <= self.items.row < len(self._corners(self._now)):
            self.form.show_now(self._now)

    def _corners(self, now: Now) -> tuple[Corner, ...]:
        outline = self._read(now)
        return outline.points if isinstance(outline, Polygon) else ()

    def _field(self, axis: int, name: str, words: str) -> Field:
        def write(now: Now, value: Length) -> Project:
            corners = list(self._corners(now))
            x, y = corners[self.items.row]
            corners[self.items.row] = (value, y) if axis == 0 else (x, value)
            return self._written(now, tuple(corners))

        return Field(
            name,
            words,
            "length",
            read=lambda now: self._corners(now)[self.items.row][axis],
            write=write,
            shown=lambda now: 0 <= self.items.row < len(self._corners(now)),
        )

    def _written(self, now: Now, corners: tuple[Corner, ...]) -> Project:
        outline = self._read(now)
        if not isinstance(outline, Polygon):
            raise GeometryError(tr("This outline has no free corners."))
        return self._write(now, replace(outline, points=corners))

    def _add(self) -> None:
        """Add a corner half way between the picked one and the next."""
        if self._now is None:
            return
        corners, at = self._corners(self._now), max(self.items.row, 0)
        (x, y), (next_x, next_y) = corners[at], corners[(at + 1) % len(corners)]
        middle = Length((x.exact + next_x.exact) / 2), Length((y.exact + next_y.exact) / 2)
        self._apply(tr("Add a corner"), (*corners[: at + 1], middle, *corners[at + 1 :]))
        self.items.list.setCurrentRow(at + 1)

    def _remove(self) -> None:
        if self._now is not None:
            corners, at = self._corners(self._now), self.items.row
            self._apply(tr("Remove a corner"), corners[:at] + corners[at + 1 :])

    def _apply(self, text: str, corners: tuple[Corner, ...]) -> None:
        if self._now is None:
            return
        try:
            project = self._written(self._now, corners)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(text, project)
