"""How rafts ride, what they weigh and where they are weak: a fold of the station Rafts."""

from fractions import Fraction
from typing import Any, Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.crops.table import plain_name
from geometry.drawing.afloat_figures import (
    assumption_words,
    float_facts,
    float_line,
    no_float_words,
    raft_in_water,
    worst_design,
)
from geometry.drawing.cautions import CAUTIONS
from geometry.drawing.figures import KG_PER_POUND
from geometry.model.limits import Limits
from geometry.model.own_crop import OwnCrop
from geometry.model.project import Project
from geometry.plan import RaftDesign
from geometry.tongue import mark, number, tr
from layout_gui.document.document import Document
from layout_gui.panels.background import Background
from layout_gui.panels.fact_rows import FactRows
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, label
from layout_gui.project.edits_afloat import set_limits
from layout_gui.project.edits_crops import set_crop

_NO_SOURCE: Final = mark("common practice, no source")
SOON_DONE: Final = 48
"""The weakest line through more holes than this is looked for in a worker."""

_LIFTING: Final = "Lifting and carrying"


def _limit(name: str, words: str, kind: Any, source: str, hint: str = "") -> Field:
    """Make the field of a limit; left empty it is as it was to begin with."""
    usual = getattr(Limits(), name)

    def write(now: Now, value: object) -> Project:
        return set_limits(now.project, **{name: usual if value is None else value})

    def follows(now: Now) -> str:
        said = tr(source)
        if name.startswith("lift") and now.project.units == "in":
            kg = float(getattr(now.project.limits, name))
            said = f"{tr('{pounds} lb', pounds=number(kg / KG_PER_POUND, 1))} \N{MIDDLE DOT} {said}"
        return said

    return Field(
        f"limit-{name}", words, kind,
        read=lambda now: getattr(now.project.limits, name),
        write=write,
        follows=follows,
        empty_means=mark("as usual"),
        hint=hint,
    )  # fmt: skip


def _sound(now: Now, percent: Fraction | None) -> Project:
    return set_limits(now.project, sound=Limits().sound if percent is None else percent / 100)


LIMIT_FIELDS: Final = (
    _limit(
        "lift_one", mark("One person, kg"), "number",
        mark("the revised NIOSH lifting equation (1994), at its best posture"),
    ),
    _limit(
        "lift_two", mark("Two people, kg"), "number",
        mark("two thirds of two such lifts: HSE guidance on manual handling, from memory"),
    ),
    _limit(
        "freeboard", mark("Foam above water"), "length", _NO_SOURCE,
        mark("The least freeboard, with everything planted and grown"),
    ),
    _limit(
        "wet", mark("Pot in the water"), "length", _NO_SOURCE,
        mark("How much of a pot the water must wet on the day of planting"),
    ),
    Field(
        "limit-sound", mark("Foam on any line, %"), "number",
        read=lambda now: now.project.limits.sound * 100,
        write=_sound,
        follows=lambda _now: tr(_NO_SOURCE),
        empty_means=mark("as usual"),
        hint=mark("How much of the weakest straight line from edge to edge must be foam"),
    ),
    _limit(
        "soaked", mark("Old foam, kg/m³"), "number",
        mark("wet expanded polystyrene, Syracuse University Geofoam Research Center"),
        mark("What foam weighs after years in the water; closed cells soak less"),
    ),
)  # fmt: skip


def _own(now: Now) -> OwnCrop | None:
    name = plain_name(now.planting.crop) if now.planting is not None else ""
    return next((crop for crop in now.project.crops if plain_name(crop.name) == name), None)


def _set_head(now: Now, grams: object) -> Project:
    own = _own(now)
    return now.project if own is None else set_crop(now.project, own.name, grams=grams)


_HEAD: Final = Field(
    "head-grams", mark("A head, g"), "number",
    read=lambda now: own.grams if (own := _own(now)) is not None else None,
    write=_set_head,
    shown=lambda now: _own(now) is not None,
    empty_means=mark("not weighed"),
    hint=mark("What a plant of your own crop weighs when it is picked"),
)  # fmt: skip


class AfloatPart(QWidget):
    """The figures of the raft that is selected, else of the heaviest of its bed.

    They are worked out while the fold is open.
    """

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._now: Now | None = None
        self.which = label("", "quiet")
        self.missing = label("", "quiet")
        self.figures = FactRows()
        self._worker = Background(self)
        self._worker.done.connect(self.figures.show_facts)
        self._worker.failed.connect(_raise)
        self.assumed = label("", "quiet")
        self.head = Form((_HEAD,), document)
        self.limit_form = Form(LIMIT_FIELDS, document)
        self.limits = Fold(tr("Limits: practice, not law"), self.limit_form)
        cautions = [label(tr(text), "quiet") for head, text in CAUTIONS if head == _LIFTING]
        self.cautions = Fold(tr("Before you lift"), *cautions)
        self.fold = Fold(
            tr("Afloat"), self.which, self.missing, self.figures, self.assumed, self.head,
            self.limits, self.cautions,
        )  # fmt: skip
        self.fold.press.clicked.connect(lambda _on: self._show())
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.fold)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        self._show()

    def _show(self) -> None:
        now = self._now
        plan = now.bed_plan if now is not None else None
        design = _design(now) if now is not None else None
        self.setVisible(design is not None)
        if now is None or plan is None or design is None:
            return
        unit, limits = now.project.units, now.project.limits
        raft = raft_in_water(now.plan, plan, design)
        afloat = raft.afloat if raft is not None else None
        missing = no_float_words(afloat)
        line = float_line(afloat, limits, unit)
        self.fold.set_note(line or tr("the thickness of the foam is not known"))
        if not self.fold.is_open:
            return
        names = [each.name for each in plan.rafts if each.design is design]
        self.which.setText(
            tr("Raft {raft} and those like it, the heaviest of this bed.", raft=names[0])
            if not now.rafts and len(plan.designs) > 1 and names
            else tr("Raft {raft}.", raft=next(iter(sorted(now.rafts & {*names})), names[0]))
            if names
            else ""
        )
        self.missing.setText(missing)
        self.missing.setVisible(bool(missing))
        self._worker.forget()
        if len(design.holes) <= SOON_DONE:
            self.figures.show_facts(float_facts(now.plan, plan, design))
        else:
            made = now.plan
            self._worker.ask(lambda _is_wanted: float_facts(made, plan, design))
        self.assumed.setText(assumption_words(afloat.assumed, unit) if afloat is not None else "")
        self.assumed.setVisible(bool(self.assumed.text()))
        self.head.setVisible(_own(now) is not None)
        self.head.show_now(now)
        self.limit_form.show_now(now)


def _raise(error: BaseException) -> None:
    raise error


def _design(now: Now) -> RaftDesign | None:
    plan = now.bed_plan
    if plan is None:
        return None
    chosen = next((raft.design for raft in plan.rafts if raft.name in now.rafts), None)
    return chosen or worst_design(now.plan, plan)
