"""Figures beneath each other, each with its name and what it rests on."""

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from geometry.drawing.water_figures import Fact
from layout_gui.panels.parts import label, stack


class FactRows(QWidget):
    """The figures of a fold, made anew only where they differ.

    Long ones stand beneath their names (``stacked``), short ones to the right of them.
    """

    def __init__(self, *, stacked: bool = False) -> None:
        super().__init__()
        self.facts: tuple[Fact, ...] = ()
        self._stacked = stacked
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(6)

    def show_facts(self, facts: tuple[Fact, ...]) -> None:
        """Show these figures."""
        self.setVisible(bool(facts))
        if facts == self.facts:
            return
        self.facts = facts
        while (item := self._rows.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for fact in facts:
            self._rows.addWidget(self._row(fact))

    def _row(self, fact: Fact) -> QWidget:
        value = label(fact.value, "heading")
        value.setAccessibleName(f"{fact.name}: {fact.value}")
        value.setAccessibleDescription(fact.note)
        notes = (label(fact.note, "quiet"),) if fact.note else ()
        if self._stacked:
            made = stack(label(fact.name, "quiet"), value, *notes)
        else:
            made = stack(_beside(label(fact.name), value), *notes)
        if (box := made.layout()) is not None:
            box.setSpacing(1 if self._stacked else 2)
        return made


def _beside(name: QWidget, value: QWidget) -> QWidget:
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(name, 1)
    row.addWidget(value)
    return made
