"""Figures beneath each other, each with its name and what it rests on."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.drawing.water_figures import Fact
from layout_gui.panels.parts import label, stack


class FactRows(QWidget):
    """The figures of a fold; made anew only where they differ."""

    def __init__(self) -> None:
        super().__init__()
        self.facts: tuple[Fact, ...] = ()
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
            value = label(fact.value, "heading")
            value.setAccessibleName(f"{fact.name}: {fact.value}")
            value.setAccessibleDescription(fact.note)
            notes = (label(fact.note, "quiet"),) if fact.note else ()
            made = stack(label(fact.name, "quiet"), value, *notes)
            if (box := made.layout()) is not None:
                box.setSpacing(1)
            self._rows.addWidget(made)
