"""The project's name, author, revision, date and notes, in one place."""

from collections.abc import Callable

from PySide6.QtCore import QDate, Qt
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QWidget,
)

from geometry.model.project import Details
from geometry.tongue import tr
from layout_gui.dialogs.question import Question, Verb

Check = Callable[[str, Details], str]
"""Says what is wrong with a name and details, in a sentence; "" when nothing is."""


class DetailsDialog(Question):
    """Shows what is known and takes changes; ``answered`` carries "write" for those to be kept."""

    def __init__(
        self, name: str, details: Details, check: Check, parent: QWidget | None = None
    ) -> None:
        verbs = (
            Verb("cancel", tr("Leave it")),
            Verb("write", tr("Write it down"), is_default=True),
        )
        text = tr("It stands in the project file; revision and date stand on every page as well.")
        super().__init__(tr("About this project"), text, verbs, parent)
        self._check = check
        self._name = QLineEdit(name)
        self._author = QLineEdit(details.author)
        self._revision = QLineEdit(details.revision)
        self._date = QLineEdit(details.date)
        self.today_button = QPushButton(tr("Today"))
        self.today_button.setAutoDefault(False)
        self.today_button.clicked.connect(
            lambda: self._date.setText(QDate.currentDate().toString(Qt.DateFormat.ISODate))
        )
        when = QWidget()
        day = QHBoxLayout(when)
        day.setContentsMargins(0, 0, 0, 0)
        day.addWidget(self._date, 1)
        day.addWidget(self.today_button)
        self._notes = QPlainTextEdit(details.notes)
        self._notes.setTabChangesFocus(True)
        self._wrong = QLabel()
        self._wrong.setProperty("role", "warn")
        self._wrong.setWordWrap(True)
        self._wrong.hide()
        inside = QWidget()
        form = QFormLayout(inside)
        form.setContentsMargins(0, 6, 0, 0)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        rows: tuple[tuple[str, QWidget], ...] = (
            (tr("Name"), self._name),
            (tr("Drawn up by"), self._author),
            (tr("Revision"), self._revision),
            (tr("Date"), when),
            (tr("Notes"), self._notes),
        )
        for words, field in rows:
            (self._date if field is when else field).setAccessibleName(words)
            form.addRow(words, field)
        self.add(inside)
        self.add(self._wrong)
        self._name.setFocus()

    @property
    def name(self) -> str:
        """The name as it is written now."""
        return self._name.text().strip()

    @property
    def details(self) -> Details:
        """The details as they are written now."""
        return Details(
            self._author.text().strip(),
            self._revision.text().strip(),
            self._notes.toPlainText().rstrip(),
            self._date.text().strip(),
        )

    @property
    def wrong(self) -> str:
        """What stands in the way of writing it down."""
        return self._wrong.text()

    def answer(self, key: str) -> None:
        """Answer, unless what is to be written cannot be."""
        if key == "write" and (sentence := self._check(self.name, self.details)):
            self._wrong.setText(sentence)
            self._wrong.show()
            return
        super().answer(key)
