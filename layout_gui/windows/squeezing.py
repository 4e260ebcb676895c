"""Squeezing from the window: the question, the search in its own process, the offer."""

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from geometry.compare.squeezing import Answer, Offer, Question, question_of
from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.plan import BedPlan
from geometry.tongue import tr, tr_n
from layout_gui.dialogs.squeeze_dialog import RaftPicture, SqueezeDialog
from layout_gui.document.child import Child
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.project import edits
from layout_gui.screen.theme import Theme
from layout_gui.squeezing import SECONDS, Search, finish, search
from layout_gui.wording.squeezing import not_squeezed_text, squeezed_text, squeezed_title


class Squeezing(QObject):
    """Searches for more holes on one raft of the bed that is shown, and offers what it finds."""

    def __init__(
        self,
        document: Document,
        selection: Selection,
        window: QWidget,
        *,
        seconds: float = SECONDS,
    ) -> None:
        super().__init__(window)
        self._document = document
        self._selection = selection
        self._window = window
        self.seconds = seconds
        self.dialog: SqueezeDialog | None = None
        self._asked: tuple[Project, BedPlan, Question] | None = None
        self._offer: Offer | None = None
        self._child = Child(self)
        self._child.progress.connect(self._on_progress)
        self._child.done.connect(self._on_done)
        self._child.failed.connect(self._on_failed)

    def begin(self, theme: Theme) -> None:
        """Begin with the selected raft, or the one with the selected hole, or the first.

        What cannot be squeezed is told by the document's ``failed``.
        """
        if self.dialog is not None:
            return
        plan = self._bed_plan()
        if plan is None:
            self._document.failed.emit(
                tr("The holes are still being placed; ask again in a moment.")
            )
            return
        try:
            question = question_of(plan, self._raft(plan), self._document.project.units)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._asked = self._document.project, plan, question
        shape = next(raft.design.shape for raft in plan.rafts if raft.name == question.raft)
        planting = plan.bed.planting
        diameter = planting.hole_diameter.mm if planting else 0.0
        obstacles = [each.loop for each in question.room.region.keep_outs]
        picture = RaftPicture(shape.loop, diameter, theme, obstacles)
        picture.show_holes(question.begin)
        self.dialog = dialog = SqueezeDialog(question.raft, picture, self.seconds, self._window)
        dialog.stop_wanted.connect(self._on_stop)
        dialog.use_wanted.connect(self._use)
        dialog.finished.connect(self._on_closed)
        self._offer = None
        if question.can_win:
            dialog.show_start(len(question.begin))
            self._child.start(search, question, self.seconds)
        else:
            dialog.show_nothing(tr("There is no room for more"), not_squeezed_text(question))
        dialog.open()

    def _bed_plan(self) -> BedPlan | None:
        plan = self._document.plan
        if self._document.is_busy or plan.project is not self._document.project:
            return None
        return next((bed for bed in plan.beds if bed.bed.name == self._selection.bed), None)

    def _raft(self, plan: BedPlan) -> str:
        chosen = self._selection.rafts | {raft for raft, _ in self._selection.holes}
        names = [raft.name for raft in plan.rafts]
        return next((name for name in names if name in chosen), names[0] if names else "R1")

    def _on_progress(self, news: Search) -> None:
        if self.dialog is None or self._asked is None:
            return
        best = 0 if news.xy is None else len(news.xy)
        self.dialog.show_search(len(self._asked[2].begin), best, news.left_s)
        if news.xy is not None:
            self.dialog.picture.show_holes(news.xy)

    def _on_stop(self) -> None:
        """End the search; what it has found is made fit to be marked, which takes a moment."""
        self._child.cancel()
        news = self._child.best
        if self._asked is None:
            return
        question = self._asked[2]
        if isinstance(news, Search) and news.xy is not None:
            self._child.start(finish, question, news.xy, news.rows)
        else:
            self._on_done(Answer(None, news.rows if isinstance(news, Search) else None))

    def _on_done(self, answer: Answer) -> None:
        if self.dialog is None or self._asked is None:
            return
        _, plan, question = self._asked
        if answer.found is None:
            text = not_squeezed_text(question, answer.rows)
            self.dialog.show_nothing(tr("There is no offer"), text)
            return
        self._offer = Offer(question, answer.found, answer.rows)
        text = squeezed_text(self._offer, plan.plants)
        self.dialog.show_offer(squeezed_title(self._offer), text, answer.found.xy)

    def _on_failed(self, sentence: str) -> None:
        if self.dialog is not None:
            self.dialog.show_nothing(tr("The search came to no end"), sentence)

    def _use(self) -> None:
        document = self._document
        if self._offer is None or self._asked is None or document.project is not self._asked[0]:
            return
        gain = self._offer.whole_gain
        words = tr_n("Squeeze in {n} hole", "Squeeze in {n} holes", gain)
        try:
            document.apply(words, edits.squeeze_in(document.project, self._offer))
        except GeometryError as error:
            document.failed.emit(str(error))

    def _on_closed(self) -> None:
        self._child.cancel()
        self.dialog = None
        self._asked = None
