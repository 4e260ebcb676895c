"""Which files are written: the usual ones in sight, the others folded away by what they are for."""

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.tongue import mark, tr, tr_n
from layout_gui.output.documents import DOCUMENTS
from layout_gui.output.export import CALENDAR, CUTS, HOLES, SHOPPING, SUMMARY, TASKS, WEEKS
from layout_gui.output.letters import Letters
from layout_gui.output.log_tables import BATCHES, NOTES, RAFTS
from layout_gui.panels.fields import SwitchField
from layout_gui.panels.parts import Fold
from layout_gui.panels.period_part import PeriodPart

_Kinds = tuple[tuple[str, str], ...]

_USUAL: Final[_Kinds] = (
    *((each.file, each.words) for each in DOCUMENTS if each.is_usual),
    (HOLES, mark("Table of all holes")),
    (SUMMARY, mark("Summary of the counts")),
)
_TEMPLATES: Final[_Kinds] = tuple(
    (each.file, each.words) for each in DOCUMENTS if each.is_template and not each.is_usual
)
_LISTS: Final[_Kinds] = (
    *((each.file, each.words) for each in DOCUMENTS if not (each.is_template or each.is_usual)),
    (CALENDAR, mark("Tasks for a calendar, ICS")),
)
_MACHINES: Final[_Kinds] = (
    (".svg", mark("Drawings, SVG")),
    (".dxf", mark("Drawings for machines, DXF")),
    (".bed.svg", mark("Whole beds, SVG")),
    (".bed.dxf", mark("Whole beds, DXF")),
    (CUTS, mark("Table of the cuts")),
    (SHOPPING, mark("Shopping list, table")),
    (TASKS, mark("Tasks, table")),
    (WEEKS, mark("Rafts by week, table")),
    (RAFTS, mark("Rafts made, table")),
    (BATCHES, mark("Batches, table")),
    (NOTES, mark("Notes, table")),
)
_DRAWINGS: Final = {".svg", ".dxf", ".bed.svg", ".bed.dxf"}
_FOLDS: Final = (
    (mark("Other templates"), _TEMPLATES),
    (mark("Lists, labels and forms"), _LISTS),
    (mark("For machines and programs"), _MACHINES),
)


class FilesPart(QWidget):
    """A switch for each kind of file, by the name or the end of the name of its files."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.switches: dict[str, SwitchField] = {}
        self.outlines = self._switch(mark("Words in drawings as outlines"), is_on=False)
        self.outlines.setToolTip(tr("For machines that know no fonts; text can be changed later"))
        self.period = PeriodPart()
        self.folds: list[tuple[Fold, frozenset[str]]] = []
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        for switch in self._add(_USUAL, is_on=True):
            box.addWidget(switch)
        for words, kinds in _FOLDS:
            parts: list[QWidget] = [*self._add(kinds, is_on=False)]
            if kinds is _MACHINES:
                parts.append(self.outlines)
            if kinds is _LISTS:
                parts.append(self.period)
            fold = Fold(tr(words), *parts)
            self.folds.append((fold, frozenset(kind for kind, _ in kinds)))
            box.addWidget(fold)
        self._show()

    @property
    def kinds(self) -> frozenset[str]:
        """The kinds that are chosen."""
        return frozenset(kind for kind, switch in self.switches.items() if switch.isChecked())

    @property
    def letters(self) -> Letters:
        """How words stand in drawings."""
        return "outlines" if self.outlines.isChecked() else "text"

    def _add(self, kinds: _Kinds, *, is_on: bool) -> Iterable[SwitchField]:
        for kind, words in kinds:
            self.switches[kind] = self._switch(words, is_on=is_on)
            yield self.switches[kind]

    def _switch(self, words: str, *, is_on: bool) -> SwitchField:
        switch = SwitchField()
        switch.setText(tr(words))
        switch.setAccessibleName(tr(words))
        switch.setChecked(is_on)
        switch.committed.connect(lambda _on: self._show())
        return switch

    def _show(self) -> None:
        chosen = self.kinds
        self.outlines.setEnabled(bool(chosen & _DRAWINGS))
        for fold, kinds in self.folds:
            count = len(chosen & kinds)
            fold.set_note(tr_n("{n} file chosen", "{n} files chosen", count) if count else "")
        self.changed.emit()
