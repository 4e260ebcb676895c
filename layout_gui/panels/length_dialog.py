"""A small dialog for one or two typed lengths: the typed way beside a drag."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from geometry.errors import GeometryError
from geometry.tongue import tr
from geometry.units import Length, Unit, parse_length
from layout_gui.panels.fields import ChoiceField, LengthField, LengthNote
from layout_gui.panels.parts import label

_EMS: Final = 20
"""How wide the dialog is at least, in heights of a line."""

Done = Callable[[int, tuple[Length, ...]], str]
"""Takes the option that is chosen and the lengths; returns why they are refused, or nothing."""


class LengthDialog(QDialog):
    """Asks for lengths, and for one of a few options first if there are any.

    What is refused stays, with the reason beneath it.
    """

    def __init__(
        self,
        title: str,
        fields: Sequence[tuple[str, Length]],
        unit: Unit,
        verb: str,
        done: Done,
        parent: QWidget | None = None,
        *,
        options: tuple[str, Sequence[str], int] = ("", (), 0),
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._unit: Unit = unit
        self._done = done
        self.option = ChoiceField()
        self.fields: list[LengthField] = []
        form = QFormLayout()
        words, choices, chosen = options
        self.option.setAccessibleName(words)
        self.option.set_options(list(enumerate(choices)))
        self.option.setMinimumContentsLength(max(map(len, choices), default=0))
        self.option.setCurrentIndex(chosen)
        if choices:
            form.addRow(QLabel(words), self.option)
        for text, value in fields:
            field = LengthField()
            field.set_unit(unit)
            field.show_value(value)
            field.setAccessibleName(text)
            name = QLabel(text)
            name.setBuddy(field)
            form.addRow(name, field)
            form.addRow("", LengthNote(field))
            self.fields.append(field)
        self.reason = label("", "warn")
        self.reason.setVisible(False)
        buttons = QDialogButtonBox()
        buttons.addButton(verb, QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton(tr("Cancel"), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        box = QVBoxLayout(self)
        box.setSpacing(12)
        box.addLayout(form)
        box.addWidget(self.reason)
        box.addWidget(buttons)
        self.setMinimumWidth(_EMS * self.fontMetrics().height())
        self.fields[0].setFocus()

    def accept(self) -> None:
        """Do it, or say why not."""
        try:
            lengths = tuple(parse_length(field.text(), self._unit) for field in self.fields)
        except GeometryError as error:
            self._refuse(str(error))
            return
        refused = self._done(self.option.currentIndex(), lengths)
        if refused:
            self._refuse(refused)
        else:
            super().accept()

    def _refuse(self, reason: str) -> None:
        self.reason.setText(reason)
        self.reason.setVisible(True)
