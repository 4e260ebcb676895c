"""What stands in the window before there is a bed: what to do next, and the fields to do it."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLocale, Qt, Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QMenu,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from geometry.crops.table import CROPS
from geometry.tongue import mark, tr
from geometry.units import Length, Unit, both_units
from layout_gui.panels.fields import ChoiceField, LengthField
from layout_gui.panels.parts import button, label
from layout_gui.panels.tips import plain_tip

UNIT_WORDS: Final[tuple[tuple[Unit, str], ...]] = (
    ("mm", mark("millimetres")),
    ("cm", mark("centimetres")),
    ("in", mark("inches")),
)


def usual_unit(locale: QLocale | None = None) -> Unit:
    """Guess the grower's unit from the desktop's language settings.

    Only where boards are sold by the foot, they are guessed to be measured in inches; in Britain
    they come in millimetres (common practice, no source).
    """
    system = (locale or QLocale.system()).measurementSystem()
    return "in" if system == QLocale.MeasurementSystem.ImperialUSSystem else "mm"


_MOST_CHARS: Final = 100
"""Longer lines are hard to read."""


class StartPage(QScrollArea):
    """The way into the guide; beside it a quick way, and projects and ready beds to open."""

    started = Signal(object)
    """The Project of the first bed."""

    guide_wanted = Signal()
    unit_changed = Signal()
    forget_wanted = Signal()
    open_wanted = Signal()
    file_wanted = Signal(object)
    sample_wanted = Signal(object)
    ready_wanted = Signal(object)
    measuring_wanted = Signal(str)
    """The shape whose measuring page is to be printed."""

    def __init__(
        self,
        samples: Sequence[tuple[str, Path]],
        ready: Sequence[tuple[str, Path]] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setAccessibleName(tr("Start"))
        self._samples, self._ready = samples, ready
        self.length, self.width_field = LengthField(), LengthField()
        self._unit, self._crop = ChoiceField(), ChoiceField()
        self._reading = label("", "quiet")
        self.guide = button(tr("Begin the &guide"), self.guide_wanted.emit, "primary")
        self.measuring = button(tr("Print a measuring page…"), self._offer_shapes, "link")
        self.measuring.setToolTip(tr("To fill in by hand beside the water"))
        self.shapes: QMenu | None = None
        self._go = button(tr("Fill this bed"), self._start)
        self._recent = QVBoxLayout()
        self._recent.setSpacing(2)
        self._reason: dict[LengthField, str] = {}
        self._fill_choices()
        inside = QWidget()
        outer = QHBoxLayout(inside)
        outer.setContentsMargins(0, 0, 0, 0)
        column = QWidget()
        column.setLayout(self._make_column())
        column.setMaximumWidth(_MOST_CHARS * self.fontMetrics().averageCharWidth())
        outer.addStretch(1)
        outer.addWidget(column, 100)
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
        """Put the keyboard on the way into the guide."""
        self.guide.setFocus()

    def show_recent(self, paths: Sequence[Path], gone: Sequence[Path] = ()) -> None:
        """Offer the files opened last; those that are ``gone`` cannot be picked, and say so."""
        while self._recent.count():
            item = self._recent.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.deleteLater()
        for path in paths:
            name = path.name.removesuffix(".raft.json")
            words = tr("{file} (not there now)", file=name) if path in gone else name
            again = button(words, partial(self.file_wanted.emit, path), "link")
            again.setEnabled(path not in gone)
            again.setToolTip(plain_tip(str(path)))
            self._recent.addWidget(again, 0, Qt.AlignmentFlag.AlignLeft)
        if paths:
            forget = button(tr("Clear this list"), self.forget_wanted.emit, "link")
            self._recent.addWidget(forget, 0, Qt.AlignmentFlag.AlignLeft)

    def _offer_shapes(self) -> None:
        """Ask which shape the bed has; each has a page of its own."""
        if self.shapes is None:
            from geometry.beds.shapes import SHAPE_WORDS, SHAPES  # noqa: PLC0415  when first used

            self.shapes = QMenu(self.measuring)
            self.shapes.setAccessibleName(tr("Shape of the bed"))
            for shape in SHAPES:
                action = self.shapes.addAction(tr(SHAPE_WORDS[shape]))
                action.triggered.connect(partial(self.measuring_wanted.emit, shape))
        self.shapes.popup(self.measuring.mapToGlobal(self.measuring.rect().bottomLeft()))

    def _fill_choices(self) -> None:
        self._unit.set_options([(unit, tr(words)) for unit, words in UNIT_WORDS])
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
        column.setContentsMargins(28, 32, 28, 28)
        column.setSpacing(6)
        column.addStretch(1)
        column.addWidget(label(tr("Plan a bed"), "figure"))
        words = label(
            tr(
                "Five short questions lead from the inside of your bed to rafts full of holes, in"
                " about two minutes. Leave whenever you like; what is answered stays."
            ),
            "quiet",
        )
        column.addWidget(words)
        column.addSpacing(10)
        ways = QHBoxLayout()
        ways.setSpacing(16)
        ways.addWidget(self.guide)
        ways.addWidget(self.measuring)
        ways.addStretch(1)
        column.addLayout(ways)
        column.addSpacing(26)
        column.addWidget(label(tr("Or in one go, for a plain rectangle"), "heading"))
        column.addWidget(
            label(tr("Measure the water, not the frame: inside, with the bed full."), "quiet")
        )
        column.addSpacing(4)
        column.addLayout(self._make_grid())
        column.addWidget(self._reading)
        column.addSpacing(6)
        column.addWidget(self._go, 0, Qt.AlignmentFlag.AlignLeft)
        column.addSpacing(26)
        column.addLayout(self._make_doors())
        column.addStretch(2)
        return column

    def _make_grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(4)
        fields = (
            ("Length inside", tr("Length inside"), self.length),
            ("Width inside", tr("Width inside"), self.width_field),
            ("Measured in", tr("Measured in"), self._unit),
            ("Crop", tr("Crop"), self._crop),
        )
        for at, (name, words, field) in enumerate(fields):
            title = QLabel(words)
            title.setBuddy(field)
            field.setAccessibleName(words)
            field.setObjectName(name)
            grid.addWidget(title, at // 2 * 2, at % 2)
            grid.addWidget(field, at // 2 * 2 + 1, at % 2)
            grid.setRowMinimumHeight(at // 2 * 2 + 1, 40)
        return grid

    def _make_doors(self) -> QHBoxLayout:
        doors = QHBoxLayout()
        doors.setSpacing(28)
        opened = _door(tr("Go on with a project"))
        again = button(tr("Open a project…"), self.open_wanted.emit, "link")
        opened.addWidget(again, 0, Qt.AlignmentFlag.AlignLeft)
        opened.addLayout(self._recent)
        opened.addStretch(1)
        doors.addLayout(opened)
        for title, wanted, offered in (
            (tr("Begin with a ready bed"), self.ready_wanted, self._ready),
            (tr("Look at a sample"), self.sample_wanted, self._samples),
        ):
            if not offered:
                continue
            door = _door(title)
            for name, path in offered:
                link = button(name, partial(wanted.emit, path), "link")
                door.addWidget(link, 0, Qt.AlignmentFlag.AlignLeft)
            door.addStretch(1)
            doors.addLayout(door)
        return doors

    @property
    def unit(self) -> Unit:
        """The unit that the bed is measured in."""
        value = self._unit.value()
        return next((unit for unit, _ in UNIT_WORDS if unit == value), "mm")

    def _on_unit(self, _unit: object) -> None:
        unit = self.unit
        for field in (self.length, self.width_field):
            field.set_unit(unit)
        inch = unit == "in"
        for field, words in ((self.length, "93"), (self.width_field, "23")):
            field.lineEdit().setPlaceholderText(
                tr("such as {length}", length=f"{words} in") if inch else ""
            )
        if not inch:
            self.length.lineEdit().setPlaceholderText(tr("such as {length}", length="2360 mm"))
            self.width_field.lineEdit().setPlaceholderText(tr("such as {length}", length="580 mm"))
        self.unit_changed.emit()

    def _on_tried(self, value: object) -> None:
        self._say(both_units(value) if isinstance(value, Length) else "")

    def _on_typed(self, field: LengthField, value: object) -> None:
        field.settle(value)
        self._on_refused(field, "")

    def _on_refused(self, field: LengthField, reason: str) -> None:
        self._reason[field] = reason
        first = next((words for words in self._reason.values() if words), "")
        self._say(f"! {first}" if first else "")

    def _say(self, words: str) -> None:
        self._reading.setText(words)
        for field in (self.length, self.width_field):
            field.setAccessibleDescription(words)

    def _start(self) -> None:
        length = self._read(self.length)
        width = self._read(self.width_field) if length is not None else None
        if length is None or width is None:
            return
        from layout_gui.project.first import first_project  # noqa: PLC0415  loaded when first used

        crop = str(self._crop.value() or "")
        self.started.emit(first_project(length, width, crop, self.unit))

    def _read(self, field: LengthField) -> Length | None:
        value = field.value()
        if isinstance(value, Length) and value.exact > 0:
            return value
        if not any(self._reason.values()):
            words = tr("{what} is needed: a length above zero.", what=field.accessibleName())
            self._reading.setText(f"! {words}")
            field.setFocus()
        return None


def _door(title: str) -> QVBoxLayout:
    made = QVBoxLayout()
    made.setSpacing(2)
    made.addWidget(label(title, "heading"))
    return made
