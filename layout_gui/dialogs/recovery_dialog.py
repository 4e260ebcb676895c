"""What runs that ended without closing have left, one card for each, and what to do with it."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import QDateTime, QLocale, Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from geometry.tongue import tr
from layout_gui.dialogs.question import Question, Verb
from layout_gui.document.recovery import LeftOver

_WIDTH: Final = 560
_HIGHEST: Final = 430


class RecoveryDialog(Question):
    """Offers left-over work. ``answered`` follows when it is put off or closed.

    Each signal carries the LeftOver it is about.
    """

    recover_wanted = Signal(object)
    open_wanted = Signal(object)
    throw_wanted = Signal(object)

    def __init__(self, left: Sequence[LeftOver], parent: QWidget | None = None) -> None:
        super().__init__(
            tr("There is work that was not saved"),
            tr(
                "The program ended before it was closed. What was kept safe until then is here; it "
                "stays until you save it or throw it away, and waits in the menu File, "
                "Recovered work."
            ),
            (Verb("later", tr("Not now")),),
            parent,
        )
        self.setMinimumWidth(_WIDTH + 52)
        self.cards: dict[LeftOver, Card] = {}
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 6, 0)
        column.setSpacing(10)
        for one in left:
            card = Card(one, is_first=not self.cards)
            card.recover.clicked.connect(partial(self._take, self.recover_wanted.emit, one))
            card.open.clicked.connect(partial(self._take, self.open_wanted.emit, one))
            card.throw.clicked.connect(partial(self._ask_throw, one))
            self.cards[one] = card
            column.addWidget(card)
        column.addStretch(1)
        area = QScrollArea()
        area.setAccessibleName(tr("Recovered work"))
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(inside)
        self._area, self._inside = area, inside
        self.add(area)
        self._fit()
        next(iter(self.cards.values())).recover.setFocus()

    def show_differences(self, found: Mapping[LeftOver, tuple[str, ...] | str | None]) -> None:
        """Say of each what it has otherwise than its saved file, or why it cannot be read.

        The lines that differ, or a sentence; None where there is no saved file to compare with.
        """
        for one, what in found.items():
            if one in self.cards:
                self.cards[one].show_differences(what)
        self._fit()

    def take_away(self, one: LeftOver) -> None:
        """Show no longer what has been thrown away; with the last card the dialog closes."""
        card = self.cards.pop(one, None)
        if card is not None:
            card.hide()
            card.deleteLater()
        if not self.cards:
            self.answer("later")

    def _take(self, tell: Callable[[LeftOver], object], one: LeftOver) -> None:
        self.answer("taken")
        tell(one)

    def _ask_throw(self, one: LeftOver) -> None:
        verbs = (
            Verb("throw", tr("Throw away")),
            Verb("cancel", tr("Keep it"), is_default=True),
        )
        question = Question(
            tr("Throw this work away?"),
            tr("What was not saved of “{name}” is then gone for good.", name=name_of(one)),
            verbs,
            self,
        )
        question.answered.connect(
            lambda key: self.throw_wanted.emit(one) if key == "throw" else None
        )
        question.open()

    def _fit(self) -> None:
        self._inside.adjustSize()
        high = self._inside.heightForWidth(_WIDTH)
        high = high if high > 0 else self._inside.sizeHint().height()
        self._area.setMinimumHeight(min(high, _HIGHEST))
        self.adjustSize()


class Card(QFrame):
    """One piece of left-over work."""

    def __init__(self, left: LeftOver, *, is_first: bool) -> None:
        super().__init__()
        self.setProperty("role", "card")
        name = name_of(left)
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 12, 16, 12)
        box.setSpacing(4)
        self.words = (
            _line(name, "heading"),
            _line(_where(left), "quiet"),
            _line(_when(left), "quiet"),
        )
        self.differs = _line(tr("comparing with the saved file …") if left.path else "")
        for line in (*self.words, self.differs):
            box.addWidget(line)
        self.differs.setVisible(left.path is not None)
        row = QHBoxLayout()
        row.setContentsMargins(0, 6, 0, 0)
        self.recover = _button(tr("Recover"), tr("Recover “{name}”", name=name))
        self.recover.setProperty("role", "primary" if is_first else "")
        self.open = _button(tr("Open the saved file"), tr("Open the saved “{name}”", name=name))
        self.open.setVisible(left.path is not None and left.path.is_file())
        self.throw = _button(tr("Throw away…"), tr("Throw away “{name}”", name=name))
        self.throw.setProperty("role", "link")
        for part in (self.recover, self.open):
            row.addWidget(part)
        row.addStretch(1)
        row.addWidget(self.throw)
        box.addLayout(row)

    def show_differences(self, what: tuple[str, ...] | str | None) -> None:
        """Say what differs from the saved file."""
        if isinstance(what, str):
            words = tr("It cannot be read: {reason}", reason=what)
        elif what is None:
            words = ""
        elif not what:
            words = tr("The saved file holds the same.")
        else:
            words = "\n".join(
                (tr("Otherwise than in the saved file:"), *(f"\N{EN DASH} {w}" for w in what))
            )
        self.differs.setText(words)
        self.differs.setVisible(bool(words))


def name_of(left: LeftOver) -> str:
    """Return what left-over work is called."""
    path = left.path
    return left.head.name or (path.name if path else "") or tr("New project")


def _where(left: LeftOver) -> str:
    path = left.path
    if path is None:
        return tr("It was never saved.")
    if not path.is_file():
        return tr("Its file is gone: {path}", path=path)
    return tr("{file} in {folder}", file=path.name, folder=path.parent)


def _when(left: LeftOver) -> str:
    moment = QDateTime.fromSecsSinceEpoch(round(left.head.time))
    when = QLocale().toString(moment, QLocale.FormatType.ShortFormat)
    if not left.head.program:
        return tr("Kept safe {time}", time=when)
    return tr("Kept safe {time} by version {version}", time=when, version=left.head.program)


def _line(text: str, role: str = "") -> QLabel:
    made = QLabel(text)
    made.setProperty("role", role)
    made.setWordWrap(True)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return made


def _button(text: str, name: str) -> QPushButton:
    made = QPushButton(text)
    made.setAccessibleName(name)
    return made
