"""What the Edit menu does with the selected holes: clipboard, arranging, picking."""

from collections.abc import Callable
from fractions import Fraction

import numpy as np
from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtGui import QGuiApplication

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.plan import BedPlan
from geometry.tongue import tr, tr_n
from geometry.units import MM_PER, Unit
from layout_gui.canvas.places import Places, to_bed
from layout_gui.canvas.view import BedView
from layout_gui.dialogs.asker import Asks
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.panels.arrange_leaf import ArrangeLeaf
from layout_gui.panels.drawer import Drawer
from layout_gui.panels.hole_table import HoleTable
from layout_gui.project import edits, picking
from layout_gui.project.hole_text import (
    Pasted,
    Read,
    paste_at,
    paste_rows,
    read_rows,
    refusal_sentences,
    write_rows,
)

_GRID: dict[Unit, Fraction] = {"mm": Fraction(1), "cm": Fraction(1), "in": MM_PER["in"] / 16}
"""Pasted holes come to what a tape shows."""

Pick = Callable[[BedPlan, picking.Names], picking.Names]
PICKS: dict[str, Pick] = {
    "invert": picking.inverted,
    "size": picking.same_size,
    "crop": picking.same_crop,
    "design": picking.same_design,
    "pinned": picking.pinned,
}


class HoleWork(QObject):
    """Works on the holes that are selected, wherever they were selected.

    ``said`` carries a short sentence about what was done, or why nothing was.
    """

    said = Signal(str)

    def __init__(
        self,
        document: Document,
        selection: Selection,
        view: BedView,
        table: HoleTable,
        arrange: ArrangeLeaf,
        drawer: Drawer,
        asks: Asks,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._view = view
        self._table = table
        self._arrange = arrange
        self._drawer = drawer
        self._asks = asks
        arrange.said.connect(self.said)
        view.viewport().installEventFilter(self)
        table.copy_wanted.connect(self.copy)
        table.paste_wanted.connect(self.paste_into_table)
        table.leave_out_wanted.connect(view.delete_selected)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        """A press on the bed leaves what a tool only shows, so that holes can be selected there."""
        if event.type() == QEvent.Type.MouseButtonPress and self._arrange.is_trying:
            self._arrange.leave()
        return False

    # -- clipboard -------------------------------------------------------------------------------

    def copy(self) -> bool:
        """Put the selected holes on the clipboard as rows of text; tell whether there were any."""
        plan = self._plan()
        names = self._chosen(plan) if plan is not None else []
        if plan is None or not names:
            self.said.emit(tr("Select the holes first; none is selected."))
            return False
        text = write_rows(plan, names, self._document.project.units)
        QGuiApplication.clipboard().setText(text)
        self.said.emit(tr_n("{n} hole copied", "{n} holes copied", len(names)))
        return True

    def cut(self) -> None:
        """Copy the selected holes and leave them out."""
        plan = self._plan()
        if plan is None or not self.copy():
            return
        names = self._chosen(plan)
        try:
            project = edits.delete_holes(self._document.project, plan, names)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        words = tr_n("Cut {n} hole", "Cut {n} holes", len(names))
        self._document.apply(words, project)
        self._selection.set_holes([])
        self.said.emit(words)

    def paste(self) -> None:
        """Paste where the keyboard is: rows into the table, else a group at the pointer."""
        if self._table.has_keyboard:
            self.paste_into_table()
        else:
            self.paste_at_pointer()

    def paste_into_table(self) -> None:
        """Move the holes that rows name and add the others."""
        self._paste(
            lambda project, plan: paste_rows(
                project, plan, self._read(plan), raft=self._table.raft, moving=True
            )
        )

    def paste_in_place(self) -> None:
        """Add the holes where they were, as far as nothing stands there."""
        self._paste(
            lambda project, plan: paste_rows(
                project, plan, self._read(plan), raft=self._raft(), moving=False
            )
        )

    def paste_at_pointer(self) -> None:
        """Add the holes as a group about the pointer, or about the middle of the view."""
        at = self._view.pointer_place()
        grid = _GRID[self._document.project.units]
        self._paste(lambda project, plan: paste_at(project, plan, self._read(plan), at, grid))

    # -- arranging -------------------------------------------------------------------------------

    def arrange(self, order: str) -> None:
        """Line up or spread the selected holes."""
        self._arrange.do(order)

    def show_tool(self, tool: str) -> None:
        """Bring the fields of a tool into sight and show what it would do."""
        self._drawer.set_open(is_open=True, key=self._arrange.key)
        self._arrange.show_tool(tool)

    # -- picking ---------------------------------------------------------------------------------

    def pick(self, what: str) -> None:
        """Select holes by what they have in common with the selected ones."""
        plan = self._plan()
        if plan is None:
            return
        chosen = self._selection.holes
        if not chosen and self._selection.rafts:
            chosen = picking.all_holes(plan, self._selection.rafts)
        found = PICKS[what](plan, chosen)
        self._selection.set_holes(found)
        self.said.emit(tr_n("{n} hole selected", "{n} holes selected", len(found)))

    # --------------------------------------------------------------------------------------------

    def _plan(self) -> BedPlan | None:
        """The plan of the bed that is shown; None while it is being made, which is told."""
        plan = self._document.plan
        if plan.project is self._document.project:
            for bed in plan.beds:
                if bed.bed.name == self._selection.bed:
                    return bed
        self._document.failed.emit(tr("The holes are still being placed; ask again in a moment."))
        return None

    def _chosen(self, plan: BedPlan) -> list[HoleName]:
        """The selected holes in the order of the plan."""
        chosen = self._selection.holes
        if not chosen:
            return []
        return [name for name in Places(plan).all_names() if name in chosen]

    def _raft(self) -> str:
        chosen = self._selection.rafts | {raft for raft, _ in self._selection.holes}
        return next(iter(chosen)) if len(chosen) == 1 else ""

    def _read(self, plan: BedPlan) -> Read:
        text = QGuiApplication.clipboard().text()
        return read_rows(text, self._document.project.units, [raft.name for raft in plan.rafts])

    def _paste(self, make: Callable[[Project, BedPlan], Pasted]) -> None:
        plan = self._plan()
        if plan is None:
            return
        project = self._document.project
        try:
            pasted = make(project, plan)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        if not pasted.refused:
            self._take(project, plan, pasted)
        elif not pasted.count:
            self._document.failed.emit(
                tr("Nothing can be pasted.") + "\n" + refusal_sentences(pasted.refused)
            )
        else:
            title = tr_n("{n} line cannot be used", "{n} lines cannot be used", len(pasted.refused))
            verb = tr_n("Paste the {n} hole", "Paste the {n} holes", pasted.count)
            self._asks.confirm(
                title,
                refusal_sentences(pasted.refused),
                verb,
                lambda: self._take(project, plan, pasted),
            )

    def _take(self, project: Project, plan: BedPlan, pasted: Pasted) -> None:
        if self._document.project is not project:
            self._document.failed.emit(
                tr("The project has changed in the meantime; paste once more.")
            )
            return
        there = ""
        if pasted.there_already:
            there = tr_n(
                "{n} stands there already", "{n} stand there already", pasted.there_already
            )
        if not pasted.count:
            self.said.emit(there or tr("There are no rows of holes on the clipboard."))
            return
        words = tr_n("Paste {n} hole", "Paste {n} holes", pasted.count)
        rafts = {raft.name: raft for raft in plan.rafts}
        targets = [
            (raft, *to_bed(rafts[raft], np.array([[x, y]])).tolist()[0])
            for raft, x, y in pasted.targets
        ]
        self._view.follow(pasted.project, targets)
        self._document.apply(words, pasted.project)
        self.said.emit(f"{words} · {there}" if there else words)
