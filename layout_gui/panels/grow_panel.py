"""The station Grow: what is known of the crop before it is sown."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLabel, QWidget

from geometry.crops.table import Crop, find_crop
from geometry.tongue import mark, number, tr
from geometry.units import format_density, format_length
from layout_gui.panels.fields import ChoiceField
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, label
from layout_gui.panels.words import DASH, counted


def grow_words(now: Now) -> tuple[str, str]:
    """Return the figure and the line of the station; empty while no crop is known."""
    crop = find_crop(now.planting.crop) if now.planting else None
    if crop is None:
        return "", ""
    if crop.days is None:
        return tr(crop.name), tr("days not published")
    return tr("{days} days", days=_range(*crop.days)), tr("{name}, afloat", name=tr(crop.name))


def _range(low: float, high: float) -> str:
    return number(low) if low == high else f"{number(low)}{DASH}{number(high)}"


class GrowPanel(Column):
    """Facts about the crop, each with its source, and its leaves drawn on the bed."""

    canopy_chosen = Signal(object)
    """The width of the leaves to draw, in mm; None for none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Grow"), parent)
        self._figure = label("", "figure")
        self.facts: list[tuple[str, str]] = []
        self._facts = QFormLayout()
        self._facts.setHorizontalSpacing(14)
        self._facts.setVerticalSpacing(10)
        self._facts_box = QWidget()
        self._facts_box.setLayout(self._facts)
        self._leaves_name = QLabel(tr("Leaves on the bed"))
        self.leaves = ChoiceField()
        self.leaves.setObjectName("leaves")
        self.leaves.setAccessibleName(tr("Leaves on the bed"))
        self._leaves_name.setBuddy(self.leaves)
        self.leaves.committed.connect(self.canopy_chosen)
        self._touch = label("", "quiet")
        self._source = label("", "quiet")
        for part in (
            self._figure, self._facts_box, self._leaves_name, self.leaves, self._touch,
            self._source,
        ):  # fmt: skip
            self.add(part)

    @property
    def source(self) -> str:
        """Where the facts were published."""
        return self._source.text()

    @property
    def touch(self) -> str:
        """Whether grown leaves reach into each other."""
        return self._touch.text()

    @property
    def canopy_mm(self) -> float | None:
        """The width of the leaves that are to be drawn; None for none."""
        value = self.leaves.value()
        return value if isinstance(value, float) else None

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        crop = find_crop(now.planting.crop) if now.planting else None
        self._figure.setText(grow_words(now)[0])
        self._figure.setVisible(crop is not None)
        while self._facts.rowCount():
            self._facts.removeRow(0)
        self.facts = _facts(now, crop)
        for name, value in self.facts:
            self._facts.addRow(label(name, "quiet"), label(value))
        self._show_leaves(now, crop)
        self._source.setVisible(crop is not None)
        if crop is None:
            self.set_title(
                tr("Grow"),
                tr("Choose a crop at the station Holes, and what is published of it stands here."),
            )
            return
        self.set_title(
            tr("Grow"),
            tr("What is published of {name}; nothing here is a promise.", name=tr(crop.name)),
        )
        self._source.setText(tr("From: {source}.", source=crop.source))

    def _show_leaves(self, now: Now, crop: Crop | None) -> None:
        widths = crop.mature_width if crop else None
        for part in (self._leaves_name, self.leaves, self._touch):
            part.setVisible(widths is not None)
        if widths is None:
            self.leaves.set_options(((None, tr("not drawn")),))
            return
        shown = self.leaves.value() if self.leaves.count() > 1 else widths[0].mm
        options: dict[float | None, str] = {None: tr("not drawn")}
        for words, width in zip(
            (mark("grown, least {width}"), mark("grown, most {width}")), widths, strict=True
        ):
            text = format_length(width.exact, now.project.units)
            options.setdefault(width.mm, tr(words, width=text))
        self.leaves.set_options(tuple(options.items()))
        self.leaves.show_value(shown if shown in options else widths[0].mm)
        self._touch.setText(_touch_line(now, widths[0].mm))


def _touch_line(now: Now, width_mm: float) -> str:
    plan = now.bed_plan
    if plan is None or not plan.tried:
        return ""
    pitch = plan.tried[0].pitch_mm
    unit = now.project.units
    if width_mm > pitch:
        over = format_length(width_mm - pitch, unit)
        return tr(
            "Grown leaves reach {over} into each other at {pitch} pitch.",
            over=over,
            pitch=format_length(pitch, unit),
        )
    return tr("Grown leaves stay apart at {pitch} pitch.", pitch=format_length(pitch, unit))


def _facts(now: Now, crop: Crop | None) -> list[tuple[str, str]]:
    plan, unit = now.bed_plan, now.project.units
    facts: list[tuple[str, str]] = []
    if plan is not None and now.planting is not None:
        facts.append((tr("This bed"), counted(plan.plants, "plant")))
        facts.append((tr("Density"), format_density(plan.density_per_m2, unit)))
    if crop is None:
        return facts
    if crop.density_per_m2:
        low, high = (format_density(value, unit) for value in crop.density_per_m2)
        facts.append(
            (
                tr("Published"),
                low if low == high else tr("{low} to {high}", low=low.split()[0], high=high),
            )
        )
    if crop.days:
        facts.append((tr("Days afloat"), _range(*crop.days)))
    if crop.mature_width:
        low, high = (format_length(width.exact, unit) for width in crop.mature_width)
        facts.append(
            (tr("Grown width"), low if low == high else tr("{low} to {high}", low=low, high=high))
        )
    return facts
