"""The ways in which a station can be seen in the middle of the window, and the bar of their names.

A new sight is a ``SightView`` in a module of its own and a row here. Its module is loaded when it
is first seen.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from geometry.tongue import mark, tr
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.flow import Flow
from layout_gui.panels.sight_view import SightView
from layout_gui.panels.stations import StationName


@dataclass(frozen=True, slots=True)
class Sight:
    """One more way to see a station. ``words`` are marked; ``make`` loads its module."""

    name: str
    station: StationName
    words: str
    make: Callable[[Document, Selection], SightView]


def _yield(_document: Document, _selection: Selection) -> SightView:
    from layout_gui.panels.yield_sight import YieldSight  # noqa: PLC0415 - loaded when first seen

    return YieldSight()


def _crops(document: Document, _selection: Selection) -> SightView:
    from layout_gui.panels.crops_sight import CropsSight  # noqa: PLC0415 - loaded when first seen

    return CropsSight(document)


def _weeks(document: Document, selection: Selection) -> SightView:
    from layout_gui.panels.week_sight import WeekSight  # noqa: PLC0415 - loaded when first seen

    return WeekSight(document, selection)


def _side(_document: Document, _selection: Selection) -> SightView:
    from layout_gui.panels.side_sight import SideSight  # noqa: PLC0415 - loaded when first seen

    return SideSight()


def _log(document: Document, selection: Selection) -> SightView:
    from layout_gui.panels.log_view import LogView  # noqa: PLC0415 - loaded when first seen

    return LogView(document, selection)


SIGHTS: Final[tuple[Sight, ...]] = (
    Sight("weeks", "Grow", mark("Week by week"), _weeks),
    Sight("crops", "Grow", mark("Crops"), _crops),
    Sight("side", "Rafts", mark("From the side"), _side),
    Sight("yield", "Grow", mark("Yield"), _yield),
    Sight("log", "Grow", mark("Log"), _log),
)

ABOVE: Final[dict[StationName, str]] = {"Rafts": mark("From above"), "Grow": mark("The bed")}
"""What the bed itself, seen from above, is called beside the sights of a station."""


def sights_of(station: StationName) -> tuple[Sight, ...]:
    """Return the sights of a station beside the bed itself."""
    return tuple(sight for sight in SIGHTS if sight.station == station)


class SightBar(QFrame):
    """The names of a station's sights, in as many lines as they take.

    ``chosen`` carries one of them, empty for the bed itself.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "strip")
        self.setAccessibleName(tr("Ways to see this station"))
        names = QWidget()
        self._row = Flow(names)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        names.setSizePolicy(policy)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 3, 8, 3)
        box.addWidget(names)
        self._group = QButtonGroup(self)
        self.buttons: dict[str, QToolButton] = {}

    def offer(self, above: str, sights: Sequence[Sight], shown: str) -> None:
        """Offer the bed from above, so called, and these sights; ``shown`` is the one in sight."""
        wanted = {"": tr(above), **{sight.name: tr(sight.words) for sight in sights}}
        if [*wanted] != [*self.buttons]:
            for old in self.buttons.values():
                self._group.removeButton(old)
                self._row.removeWidget(old)
                old.hide()
                old.deleteLater()
            self.buttons = {name: self._button(name, words) for name, words in wanted.items()}
        self.buttons[shown].setChecked(True)

    def _button(self, name: str, words: str) -> QToolButton:
        made = QToolButton()
        made.setText(words)
        made.setCheckable(True)
        made.clicked.connect(lambda: self.chosen.emit(name))
        self._group.addButton(made)
        self._row.addWidget(made)
        return made
