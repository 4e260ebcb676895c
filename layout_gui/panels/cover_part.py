"""Leaves by day at the station Grow: the curve of cover and what follows from it."""

from dataclasses import replace
from fractions import Fraction

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.compare.courses import Course, courses_of
from geometry.compare.growing import Growing, growing
from geometry.plan import BedPlan
from geometry.tongue import tr
from geometry.units import MM_PER, TOLERANCE_MM, Unit, format_length
from layout_gui.panels.background import Background
from layout_gui.panels.cover_curve import CoverCurve
from layout_gui.panels.leaves import Leaves, course_in, day_in, kind_in
from layout_gui.panels.now import Now
from layout_gui.panels.parts import label
from layout_gui.wording.leaves import assumed_words, growing_sentences


class CoverPart(QWidget):
    """The curve, worked out beside the window, and its sentences; hidden where nothing is known."""

    def __init__(self, leaves: Leaves, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._leaves = leaves
        self._now: Now | None = None
        self._asked: tuple[BedPlan, tuple[Course | None, ...]] | None = None
        self.found: Growing | None = None
        self._worker = Background(self)
        self._worker.done.connect(self._on_done)
        self._worker.failed.connect(self._on_failed)
        self.curve = CoverCurve()
        self.curve.day_wanted.connect(self._on_day)
        self.words = label("")
        self.pitches = label("", "quiet")
        self.assumed = label("", "quiet")
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 4, 0, 0)
        box.setSpacing(6)
        for part in (self.curve, self.words, self.pitches, self.assumed):
            box.addWidget(part)
        leaves.changed.connect(self._show)
        self.hide()

    def show_now(self, now: Now) -> None:
        """Show this moment; what is known of the very same leaves is kept."""
        self._now = now
        plan = now.bed_plan
        courses = courses_of(now.project, plan.plantings) if plan is not None else ()
        if plan is None or not any(courses):
            self._asked = self.found = None
            self._worker.forget()
            self._show()
            return
        asked = self._asked
        if asked is None or asked[0] is not plan or asked[1] != courses:
            self._asked = plan, courses
            self._worker.ask(lambda _is_wanted: growing(plan, courses))
        self._show()

    def _on_done(self, found: Growing | None) -> None:
        self.found = found
        self._show()

    def _on_failed(self, error: BaseException) -> None:
        raise error

    def _show(self) -> None:
        now = self._now
        self.setVisible(now is not None and self._asked is not None)
        if now is None or self._asked is None:
            return
        found, course = self.found, course_in(now)
        self.curve.setVisible(found is not None)
        is_by_day = kind_in(now, self._leaves.wish) == "day"
        self.curve.show_cover(found, day_in(now, self._leaves.wish) if is_by_day else None)
        if found is None:
            busy = tr("Working it out \N{HORIZONTAL ELLIPSIS}")
            unknown = tr("How much leaves cover is told once the widths of every crop are known.")
            self.words.setText(busy if self._worker.is_busy else unknown)
        else:
            self.words.setText(" ".join(growing_sentences(found)))
        for part, words in (
            (self.pitches, self._pitch_words(now, course)),
            (self.assumed, assumed_words(course)),
        ):
            part.setText(words)
            part.setVisible(bool(words))

    def _pitch_words(self, now: Now, course: Course | None) -> str:
        """Say when leaves would touch at a closer and at a wider pitch."""
        found, unit = self.found, now.project.units
        if course is None or found is None or found.nearest is None:
            return ""
        said = []
        for pitch in _pitches(found.nearest, unit):
            day = course.day_at(float(pitch) - TOLERANCE_MM)
            size = format_length(pitch, unit)
            said.append(
                tr("at {pitch} on day {day}", pitch=size, day=day)
                if day is not None
                else tr("at {pitch} not at all", pitch=size)
            )
        return tr("They would touch {when}.", when=", ".join(said))

    def _on_day(self, day: int) -> None:
        self._leaves.want(replace(self._leaves.wish, kind="day", day=day))


def _pitches(nearest: float, unit: Unit) -> tuple[Fraction, ...]:
    """Return two closer and two wider pitches in round numbers."""
    step = MM_PER["in"] if unit == "in" else Fraction(25)
    under = int(nearest / float(step) - 1e-9)
    return tuple(step * times for times in range(under - 1, under + 3) if times > 0)
