"""Whether rafts float free at each level, and the light past them: two folds at Rafts."""

from collections.abc import Callable
from fractions import Fraction
from typing import Any, Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.drawing.fit_figures import (
    fit_in,
    level_facts,
    lifting_words,
    light_facts,
    light_line,
    room_basis,
    room_line,
)
from geometry.drawing.water_figures import Fact
from geometry.model.project import Project
from geometry.tongue import mark, tr
from layout_gui.document.document import Document
from layout_gui.panels.fact_rows import FactRows
from layout_gui.panels.form import Field, Form, Kind
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, label
from layout_gui.project.edits import set_bed
from layout_gui.project.edits_afloat import set_limits
from layout_gui.project.edits_levels import set_allowances

_NOTHING: Final = Fraction(0)


def _growth(name: str, words: str, kind: Kind, hint: str) -> Field:
    def write(now: Now, value: object) -> Project:
        changes: dict[str, Any] = {name: _NOTHING if value is None else value}
        return set_allowances(now.project, **changes)

    return Field(
        f"growth-{name}", words, kind,
        read=lambda now: getattr(now.project.allowances, name),
        write=write,
        hint=hint,
    )  # fmt: skip


GROWTH: Final = (
    _growth(
        "film", mark("Paint on each edge"), "length", mark("How thick the paint is when it is dry")
    ),
    _growth(
        "swelling",
        mark("Swells, mm in a metre"),
        "number",
        mark("How much longer a metre of foam is after weeks in the water"),
    ),
    _growth(
        "warming",
        mark("Warmer by, °C"),
        "number",
        mark("How much warmer the foam gets in the bed than on the day it was cut"),
    ),
    _growth(
        "expansion",
        mark("Grows, mm in a metre a degree"),
        "number",
        mark("0.07 in the data sheets of boards to EN 13164; from the sheet of your board"),
    ),
)


def _share(read: Callable[[Now], Fraction | None]) -> Callable[[Now], Fraction | None]:
    def percent(now: Now) -> Fraction | None:
        share = read(now)
        return None if share is None else 100 * share

    return percent


LIGHT: Final = (
    Field(
        "edge_seal", mark("Strip at the wall"), "switch",
        read=lambda now: now.bed is not None and now.bed.edge_seal,
        write=lambda now, on: set_bed(
            now.project, now.bed.name if now.bed else "", edge_seal=bool(on)
        ),
        hint=mark("A strip closes the gap between the rafts and the wall against light"),
    ),
    Field(
        "limit-gap", mark("Gaps at most"), "length",
        read=lambda now: now.project.limits.gap,
        write=lambda now, gap: set_limits(now.project, gap=gap),
        empty_means=mark("no limit"),
        hint=mark("You are told when a gap can open wider than this"),
    ),
    Field(
        "limit-open_water", mark("Open water at most, %"), "number",
        read=_share(lambda now: now.project.limits.open_water),
        write=lambda now, share: set_limits(
            now.project, open_water=None if share is None else share / 100
        ),
        empty_means=mark("no limit"),
        hint=mark("You are told when more of the water lies open to light"),
    ),
)  # fmt: skip


class RoomPart(QWidget):
    """Both folds: fields, figures, and what the figures rest on."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.levels = FactRows(stacked=True)
        self.basis = label("", "quiet")
        self.lifting = label("", "quiet")
        self.growth = Form(GROWTH, document)
        self.room = Fold(tr("Room to move"), self.levels, self.basis, self.lifting, self.growth)
        self.parts = FactRows(stacked=True)
        self.seal = Form(LIGHT, document)
        self.light = Fold(tr("Light past the rafts"), self.parts, self.seal)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        for fold in (self.room, self.light):
            box.addWidget(fold)

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The figures in sight."""
        return (*self.levels.facts, *self.parts.facts)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self.setVisible(now.bed is not None)
        if now.bed is None:
            return
        self.growth.show_now(now)
        self.seal.show_now(now)
        plan = now.bed_plan
        fit = fit_in(now.plan, plan) if plan is not None else None
        if plan is None or fit is None:
            for rows in (self.levels, self.parts):
                rows.show_facts(())
            for words in (self.basis, self.lifting):
                words.hide()
            for fold in (self.room, self.light):
                fold.set_note(tr("no raft fits"))
            return
        unit = now.project.units
        self.levels.show_facts(tuple(level_facts(now.plan, plan)))
        self.parts.show_facts(tuple(light_facts(now.plan, plan)))
        self.room.set_note(room_line(fit, unit))
        self.light.set_note(light_line(fit))
        for shown, text in (
            (self.basis, room_basis(now.plan, plan)),
            (self.lifting, lifting_words(fit)),
        ):
            shown.setText(text)
            shown.setVisible(bool(text))
