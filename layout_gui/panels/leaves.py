"""Which leaves are drawn on the bed, and what is said of them; shared by Grow and What if?."""

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QSlider, QWidget

from geometry.compare.courses import Course, course_of
from geometry.compare.crowding import Crowding, LeafWidths, crowding
from geometry.crops.table import find_crop
from geometry.model.growth import Growth
from geometry.model.planting import Planting
from geometry.plan import BedPlan
from geometry.tongue import tr, tr_n
from geometry.units import TOLERANCE_MM, Length, Unit, format_length
from layout_gui.panels.background import Background
from layout_gui.panels.fields import ChoiceField, CountField, LengthField, LengthNote
from layout_gui.panels.now import Now
from layout_gui.panels.parts import label
from layout_gui.panels.words import short_length
from layout_gui.project.edits_growth import growth_of

Kind = Literal["none", "least", "most", "day", "own"]

_SOON: Final = 3000
"""So many plants are looked at at once; more of them beside the window."""
_WIDEST: Final = Length.of("2 m")


@dataclass(frozen=True, slots=True)
class LeafWish:
    """Leaves as grown as published (least, most), on a day that is known, or of a typed width.

    Before anything is chosen (``kind`` None) the least published width is meant, where there is
    one.
    """

    kind: Kind | None = None
    day: int = 0
    own: Length | None = None


class Leaves(QObject):
    """The wish, for all who show it."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._wish = LeafWish()
        self._is_pinned = False

    @property
    def wish(self) -> LeafWish:
        """What is wanted now."""
        return self._wish

    @property
    def is_pinned(self) -> bool:
        """Whether leaves are drawn at every station, not at Grow alone."""
        return self._is_pinned

    def want(self, wish: LeafWish) -> None:
        """Want other leaves."""
        if wish != self._wish:
            self._wish = wish
            self.changed.emit()

    def pin(self, *, is_on: bool) -> None:
        """Draw the leaves at every station, or at Grow alone."""
        if is_on != self._is_pinned:
            self._is_pinned = is_on
            self.changed.emit()


def record_of(now: Now) -> Growth:
    """Return what the grower has measured of the bed's own crop."""
    return growth_of(now.project, now.planting.crop if now.planting else "")


def course_in(now: Now) -> Course | None:
    """Return how wide the leaves of the bed's own crop are from day to day, where it is known."""
    return course_of(now.project, now.planting) if now.planting is not None else None


def kinds_of(now: Now) -> tuple[Kind, ...]:
    """Return what can be wanted for a bed; a width of one's own always."""
    kinds: list[Kind] = ["none"]
    crop = find_crop(now.planting.crop, now.project.crops) if now.planting else None
    if crop is not None and crop.mature_width is not None:
        least, most = crop.mature_width
        kinds += ["least"] if least == most else ["least", "most"]
    if course_in(now) is not None:
        kinds.append("day")
    return (*kinds, "own")


def kind_in(now: Now, wish: LeafWish) -> Kind:
    """Return the kind that is drawn: the wanted one, or what comes nearest to it."""
    kinds = kinds_of(now)
    if wish.kind is None:
        return "least" if "least" in kinds else "none"
    if wish.kind in kinds:
        return wish.kind
    return "least" if wish.kind == "most" and "least" in kinds else "none"


def day_in(now: Now, wish: LeafWish) -> int:
    """Return the day that is meant, within those that are known; 0 where none is."""
    course = course_in(now)
    return min(max(wish.day, course.first), course.last) if course is not None else 0


def leaf_widths(now: Now, wish: LeafWish) -> tuple[float | None, ...] | None:
    """Return the width of the leaves of each planting of the bed, in mm; None for no leaves."""
    if now.planting is None or kind_in(now, wish) == "none":
        return None
    plantings = now.bed_plan.plantings if now.bed_plan is not None else (now.planting,)
    widths = tuple(_width(now, planting, wish) for planting in plantings)
    return widths if any(widths) else None


def _width(now: Now, planting: Planting, wish: LeafWish) -> float | None:
    kind, crop = kind_in(now, wish), find_crop(planting.crop, now.project.crops)
    found: Fraction | float | None = None
    if kind in {"least", "most"} and crop is not None and crop.mature_width is not None:
        found = crop.mature_width[0 if kind == "least" else 1].exact
    elif kind == "day":
        course = course_of(now.project, planting)
        found = course.width_on(day_in(now, wish)) if course is not None else None
    elif kind == "own" and wish.own is not None:
        found = wish.own.exact
    return None if found is None else float(found)


def leaf_sentence(
    found: Crowding, widths: LeafWidths, unit: Unit, course: Course | None = None
) -> str:
    """Say whether leaves overlap, how many pairs and how deep, and from when on they touch."""
    sizes = sorted({width for width in widths if width})
    if found.nearest is None or not sizes:
        return ""
    nearest = format_length(found.nearest, unit)
    parts: list[str] = []
    if found.pairs is None:
        parts.append(tr("All leaves reach far over their neighbours."))
    elif found.pairs:
        deepest = format_length(found.deepest, unit)
        parts.append(
            tr_n(
                "{n} pair overlaps, by {deepest}.",
                "{n} pairs overlap, by {deepest} at most.",
                found.pairs,
                deepest=deepest,
            )
        )
    else:
        parts.append(tr("No leaves overlap."))
    if len(sizes) == 1:
        parts.append(tr("Leaves touch from a width of {nearest} on.", nearest=nearest))
        day = course.day_at(found.nearest - TOLERANCE_MM) if course is not None else None
        if day is not None and course is not None and course.measured is not None:
            parts.append(tr("By your figures that is from day {day} on.", day=day))
        elif day is not None:
            parts.append(tr("As reckoned that is from day {day} on.", day=day))
    return " ".join(parts)


class LeavesBar(QWidget):
    """Chooses the leaves that are drawn, with the day or the width, and says how they stand."""

    def __init__(self, leaves: Leaves, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._leaves = leaves
        self._now: Now | None = None
        self._asked: tuple[BedPlan, LeafWidths] | None = None
        self._kinds: tuple[Kind, ...] = ()
        self._worker = Background(self)
        self._worker.done.connect(self._say)
        self._worker.failed.connect(self._on_failed)
        self.kind = ChoiceField()
        self.kind.setObjectName("leaves")
        self.kind.setAccessibleName(tr("Leaves on the bed"))
        self.kind.committed.connect(self._on_kind)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(tr("Day on the water"))
        self.slider.setPageStep(7)
        self.slider.valueChanged.connect(self._on_day)
        self.day = CountField(least=0, most=1000)
        self.day.setAccessibleName(tr("Day on the water"))
        self.day.setPrefix(tr("day "))
        self.day.stepped.connect(self._on_day)
        self.own = LengthField()
        self.own.setAccessibleName(tr("Width of the leaves"))
        for signal in (self.own.committed, self.own.stepped):
            signal.connect(self._on_own)
        self.wide = label("", "quiet")
        self.words = label("", "quiet")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(6)
        grid.addWidget(self.kind, 0, 0, 1, 2)
        grid.addWidget(self.slider, 1, 0)
        grid.addWidget(self.day, 1, 1)
        grid.addWidget(self.own, 2, 0, 1, 2)
        grid.addWidget(LengthNote(self.own), 3, 0, 1, 2)
        grid.addWidget(self.wide, 4, 0, 1, 2)
        grid.addWidget(self.words, 5, 0, 1, 2)
        grid.setColumnStretch(0, 1)
        leaves.changed.connect(self._show)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        self._show()

    def _show(self) -> None:
        now = self._now
        if now is None:
            return
        wish, unit = self._leaves.wish, now.project.units
        kind, course = kind_in(now, wish), course_in(now)
        self.kind.set_options(tuple((each, _kind_words(each, now)) for each in kinds_of(now)))
        self.kind.show_value(kind)
        self.slider.setVisible(kind == "day")
        self.day.setVisible(kind == "day")
        if course is not None:
            day = day_in(now, wish)
            self.slider.blockSignals(True)
            self.slider.setRange(course.first, course.last)
            self.slider.setValue(day)
            self.slider.blockSignals(False)
            self.day.blockSignals(True)
            self.day.setRange(course.first, course.last)
            self.day.blockSignals(False)
            self.day.show_value(day)
        self.own.setVisible(kind == "own")
        self.own.set_unit(unit)
        self.own.show_value(wish.own)
        widths = leaf_widths(now, wish)
        first = widths[0] if widths else None
        told = kind == "day" and first is not None
        size = short_length(first or 0.0, unit)
        self.wide.setText(tr("{width} wide", width=size) if told else "")
        self.wide.setVisible(told)
        self._ask(now, widths)

    def _ask(self, now: Now, widths: LeafWidths | None) -> None:
        """Look how the leaves stand, at once or beside the window, and only when that changed."""
        plan = now.bed_plan
        if plan is None or widths is None:
            self._asked = None
            self._worker.forget()
            self._set_words("")
            return
        asked = plan, widths
        if self._asked is not None and self._asked[0] is plan and self._asked[1] == widths:
            return
        self._asked = asked
        if plan.plants <= _SOON:
            self._worker.forget()
            self._say(crowding(plan, widths))
        else:
            self._worker.ask(lambda _is_wanted: crowding(plan, widths))

    def _say(self, found: Crowding) -> None:
        if self._asked is not None and self._now is not None:
            course, unit = course_in(self._now), self._now.project.units
            self._set_words(leaf_sentence(found, self._asked[1], unit, course))

    def _set_words(self, words: str) -> None:
        self.words.setText(words)
        self.words.setVisible(bool(words))
        self.kind.setAccessibleDescription(words)

    def _on_failed(self, error: BaseException) -> None:
        raise error

    def _on_kind(self, kind: Kind) -> None:
        wish = replace(self._leaves.wish, kind=kind)
        if kind == "own" and wish.own is None and self._now is not None and self._now.planting:
            wish = replace(wish, own=self._now.planting.spacing)
        self._leaves.want(wish)

    def _on_day(self, day: int) -> None:
        self._leaves.want(replace(self._leaves.wish, kind="day", day=day))

    def _on_own(self, width: object) -> None:
        if isinstance(width, Length) and width.exact > 0:
            own = width if width.exact <= _WIDEST.exact else _WIDEST
            self._leaves.want(replace(self._leaves.wish, kind="own", own=own))


def _kind_words(kind: Kind, now: Now) -> str:
    crop = find_crop(now.planting.crop, now.project.crops) if now.planting else None
    widths = crop.mature_width if crop is not None else None
    unit = now.project.units
    match kind:
        case "least" if widths is not None:
            return tr("grown, least {width}", width=format_length(widths[0].exact, unit))
        case "most" if widths is not None:
            return tr("grown, most {width}", width=format_length(widths[1].exact, unit))
        case "day" if (course := course_in(now)) is not None and course.measured is not None:
            return tr("on a day, by your figures")
        case "day":
            return tr("on a day, as reckoned")
        case "own":
            return tr("of a width you type")
        case _:
            return tr("not drawn")
