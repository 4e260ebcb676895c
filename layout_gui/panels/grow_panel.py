"""The station Grow: what is known of the crop before it is sown."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QWidget

from geometry.crops.table import Crop, find_crop
from geometry.model.growth import Growth
from geometry.tongue import tr
from geometry.units import Length, exact_text, format_density, format_length
from layout_gui.panels.cover_part import CoverPart
from layout_gui.panels.fields import CountField, LengthField, LengthNote, SwitchField
from layout_gui.panels.grow_words import crop_words, day_range, running_words
from layout_gui.panels.leaves import Leaves, LeavesBar, record_of
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, Fold, ItemList, label, side_by_side
from layout_gui.panels.runs_part import RunsPart
from layout_gui.panels.words import counted
from layout_gui.project.edits_growth import LAST_DAY


class GrowPanel(Column):
    """Facts about the crop, each with its source, its leaves on the bed, and the grower's figures.

    ``width_noted`` carries a day and a Length, ``width_dropped`` a day.
    """

    width_noted = Signal(int, object)
    width_dropped = Signal(int)

    def __init__(
        self, leaves: Leaves, runs: RunsPart | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(tr("Grow"), parent)
        self.leaves = leaves
        self._record = Growth("", ())
        self._figure = label("", "figure")
        self.facts: list[tuple[str, str]] = []
        self._facts = QFormLayout()
        self._facts.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self._facts.setHorizontalSpacing(14)
        self._facts.setVerticalSpacing(10)
        self._facts_box = QWidget()
        self._facts_box.setLayout(self._facts)
        self._source = label("", "quiet")
        for part in (self._figure, self._facts_box, self._source):
            self.add(part)
        self.runs = runs
        self._sown = Fold(tr("What is sown, and when"), *([runs] if runs else []))
        self._was_shown = False
        if runs is not None:
            self.add(self._sown)
        self.add_heading(tr("Leaves on the bed"))
        self.bar = LeavesBar(leaves)
        self.add(self.bar)
        self.cover = CoverPart(leaves)
        self.add(self.cover)
        self.pinned = SwitchField()
        self.pinned.setText(tr("At the other stations too"))
        self.pinned.toggled.connect(lambda is_on: leaves.pin(is_on=is_on))
        self.add(self.pinned)
        leaves.changed.connect(lambda: self.pinned.setChecked(leaves.is_pinned))
        self._add_record()

    def _add_record(self) -> None:
        """Put the fields in which measured widths are noted beneath the rest."""
        self._heading = self.add_heading(tr("Widths you measured"))
        self.why = label("", "quiet")
        self.add(self.why)
        self.widths = ItemList(
            tr("Widths you measured"), ((tr("Note it"), self._note), (tr("Remove"), self._drop))
        )
        self.day = CountField(least=0, most=LAST_DAY)
        self.day.setPrefix(tr("day "))
        self.day.setAccessibleName(tr("Day of the measurement"))
        self.measured = LengthField()
        self.measured.setAccessibleName(tr("Width measured"))
        self.measured.committed.connect(self.measured.settle)
        self._fields = side_by_side(self.day, self.measured)
        self.add(self._fields)
        self.add(LengthNote(self.measured))
        self.add(self.widths)
        self.widths.picked.connect(self._on_picked)

    @property
    def source(self) -> str:
        """Where the facts were published."""
        return self._source.text()

    @property
    def touch(self) -> str:
        """Whether the leaves that are drawn reach into each other."""
        return self.bar.words.text()

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        crop = find_crop(now.planting.crop, now.project.crops) if now.planting else None
        self._figure.setText(crop_words(now)[0])
        self._figure.setVisible(crop is not None)
        while self._facts.rowCount():
            self._facts.removeRow(0)
        self.facts = _facts(now, crop)
        for name, value in self.facts:
            figure = label(value)
            figure.setWordWrap(False)  # a row that is too long goes on beneath its name
            self._facts.addRow(label(name, "quiet"), figure)
        self._source.setVisible(crop is not None)
        if self.runs is not None:
            self._show_runs(self.runs, now)
        self.bar.show_now(now)
        self.bar.setVisible(now.planting is not None)
        self.cover.show_now(now)
        self.pinned.setVisible(now.planting is not None)
        self._show_record(now)
        if crop is None:
            self.set_title(
                tr("Grow"),
                tr("Choose a crop at the station Holes, and what is published of it stands here."),
            )
            return
        words = (
            tr("What you know of {name}; nothing here is a promise.", name=crop.name)
            if crop.is_own
            else tr("What is published of {name}; nothing here is a promise.", name=tr(crop.name))
        )
        self.set_title(tr("Grow"), words)
        self._source.setText(tr("From: {source}.", source=crop.source))

    def _show_runs(self, runs: RunsPart, now: Now) -> None:
        runs.show_now(now)
        self._sown.set_note(", ".join(filter(None, running_words(now))))
        if now.project.runs and not self._was_shown and not self._sown.is_open:
            self._sown.toggle()
        self._was_shown = True

    def _show_record(self, now: Now) -> None:
        name = now.planting.crop if now.planting else ""
        self._record = record_of(now)
        unit = now.project.units
        for part in (self._heading, self.why, self.widths, self._fields):
            part.setVisible(bool(name.strip()))
        self.why.setText(
            tr(
                "No source here says how wide {crop} is from day to day. Note what you measure, "
                "and leaves can be drawn for any day in between, on a straight line.",
                crop=tr(name),
            )
        )
        self.measured.set_unit(unit)
        self.widths.show_items(
            [
                tr("day {day}: {width}", day=each.day, width=exact_text(each.width, unit))
                for each in self._record.widths
            ],
            max(self.widths.row, 0),
        )
        self.widths.buttons[tr("Remove")].setEnabled(bool(self._record.widths))

    def _on_picked(self, row: int) -> None:
        if 0 <= row < len(self._record.widths):
            self.day.show_value(self._record.widths[row].day)
            self.measured.show_value(self._record.widths[row].width)

    def _note(self) -> None:
        width = self.measured.value()
        if isinstance(width, Length):
            self.width_noted.emit(self.day.value(), width)
        else:
            self.measured.setFocus()

    def _drop(self) -> None:
        if 0 <= self.widths.row < len(self._record.widths):
            self.width_dropped.emit(self._record.widths[self.widths.row].day)


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
    if crop.nursery:
        facts.append((tr("In the nursery"), day_range(*crop.nursery)))
    if crop.days:
        facts.append((tr("Days afloat"), day_range(*crop.days)))
    if crop.mature_width:
        low, high = (format_length(width.exact, unit) for width in crop.mature_width)
        facts.append(
            (tr("Grown width"), low if low == high else tr("{low} to {high}", low=low, high=high))
        )
    if crop.grams:
        grams = day_range(*(float(each) for each in crop.grams))
        facts.append((tr("A plant"), tr("{n} g", n=grams)))
    return facts
