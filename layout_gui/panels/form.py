"""A form made from a list of field descriptions."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Any, Final, Literal

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import Length, Unit, both_units, exact_text
from layout_gui.document.document import Document
from layout_gui.panels.fields import (
    MIXED,
    ChoiceField,
    CountField,
    Editor,
    LengthField,
    LengthsField,
    NumberField,
    SwitchField,
    TextField,
)
from layout_gui.panels.now import Now
from layout_gui.panels.words import short_length

Kind = Literal["length", "lengths", "count", "choice", "text", "number", "switch"]
Options = Sequence[tuple[object, str]]

PAUSE_MS: Final = 300
"""A value is tried once typing has paused this long."""


def _nothing(_now: Now) -> str:
    return ""


def _always(_now: Now) -> bool:
    return True


def _no_options(_now: Now) -> Options:
    return ()


@dataclass(frozen=True, slots=True)
class Field:
    """One value of the project as a field.

    ``read`` returns the value (or MIXED), ``write`` a project that has another one; it raises
    GeometryError with the reason when there can be no such project. ``follows`` is what stands
    beneath the field. ``empty_means`` names what an empty field stands for (the value None).
    ``label``, ``hint`` and ``empty_means`` are marked, and translated where they are shown.
    """

    name: str
    label: str
    kind: Kind
    read: Callable[[Now], Any]
    write: Callable[[Now, Any], Project]
    follows: Callable[[Now], str] = _nothing
    shown: Callable[[Now], bool] = _always
    options: Callable[[Now], Options] = _no_options
    empty_means: str = ""
    hint: str = ""
    most: int = 100_000
    counts: tuple[int, ...] = ()


def words_for(field: Field, now: Now, value: object, unit: Unit) -> str:
    """Name a value as it stands in an undo step."""
    match value:
        case None:
            return tr(field.empty_means)
        case bool():
            return tr("on") if value else tr("off")
        case Length():
            return exact_text(value, unit)
        case tuple():
            return "; ".join(exact_text(length, unit) for length in value)
        case _:
            return next(
                (words for option, words in field.options(now) if option == value), str(value)
            )


class FieldRow:
    """A label, its editor and the lines beneath: what follows, or why the text is refused."""

    def __init__(self, field: Field, parent: QWidget) -> None:
        self.field = field
        self.editor = _make_editor(field, parent)
        self.editor.setObjectName(field.name)
        self.editor.setAccessibleName(tr(field.label))
        self.editor.setToolTip(tr(field.hint))
        self.label = QLabel(tr(field.label), parent)
        self.label.setWordWrap(True)
        self.label.setBuddy(self.editor)
        self.label.setContentsMargins(0, 7, 0, 0)
        self.note = QLabel("", parent)
        self.note.setProperty("role", "quiet")
        self.note.setWordWrap(True)
        self.note.setContentsMargins(1, 2, 0, 0)
        self.gap = QWidget(parent)
        self.gap.setFixedHeight(9)
        self._follows = ""
        self._reading = ""
        if isinstance(self.editor, (LengthField, TextField)):
            self.editor.refused.connect(self.show_reason)

    def show(self, now: Now) -> None:
        """Show the value of this moment and what follows from it."""
        shown = self.field.shown(now)
        if shown == self.editor.isHidden():
            for widget in (self.label, self.editor, self.note, self.gap):
                widget.setVisible(shown)
        if not shown:
            return
        value = self.field.read(now)
        if isinstance(self.editor, ChoiceField):
            self.editor.set_options(self.field.options(now))
        self.editor.set_unit(now.project.units)
        self.editor.show_value(value)
        measured = value if self.field.kind == "length" else None
        follows = self.field.follows(now)
        if self._reading and isinstance(self.editor, LengthField) and self.editor.is_touched:
            # What follows is already that of the length being typed.
            self._follows = " · ".join(filter(None, (self._reading, follows)))
        else:
            self._reading = ""
            self._follows = _beneath(measured, follows, now.project.units)
        if not self.note.property("refused"):
            self._set_note(self._follows)

    def show_reading(self, value: object) -> None:
        """Show how a text that is being typed is understood."""
        self._reading = both_units(value) if isinstance(value, Length) else ""
        self._set_note(self._reading or self._follows)

    def show_reason(self, reason: str) -> None:
        """Show why a text is refused; an empty reason brings back what follows."""
        if not reason and not self.note.property("refused"):
            self._set_note(self._follows)
            return
        self.note.setProperty("refused", bool(reason))
        self.editor.setProperty("refused", bool(reason))
        self._set_note(f"! {reason}" if reason else self._follows)
        for widget in (self.note, self.editor):
            widget.style().unpolish(widget)
            widget.style().polish(widget)

    def _set_note(self, text: str) -> None:
        if text == self.note.text() and self.note.isHidden() is not bool(text):
            return
        self.note.setText(text)
        self.note.setVisible(bool(text) and not self.editor.isHidden())
        self.editor.setAccessibleDescription(text)


def _beneath(value: object, follows: str, unit: Unit) -> str:
    other: Unit = "mm" if unit == "in" else "in"
    reading = short_length(value.exact, other) if isinstance(value, Length) else ""
    return " · ".join(filter(None, (reading, follows)))


def _make_editor(field: Field, parent: QWidget) -> Editor:
    match field.kind:
        case "length":
            return LengthField(empty_means=tr(field.empty_means), parent=parent)
        case "lengths":
            return LengthsField(counts=field.counts, parent=parent)
        case "count":
            return CountField(most=field.most, empty_means=tr(field.empty_means), parent=parent)
        case "choice":
            return ChoiceField(parent)
        case "text":
            return TextField(empty_means=tr(field.empty_means), parent=parent)
        case "number":
            return NumberField(empty_means=tr(field.empty_means), parent=parent)
        case "switch":
            return SwitchField(parent)


_sessions = count()
_FILL: Final = Qt.AlignmentFlag(0)
_SIDE_BY_SIDE: Final = 33
"""So many letters wide a form must be for a label and its field side by side."""


class Form(QWidget):
    """Fields in a column. A committed value is one undo step, a run of steps is one as well.

    ``beneath`` puts other parts beneath some of the fields, by the fields' names.
    """

    def __init__(
        self,
        fields: Sequence[Field],
        document: Document,
        parent: QWidget | None = None,
        *,
        beneath: Mapping[str, QWidget] | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._now: Now | None = None
        self._tried: tuple[FieldRow, object] | None = None
        self._is_tried = False
        self._run = ""
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self._preview)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(1, 1)
        self.rows = {field.name: FieldRow(field, self) for field in fields}
        self._beneath = beneath or {}
        self._is_stacked = False
        self._place_all()
        for row in self.rows.values():
            self._connect_row(row)

    def editor(self, name: str) -> Editor:
        """Return the editor of a field by the field's name."""
        return self.rows[name].editor

    def show_now(self, now: Now) -> None:
        """Show the values of this moment."""
        self._now = now
        for row in self.rows.values():
            row.show(now)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put labels above their fields where text is too large for both to stand side by side."""
        super().resizeEvent(event)
        is_stacked = self.width() < _SIDE_BY_SIDE * self.fontMetrics().averageCharWidth()
        if is_stacked is not self._is_stacked:
            self._is_stacked = is_stacked
            self._place_all()

    def _place_all(self) -> None:
        """Lay all parts out; those that were laid out before move."""
        column, span = (0, 2) if self._is_stacked else (1, 1)
        for number, (name, row) in enumerate(self.rows.items()):
            at = 5 * number
            above = at if self._is_stacked else at + 1
            self._put(row.label, above, 0, span, Qt.AlignmentFlag.AlignTop)
            self._put(row.editor, at + 1, column, span)
            self._put(row.note, at + 2, column, span)
            self._put(row.gap, at + 3, column, span)
            if name in self._beneath:
                self._put(self._beneath[name], at + 4, 0, 2)
        self._grid.setColumnMinimumWidth(0, 0 if self._is_stacked else 98)

    def _put(
        self, part: QWidget, row: int, column: int, span: int,
        alignment: Qt.AlignmentFlag = _FILL,
    ) -> None:  # fmt: skip
        self._grid.removeWidget(part)
        self._grid.addWidget(part, row, column, 1, span, alignment)

    def _connect_row(self, row: FieldRow) -> None:
        editor = row.editor
        if isinstance(editor, LengthField):
            editor.tried.connect(lambda value: self._on_tried(row, value))
            editor.refused.connect(self._on_refused)
            editor.reverted.connect(lambda: self._on_reverted(row))
        if isinstance(editor, (LengthField, CountField)):
            editor.stepped.connect(lambda value: self._on_stepped(row, value))
        if not isinstance(editor, CountField):
            editor.committed.connect(lambda value: self._commit(row, value))

    def _on_tried(self, row: FieldRow, value: object) -> None:
        row.show_reading(value)
        self._tried = (row, value)
        self._pause.start()

    def _preview(self) -> None:
        if self._tried is None or self._now is None:
            return
        row, value = self._tried
        if not _may_be_tried(row.field.read(self._now), value):
            return
        project = self._written(row, value)
        if project is not None:
            self._is_tried = True
            self._document.preview(project)

    def _on_reverted(self, row: FieldRow) -> None:
        self._forget_try()
        row.show_reason("")
        self._document.preview(None)
        if self._now is not None:
            row.show(self._now)

    def _on_refused(self, reason: str) -> None:
        """Show the project as it is: what was read of the text before is not meant."""
        if reason:
            self._forget_try()
            if self._is_tried:
                self._document.preview(None)
                self._is_tried = False

    def _forget_try(self) -> None:
        self._pause.stop()
        self._tried = None

    def _on_stepped(self, row: FieldRow, value: object) -> None:
        run = f"{row.field.name} "
        if not self._run.startswith(run):
            self._run = f"{run}{next(_sessions)}"
        self._apply(row, value, self._run)

    def _commit(self, row: FieldRow, value: object) -> None:
        self._run = ""
        self._apply(row, value, None)

    def _apply(self, row: FieldRow, value: object, merge_key: str | None) -> None:
        self._forget_try()
        self._is_tried = False
        if self._now is None:
            return
        project = self._written(row, value)
        if project is None:
            self._document.preview(None)
            return
        if isinstance(row.editor, LengthField):
            row.editor.settle(value)
        words = words_for(row.field, self._now, value, self._now.project.units)
        self._document.apply(f"{tr(row.field.label)} {words}".strip(), project, merge_key=merge_key)

    def _written(self, row: FieldRow, value: object) -> Project | None:
        if self._now is None:
            return None
        try:
            project = row.field.write(self._now, value)
        except GeometryError as error:
            row.show_reason(str(error))
            return None
        row.show_reason("")
        return project


def _may_be_tried(current: object, value: object) -> bool:
    # A number half typed is often a tenth of what is meant, and costs a hundred times the holes.
    if isinstance(current, Length) and isinstance(value, Length) and current.exact > 0:
        return current.exact / 5 <= value.exact <= current.exact * 5
    return current is not MIXED or value is not None
