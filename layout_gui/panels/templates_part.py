"""What each kind of template needs, before anything is printed; and the pegboard's measures."""

from collections.abc import Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from geometry.drawing.paper import PageSetup
from geometry.drawing.short.offers import Offer, offers, sum_line, summed
from geometry.errors import GeometryError
from geometry.plan import Plan
from geometry.tongue import mark, tr
from geometry.units import Length, Unit
from geometry.watch import Stopped, watched
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.fields import LengthField, LengthNote
from layout_gui.panels.parts import button, label, side_by_side

_AXES: Final = (
    ("pegs-x", mark("First hole of a pegboard from its left edge")),
    ("pegs-y", mark("First hole of a pegboard from its lower edge")),
)


class TemplatesPart(QWidget):
    """One line for each kind of template; they are worked out in a worker while looked at."""

    pegs_meant = Signal(object)
    """How far the first hole of a pegboard is from its edges, in mm; None for not measured."""

    shown = Signal()

    def __init__(self, setup: PageSetup, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan: Plan | None = None
        self._setup = setup
        self._known: tuple[Plan | None, PageSetup] = (None, setup)
        self._background = Background(self)
        self._background.done.connect(self._on_done)
        self._background.failed.connect(_raise)
        self._says = QVBoxLayout()
        self._says.setSpacing(6)
        self._lines: list[QLabel] = []
        self.fields = tuple(LengthField(empty_means=tr("not measured")) for _ in _AXES)
        self._refusal = label("", "quiet")
        self._refusal.setProperty("refused", True)
        self._refusal.hide()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        box.addLayout(self._says)
        box.addSpacing(6)
        for axis, (field, (name, words)) in enumerate(zip(self.fields, _AXES, strict=True)):
            title = QLabel(tr(words))
            title.setWordWrap(True)
            title.setBuddy(field)
            field.setObjectName(name)
            field.setAccessibleName(tr(words))
            field.setToolTip(tr("To the middle of the hole; seldom 1 in"))
            field.committed.connect(partial(self._on_meant, axis))
            field.stepped.connect(partial(self._on_meant, axis))
            box.addWidget(title)
            box.addWidget(field)
        box.addWidget(LengthNote(*self.fields))
        box.addWidget(self._refusal)
        self.forget_button = button(tr("Forget the pegboard"), self._on_forget, "link")
        box.addWidget(side_by_side(self.forget_button))
        self._show_pegs()

    @property
    def words(self) -> str:
        """What is said, a line for each kind."""
        return "\n".join(each.text() for each in self._lines)

    def _say(self, lines: Sequence[str]) -> None:
        for old in self._lines:
            self._says.removeWidget(old)
            old.deleteLater()
        self._lines = [label(line, "quiet") for line in lines]
        for new in self._lines:
            self._says.addWidget(new)

    def set_unit(self, unit: Unit) -> None:
        """Show and read lengths in this unit from now on."""
        for field in self.fields:
            field.set_unit(unit)

    def show_plan(self, plan: Plan) -> None:
        """Compare the templates of this plan."""
        self._plan = plan
        self._ask()

    def show_setup(self, setup: PageSetup) -> None:
        """Compare templates on other paper."""
        self._setup = setup
        self._show_pegs()
        self._ask()

    def showEvent(self, event: QShowEvent) -> None:
        """Work out what was not looked at yet."""
        super().showEvent(event)
        self._ask()

    def _ask(self) -> None:
        plan, setup = self._plan, self._setup
        known, then = self._known
        if plan is None or not self.isVisible() or (known is plan and then == setup):
            return
        self._known = (plan, setup)
        self._say([tr("Comparing the templates …")])

        def work(is_wanted: IsWanted) -> tuple[Offer, ...] | None:
            try:
                with watched(lambda _share: is_wanted()):
                    return tuple(offers(plan, setup))
            except Stopped:
                return None

        self._background.ask(work)

    def _on_done(self, found: tuple[Offer, ...] | None) -> None:
        if found is None:
            return
        lines = [sum_line(offer, missing) for offer, missing in summed(found)]
        self._say(lines or [tr("There is no raft to drill.")])
        self.shown.emit()

    def _on_meant(self, axis: int, value: object) -> None:
        self.fields[axis].settle(value)
        values = [field.value() for field in self.fields]
        lengths = [each.mm for each in values if isinstance(each, Length)]
        if len(lengths) < len(values):
            if self._setup.pegs is not None and not lengths:
                self.pegs_meant.emit(None)
            return
        pegs = lengths[0], lengths[1]
        try:
            PageSetup(pegs=pegs)
        except GeometryError as error:
            self._refuse(str(error))
            return
        self._refuse("")
        self.pegs_meant.emit(pegs)

    def _on_forget(self) -> None:
        self._refuse("")
        self.pegs_meant.emit(None)

    def _refuse(self, reason: str) -> None:
        self._refusal.setText(f"! {reason}" if reason else "")
        self._refusal.setVisible(bool(reason))

    def _show_pegs(self) -> None:
        pegs = self._setup.pegs
        self.forget_button.setVisible(pegs is not None)
        for field, place in zip(self.fields, pegs or (None, None), strict=True):
            if pegs is not None or field.value() is None:
                field.show_value(None if place is None else Length.of(place))
            else:
                field.settle(None)


def _raise(error: BaseException) -> None:
    raise error
