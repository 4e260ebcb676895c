"""How much water a bed holds, what that weighs and how rain thins it: a fold of the station Bed."""

from typing import Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.afloat.water import parse_warmth, warmth_text
from geometry.drawing.cautions import CAUTION_HEADS, CAUTIONS
from geometry.drawing.water_figures import (
    dose_words,
    no_water_words,
    rain_words,
    volumes_in,
    water_facts,
    water_line,
)
from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.model.supplies import parse_volume, volume_text
from geometry.model.water import USUAL_CELSIUS, Water
from geometry.tongue import mark, tr
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.fact_rows import FactRows
from layout_gui.panels.fields import LengthField, LengthNote
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, label, stack
from layout_gui.project.edits_water import set_water

_RAIN: Final = (Length.of(50), Length.of("2 in"))
"""A heavy day, as those say it who measure in millimetres and in inches."""
_MOST_RAIN_MM: Final = 1000


def _water(now: Now) -> Water:
    return now.bed.water if now.bed else Water()


def _set(now: Now, **changes: object) -> Project:
    if now.bed is None:
        raise GeometryError(tr("There is no bed yet."))
    return set_water(now.project, now.bed.name, **changes)


def _metered(now: Now) -> str:
    metered = _water(now).metered
    return volume_text(metered, now.project.units) if metered is not None else ""


FIELDS: Final = (
    Field(
        "water-celsius", mark("Temperature"), "text",
        read=lambda now: warmth_text(_water(now).celsius, now.project.units),
        write=lambda now, text: _set(
            now,
            celsius=parse_warmth(text, now.project.units) if text else USUAL_CELSIUS,
        ),
        empty_means=mark("20 °C, 68 °F"),
        hint=mark("How warm the water is where the roots are: 20 °C or 68 °F"),
    ),
    Field(
        "water-metered", mark("Metered fill"), "text",
        read=_metered,
        write=lambda now, text: _set(
            now, metered=parse_volume(text, now.project.units) if text else None
        ),
        empty_means=mark("not metered"),
        hint=mark("What it took to fill the bed to its working level: 480 L or 125 gal"),
    ),
)  # fmt: skip


class WaterPart(QWidget):
    """A fold with the fields, the figures that follow, and rain to be tried out."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._now: Now | None = None
        self.form = Form(FIELDS, document)
        self.missing = label("", "quiet")
        self._figures = FactRows()
        self.doses = label("", "quiet")
        self.rain = LengthField()
        self.rain.setAccessibleName(tr("Rain to try out"))
        self.rain.show_value(_RAIN[0])
        self.rain.committed.connect(self.rain.settle)
        for signal in (self.rain.committed, self.rain.stepped):
            signal.connect(self._say_rain)
        self.rain_words = label("", "quiet")
        self.rain_part = stack(
            label(tr("If so much rain falls")), self.rain, LengthNote(self.rain), self.rain_words
        )
        cautions = [
            stack(label(tr(head), "heading"), label(tr(text), "quiet"))
            for head, text in CAUTIONS
            if head in CAUTION_HEADS
        ]
        self.cautions = Fold(tr("Before you fill it"), *cautions)
        self.fold = Fold(
            tr("Volume, air and rain"),
            self.form,
            self.missing,
            self._figures,
            self.doses,
            self.rain_part,
            self.cautions,
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.fold)

    @property
    def facts(self) -> list[tuple[str, str]]:
        """The figures in sight, each with its name."""
        return [(fact.name, fact.value) for fact in self._figures.facts]

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        plan = now.bed_plan
        self.setVisible(plan is not None)
        if plan is None:
            return
        self.form.show_now(now)
        self.rain.set_unit(now.project.units)
        if self.rain.value() in _RAIN:
            self.rain.show_value(_RAIN[now.project.units == "in"])
        missing = no_water_words(now.plan, plan)
        self.missing.setText(missing)
        self.missing.setVisible(bool(missing))
        self.fold.set_note(water_line(now.plan, plan) or tr("the depth is not measured yet"))
        self._figures.show_facts(water_facts(now.plan, plan))
        volumes = volumes_in(now.plan, plan)
        known = volumes is not None
        for part in (self.doses, self.rain_part):
            part.setVisible(known)
        self.doses.setText(dose_words(volumes, now.project.units) if volumes else "")
        self._say_rain()

    def _say_rain(self) -> None:
        now = self._now
        plan = now.bed_plan if now is not None else None
        volumes = volumes_in(now.plan, plan) if now is not None and plan is not None else None
        rain = self.rain.value()
        if now is None or volumes is None or not isinstance(rain, Length):
            return
        if rain.exact > _MOST_RAIN_MM:
            self.rain_words.setText(tr("So much never falls at once: type what a storm brings."))
            return
        self.rain_words.setText(rain_words(volumes, rain.mm, now.project.units))
