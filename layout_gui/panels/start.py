"""What stands in the window before there is a bed: what to do next, and the fields to do it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLocale, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from geometry.crops.table import CROPS, find_crop
from geometry.model.bed import Bed, Fit
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.tongue import mark, tr
from geometry.units import Length, Unit, both_units
from layout_gui.panels.fields import ChoiceField, LengthField
from layout_gui.panels.parts import button, label
from layout_gui.panels.words import options_of

_UNIT_WORDS: Final[tuple[tuple[Unit, str], ...]] = (
    ("mm", mark("millimetres")),
    ("cm", mark("centimetres")),
    ("in", mark("inches")),
)


@dataclass(frozen=True, slots=True)
class FirstValues:
    """Sizes that a new project starts with, in round numbers of one system."""

    sheet: Sheet
    clearance: Length
    joint_gap: Length
    edge_margin: Length
    web: Length
    hole: Length
    kerf: Length


METRIC_FIRST: Final = FirstValues(
    sheet=Sheet(mark("board 1250 x 600"), Length.of(1250), Length.of(600), Length.of(50)),
    clearance=Length.of(10),
    joint_gap=Length.of(5),
    edge_margin=Length.of(60),
    web=Length.of(25),
    hole=Length.of(50),
    kerf=Length.of(3),
)
INCH_FIRST: Final = FirstValues(
    sheet=Sheet(mark("board 8 x 4 ft"), Length.of("96 in"), Length.of("48 in"), Length.of("2 in")),
    clearance=Length.of("1/2 in"),
    joint_gap=Length.of("1/4 in"),
    edge_margin=Length.of("2 1/2 in"),
    web=Length.of("1 in"),
    hole=Length.of("2 in"),
    kerf=Length.of("1/8 in"),
)
"""Common practice, no source; all of it is shown and can be changed."""


def first_values(unit: Unit) -> FirstValues:
    """Return the first values of a grower who works in this unit."""
    return INCH_FIRST if unit == "in" else METRIC_FIRST


def first_planting(crop: str, unit: Unit) -> Planting:
    """Return a planting of a crop at its published spacing, 20 cm or 8 in without one."""
    first = first_values(unit)
    row = find_crop(crop)
    usual = Length.of("8 in") if unit == "in" else Length.of(200)
    return Planting(
        spacing=row.spacing if row else usual,
        hole_diameter=first.hole,
        crop=crop,
        edge_margin=first.edge_margin,
        web=first.web,
    )


def first_project(length: Length, width: Length, crop: str, unit: Unit) -> Project:
    """Return a project of one rectangular bed, full of rafts and holes."""
    first = first_values(unit)
    bed = Bed(
        name=tr("Bed 1"),
        outline=Rectangle(length, width),
        clearance=first.clearance,
        joint_gap=first.joint_gap,
        rafts=Fit(first.sheet.length, first.sheet.width),
        planting=first_planting(crop, unit),
    )
    return Project(
        "", unit, (bed,), (replace(first.sheet, name=tr(first.sheet.name)),), Cutting(first.kerf)
    )


def usual_unit() -> Unit:
    """Guess the grower's unit from the desktop's language settings."""
    metric = QLocale.MeasurementSystem.MetricSystem
    return "mm" if QLocale.system().measurementSystem() == metric else "in"


class StartPage(QScrollArea):
    """The first bed's inside measurements; beside it, projects and samples to open."""

    started = Signal(object)
    """The Project of the first bed."""

    open_wanted = Signal()
    file_wanted = Signal(object)
    sample_wanted = Signal(object)

    def __init__(self, samples: Sequence[tuple[str, Path]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setAccessibleName(tr("Start"))
        self._samples = samples
        self.length, self.width_field = LengthField(), LengthField()
        self._unit, self._crop = ChoiceField(), ChoiceField()
        self._reading = label("", "quiet")
        self._go = button(tr("Fill this bed"), self._start, "primary")
        self._recent = QVBoxLayout()
        self._recent.setSpacing(2)
        self._reason: dict[LengthField, str] = {}
        self._fill_choices()
        inside = QWidget()
        outer = QHBoxLayout(inside)
        outer.addStretch(1)
        outer.addLayout(self._make_column())
        outer.addStretch(1)
        self.setWidget(inside)

    @property
    def reading(self) -> str:
        """How the last typed length was understood, or what is still missing."""
        return self._reading.text()

    def choose_unit(self, unit: Unit) -> None:
        """Measure in another unit."""
        self._unit.show_value(unit)
        self._on_unit(unit)

    def begin(self) -> None:
        """Put the keyboard where the first number goes."""
        self.length.setFocus()

    def show_recent(self, paths: Sequence[Path]) -> None:
        """Offer the files opened last."""
        while self._recent.count():
            item = self._recent.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.deleteLater()
        for path in paths:
            name = path.name.removesuffix(".raft.json")
            again = button(name, partial(self.file_wanted.emit, path), "link")
            again.setToolTip(str(path))
            self._recent.addWidget(again, 0, Qt.AlignmentFlag.AlignLeft)

    def _fill_choices(self) -> None:
        self._unit.set_options(options_of(dict(_UNIT_WORDS)))
        self._unit.show_value(usual_unit())
        self._crop.set_options(
            (("", tr("none chosen")), *((crop.name, tr(crop.name)) for crop in CROPS))
        )
        self._crop.show_value(CROPS[0].name)
        self._unit.committed.connect(self._on_unit)
        self._on_unit(usual_unit())
        for field in (self.length, self.width_field):
            field.refused.connect(partial(self._on_refused, field))
            field.tried.connect(self._on_tried)
            field.committed.connect(partial(self._on_typed, field))

    def _make_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(28, 40, 28, 28)
        column.setSpacing(6)
        column.addStretch(1)
        column.addWidget(label(tr("Measure the water, not the frame"), "figure"))
        words = label(
            tr(
                "Inside, at the waterline, with the bed full. Everything that follows can be "
                "changed afterwards: the shape, the rafts, the crop, each hole."
            ),
            "quiet",
        )
        words.setMinimumWidth(480)
        column.addWidget(words)
        column.addSpacing(18)
        column.addLayout(self._make_grid())
        column.addWidget(self._reading)
        column.addSpacing(10)
        column.addWidget(self._go, 0, Qt.AlignmentFlag.AlignLeft)
        column.addSpacing(30)
        column.addLayout(self._make_doors())
        column.addStretch(2)
        return column

    def _make_grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(4)
        fields = (
            (tr("Length inside"), self.length),
            (tr("Width inside"), self.width_field),
            (tr("Measured in"), self._unit),
            (tr("Crop"), self._crop),
        )
        for at, (words, field) in enumerate(fields):
            name = QLabel(words)
            name.setBuddy(field)
            field.setAccessibleName(words)
            field.setObjectName(words)
            field.setMinimumWidth(210)
            grid.addWidget(name, at // 2 * 2, at % 2)
            grid.addWidget(field, at // 2 * 2 + 1, at % 2)
            grid.setRowMinimumHeight(at // 2 * 2 + 1, 40)
        return grid

    def _make_doors(self) -> QHBoxLayout:
        doors = QHBoxLayout()
        doors.setSpacing(40)
        opened, samples = QVBoxLayout(), QVBoxLayout()
        opened.setSpacing(2)
        samples.setSpacing(2)
        opened.addWidget(label(tr("Go on with a project"), "heading"))
        opened.addWidget(
            button(tr("Open a project…"), self.open_wanted.emit, "link"),
            0,
            Qt.AlignmentFlag.AlignLeft,
        )
        opened.addLayout(self._recent)
        opened.addStretch(1)
        samples.addWidget(label(tr("Look at a sample"), "heading"))
        for name, path in self._samples:
            look = button(name, partial(self.sample_wanted.emit, path), "link")
            samples.addWidget(look, 0, Qt.AlignmentFlag.AlignLeft)
        samples.addStretch(1)
        doors.addLayout(opened, 1)
        if self._samples:
            doors.addLayout(samples, 1)
        return doors

    @property
    def unit(self) -> Unit:
        """The unit that the bed is measured in."""
        value = self._unit.value()
        return next((unit for unit, _ in _UNIT_WORDS if unit == value), "mm")

    def _on_unit(self, _unit: object) -> None:
        unit = self.unit
        for field in (self.length, self.width_field):
            field.set_unit(unit)
        inch = unit == "in"
        for field, words in ((self.length, "93"), (self.width_field, "23")):
            field.lineEdit().setPlaceholderText(
                tr("such as {words} in", words=words) if inch else ""
            )
        if not inch:
            self.length.lineEdit().setPlaceholderText(tr("such as 2360 mm"))
            self.width_field.lineEdit().setPlaceholderText(tr("such as 580 mm"))

    def _on_tried(self, value: object) -> None:
        self._reading.setText(both_units(value) if isinstance(value, Length) else "")

    def _on_typed(self, field: LengthField, value: object) -> None:
        field.settle(value)
        self._on_refused(field, "")

    def _on_refused(self, field: LengthField, reason: str) -> None:
        self._reason[field] = reason
        first = next((words for words in self._reason.values() if words), "")
        self._reading.setText(f"! {first}" if first else "")

    def _start(self) -> None:
        length = self._read(self.length)
        width = self._read(self.width_field) if length is not None else None
        if length is None or width is None:
            return
        crop = str(self._crop.value() or "")
        self.started.emit(first_project(length, width, crop, self.unit))

    def _read(self, field: LengthField) -> Length | None:
        value = field.value()
        if isinstance(value, Length) and value.exact > 0:
            return value
        if not any(self._reason.values()):
            self._reading.setText(
                tr(
                    "! {field} is needed: a length above zero.",
                    field=field.accessibleName(),
                )
            )
            field.setFocus()
        return None
