"""What the cutting comes to, and the search for a better plan with its stop."""

from typing import Final

from PySide6.QtWidgets import QProgressBar, QWidget

from geometry.cutting.cuts import kept_offcuts
from geometry.cutting.plan import CutPlan
from geometry.errors import GeometryError
from geometry.model.sheet import Cutting
from geometry.plan import Plan
from geometry.tongue import listed, tr
from geometry.units import Unit
from layout_gui.document.cut_search import CutSearch
from layout_gui.panels.parts import button, label, side_by_side, stack
from layout_gui.panels.words import counted, exact_size_words
from layout_gui.wording.plans import cut_sentence

_MOST_SIZES: Final = 3
_MOST_SHEETS: Final = 60
"""Different sheets beyond which what they leave over is not listed."""


class CutStatus(QWidget):
    """A sentence about the cut plan; while the search goes on, its progress and a stop."""

    def __init__(self, search: CutSearch, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._search = search
        self._plan: Plan | None = None
        self._left_over: tuple[CutPlan, str] | None = None
        self._says = label("")
        self._more = label("", "quiet")
        self.bar = QProgressBar()
        self.bar.setAccessibleName(tr("Search for a better cut plan"))
        self.bar.setRange(0, 0)
        self.bar.setTextVisible(False)
        self.bar.setFixedHeight(6)
        self.stop_button = button(tr("Stop"), search.stop)
        self.stop_button.setAccessibleName(tr("Stop the search for a better cut plan"))
        self.go_on_button = button(tr("Search on"), search.go_on, "link")
        self._running = stack(self.bar, side_by_side(self.stop_button))
        inside = stack(self._says, self._more, self._running, side_by_side(self.go_on_button))
        box = inside.layout()
        if box is not None:
            self.setLayout(box)
        search.changed.connect(self._show)

    @property
    def words(self) -> str:
        """What is said."""
        return " ".join(filter(None, (self._says.text(), self._more.text())))

    def show_plan(self, plan: Plan) -> None:
        """Show what the cutting of a plan comes to."""
        self._plan = plan
        self._show()

    def _show(self) -> None:
        if self._plan is None:
            return
        cut, project = self._plan.cut, self._plan.project
        state = self._search.state
        is_searching = state == "searching" and not cut.searched
        self._running.setVisible(is_searching)
        self.go_on_button.setVisible(state in {"stopped", "failed"} and not cut.proved)
        if not project.sheets:
            self._says.setText(
                tr("Add the boards you can buy or have, and the rafts are laid out on them.")
            )
            self._more.hide()
            return
        self._says.setText(
            tr("{cut}; looking for a better plan \N{HORIZONTAL ELLIPSIS}", cut=cut_sentence(cut))
            if is_searching
            else f"{cut_sentence(cut)}."
        )
        broke_off = tr("The search broke off.") if state == "failed" else ""
        rest = self._rest_words(cut, project.cutting, project.units)
        self._more.setText(f"{broke_off} {rest}".strip())
        self._more.setVisible(bool(self._more.text()))

    def _rest_words(self, cut: CutPlan, cutting: Cutting, unit: Unit) -> str:
        if not cut.sheets:
            return ""
        waste = tr("{share} of the foam becomes no raft.", share=f"{cut.waste_share:.0%}")
        if self._left_over is None or self._left_over[0] is not cut:
            self._left_over = cut, _left_over_words(cut, cutting, unit)
        return f"{waste} {self._left_over[1]}".strip()


def _left_over_words(cut: CutPlan, cutting: Cutting, unit: Unit) -> str:
    """List the offcuts worth keeping, the largest first."""
    if len(cut.sheets) > _MOST_SHEETS:
        return ""
    try:
        kept = kept_offcuts(cut, cutting)
    except GeometryError:
        return ""
    sizes = [
        exact_size_words((long, short), unit) + (f" ({count})" if count > 1 else "")
        for long, short, count in kept[:_MOST_SIZES]
    ]
    rest = len(kept) - _MOST_SIZES
    if rest > 0:
        sizes = [listed([", ".join(sizes), counted(rest, "more size")])]
    return tr("Offcuts worth keeping: {sizes}.", sizes=", ".join(sizes)) if sizes else ""
