"""Better cut plans for the window: searched for in a child process, shown as they are found."""

from dataclasses import replace
from fractions import Fraction
from typing import Final, Literal

from PySide6.QtCore import QObject, QTimer, Signal

from geometry.cutting.plan import CutPlan
from geometry.cutting.task import Needed
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import Plan
from layout_gui.cut_searching import search_cuts
from layout_gui.document.child import Child
from layout_gui.document.document import Document

Asked = tuple[Needed, tuple[Sheet, ...], Cutting]
"""What a cut plan depends on."""

State = Literal["idle", "searching", "stopped", "failed"]

PAUSE_MS: Final = 400
"""So long nothing may change before a search begins."""

_REMEMBERED: Final = 16


class CutSearch(QObject):
    """Keeps the cut plan of a document as good as can be.

    Whenever the rafts or the sheets of the current project change, a search begins after a pause;
    each better plan takes the place of the one that is shown. Edits that change neither go on with
    the plan that is there. Results are remembered, so that undo finds them again.
    """

    changed = Signal()
    """``state`` is another one; the plan that goes with it is shown already."""

    def __init__(
        self, document: Document, parent: QObject | None = None, *, pause_ms: int = PAUSE_MS
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._asked: Asked | None = None
        self._known: dict[Asked, CutPlan] = {}
        self._state: State = "idle"
        self._child = Child(self)
        self._child.progress.connect(self._take)
        self._child.done.connect(self._on_done)
        self._child.failed.connect(self._on_failed)
        self._pause = QTimer(self, singleShot=True, interval=pause_ms)
        self._pause.timeout.connect(self._begin)
        document.plan_changed.connect(self._on_plan)

    @property
    def state(self) -> State:
        """What the search is doing; idle as well when there is nothing left to search for."""
        return self._state

    def stop(self) -> None:
        """End the search; the best plan so far stays and counts as the one that was wanted."""
        if self._state != "searching":
            return
        self._pause.stop()
        self._child.cancel()
        cut = self._document.settled.cut
        self._remember(cut)
        self._show(replace(cut, searched=True))
        self._set("stopped")

    def go_on(self) -> None:
        """Search after all; the best plan so far stays until a better one comes."""
        if self._asked is not None and self._state in {"stopped", "failed"}:
            self._known.pop(self._asked, None)
            self._show(replace(self._document.settled.cut, searched=False))
            self._set("searching")
            self._begin()

    def _on_plan(self, plan: Plan) -> None:
        """Begin a search where rafts or sheets are new; a preview begins none."""
        if plan.project is not self._document.project:
            return
        asked = _asked(plan)
        is_new = asked != self._asked
        if is_new:
            self._pause.stop()
            self._child.cancel()
            self._asked = asked
        known = self._known.get(asked)
        if known is not None and not plan.cut.searched:
            self._show(replace(known, searched=True))
            self._set("idle" if known.searched else "stopped")
        elif is_new and (plan.cut.searched or not (plan.project.sheets and plan.needed)):
            self._set("idle")
        elif is_new:
            self._set("searching")
            self._pause.start()

    def _begin(self) -> None:
        if self._asked is not None:
            self._child.start(search_cuts, *self._asked)

    def _take(self, cut: CutPlan) -> None:
        """Show a plan that was found; of a worse one only its bound is news."""
        shown = self._document.settled.cut
        if _needs(cut) > _needs(shown):
            bounds = [bound for bound in (cut.bound, shown.bound) if bound is not None]
            cut = replace(shown, bound=max(bounds, default=None))
        if cut != shown:
            self._show(cut)

    def _on_done(self, cut: CutPlan) -> None:
        self._remember(cut)
        self._show(cut)
        self._set("idle")

    def _on_failed(self, _sentence: str) -> None:
        self._show(replace(self._document.settled.cut, searched=True))
        self._set("failed")

    def _show(self, cut: CutPlan) -> None:
        plan = self._document.settled
        if self._asked == _asked(plan):
            self._document.improve(plan.with_cut(cut))

    def _remember(self, cut: CutPlan) -> None:
        if self._asked is not None:
            self._known[self._asked] = cut
            while len(self._known) > _REMEMBERED:
                self._known.pop(next(iter(self._known)))

    def _set(self, state: State) -> None:
        if state != self._state:
            self._state = state
            self.changed.emit()


def _asked(plan: Plan) -> Asked:
    return plan.needed, plan.project.sheets, plan.project.cutting


def _needs(cut: CutPlan) -> tuple[int, Fraction]:
    """Rank plans for the same rafts and sheets: rafts left out, then what the aim counts."""
    cost = cut.cost if cut.aim == "cost" else None
    return sum(count for _, count in cut.unplaced), Fraction(
        cut.bought_count
    ) if cost is None else cost
