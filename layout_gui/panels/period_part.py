"""Which weeks are written: from the week of a day on, and how many."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from geometry.errors import GeometryError
from geometry.flow.period import MOST_WEEKS, USUAL_WEEKS, Period, Week
from geometry.tongue import tr
from layout_gui.panels.dates import date_text, read_day
from layout_gui.panels.fields import CountField
from layout_gui.panels.parts import label, side_by_side


class PeriodPart(QWidget):
    """A day, empty for the first task, and a number of weeks; ``meant`` carries a Period."""

    meant = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.day = QLineEdit()
        self.day.setPlaceholderText(tr("from the first task on"))
        self.day.setAccessibleName(tr("First week to write, by one of its days"))
        self.day.setToolTip(self.day.accessibleName())
        self.day.editingFinished.connect(self._mean)
        self.count = CountField(least=1, most=MOST_WEEKS)
        self.count.setAccessibleName(tr("How many weeks to write"))
        self.count.show_value(USUAL_WEEKS)
        self.count.valueChanged.connect(self._mean)
        self.fault = label("", "warn")
        self.fault.hide()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        box.addWidget(
            label(
                tr("Weeks that pages, tables and calendar tell of: from when, and how many"),
                "quiet",
            )
        )
        box.addWidget(side_by_side(self.day, self.count))
        box.addWidget(self.fault)
        self._meant = Period()

    def _mean(self) -> None:
        text = self.day.text().strip()
        try:
            first = Week.of(read_day(text)).first if text else None
        except GeometryError as error:
            self.fault.setText(str(error))
            self.fault.show()
            return
        self.fault.hide()
        if first is not None:
            self.day.setText(date_text(first))
        period = Period(first, self.count.value())
        if period != self._meant:
            self._meant = period
            self.meant.emit(period)
