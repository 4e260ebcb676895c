"""Week by week, a sight of the station Grow: the beds in one week, and what is to be done then."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeySequence, QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from geometry.drawing.task_words import task_words, weekday
from geometry.drawing.week_map import StageKey, stage_keys
from geometry.errors import GeometryError
from geometry.flow.period import Period, Week
from geometry.model.bed import Pushed
from geometry.plan import Plan
from geometry.tongue import mark, number, tr, tr_n
from geometry.weeks import Task, Weeks, first_day, plan_weeks
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.background import Background
from layout_gui.panels.dates import date_text, read_day, today
from layout_gui.panels.fields import ChoiceField
from layout_gui.panels.flow import Flow, flowing
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label
from layout_gui.panels.sight_view import SightView
from layout_gui.panels.week_beds import BedInWeek, WeekBeds, paint_key
from layout_gui.panels.week_strip import WeekStrip
from layout_gui.project.edits_runs import add_run, fresh_run
from layout_gui.project.edits_weeks import push_rafts
from layout_gui.screen.theme import LIGHT, Theme

_BEFORE: Final = 4
_AHEAD: Final = 26
"""So many weeks before the chosen one, and so many in all, are worked out at once."""

_WAYS: Final[tuple[tuple[Pushed, str], ...]] = (
    ("no", mark("stay where they are set")),
    ("far", mark("are pushed to the far end")),
    ("near", mark("are pushed to the end of the datum corner")),
)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What was worked out: some weeks of a plan, and the beds in one of them."""

    plan: Plan
    weeks: Weeks
    week: Week
    beds: tuple[BedInWeek, ...]
    keys: Mapping[tuple[int, int], StageKey]


def _work_out(plan: Plan, week: Week, known: Weeks | None) -> _Shown:
    weeks = known or plan_weeks(plan, Period(week.after(-_BEFORE).first, _AHEAD))
    beds = tuple(BedInWeek(bed, bed.in_week(week)) for bed in weeks.beds if bed.is_used(week))
    return _Shown(plan, weeks, week, beds, stage_keys(weeks))


class KeySwatch(QWidget):
    """The letter and the hatch of a stage."""

    def __init__(self, key: StageKey, theme: Theme) -> None:
        super().__init__()
        self._key, self._theme = key, theme
        self.setFixedSize(34, 20)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint them as on the rafts."""
        paint_key(QPainter(self), self._key, QRectF(self.rect()), self._theme)


class WeekSight(SightView):
    """A strip of weeks, the beds of the chosen one from above, and its tasks beneath."""

    def __init__(
        self, document: Document, selection: Selection, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._theme = LIGHT
        self._now: Now | None = None
        self._week: Week | None = None
        self._shown: _Shown | None = None
        self._is_shared = False
        self._worker = Background(self)
        self._worker.done.connect(self._on_done)
        self._worker.failed.connect(self._on_failed)
        self.strip = WeekStrip()
        self.strip.chosen.connect(self.go_to)
        self.beds = WeekBeds()
        self.title = label("", "title")
        self.day = QLineEdit()
        self.day.setAccessibleName(tr("A day of the week to show"))
        self.day.setFixedWidth(self.day.fontMetrics().horizontalAdvance("0000-00-00") + 28)
        self.day.returnPressed.connect(self._on_day)
        self.before = button(tr("Week before"), lambda: self._step(-1))
        self.after = button(tr("Week after"), lambda: self._step(1))
        self.today = button(tr("Today"), lambda: self.go_to(_this_week()))
        self.begin = button(tr("First task"), self._go_to_begin, "link")
        self.larger = button(tr("Larger"), lambda: self.beds.zoom_by(1.5), "link")
        self.smaller = button(tr("Smaller"), lambda: self.beds.zoom_by(1 / 1.5), "link")
        self.pages = button(tr("Pages and calendar"), lambda: self.went_to.emit("Make"), "link")
        self.trouble = label("", "warn")
        self.trouble.hide()
        self.keys = QWidget()
        self._keys_box = Flow(self.keys)
        self._keys_box.setContentsMargins(12, 2, 12, 2)
        self.tasks = QListWidget()
        self.tasks.setAccessibleName(tr("What is to be done in this week"))
        self.tasks.setWordWrap(True)
        self.tasks.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.tasks.setSelectionMode(QListWidget.SelectionMode.SingleSelection)
        self.way = ChoiceField()
        self.way.setSizeAdjustPolicy(ChoiceField.SizeAdjustPolicy.AdjustToContents)
        self.way.setMinimumContentsLength(10)
        self.way.set_options([(way, tr(words)) for way, words in _WAYS])
        self.way.committed.connect(self._on_way)
        self.way_words = label("")
        self.way_words.setWordWrap(False)
        self.empty_words = label("")
        self.make = button("", self._make_run, "primary")
        self._assemble()
        for key, by in ((QKeySequence.StandardKey.Back, -1), (QKeySequence.StandardKey.Forward, 1)):
            shortcut = QShortcut(QKeySequence(key), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(lambda by=by: self._step(by))

    def _assemble(self) -> None:
        head = flowing(
            self.before, self.after, self.day, self.today, self.begin, self.larger, self.smaller,
            self.pages,
        )  # fmt: skip
        upper = QWidget()
        box = QVBoxLayout(upper)
        box.setContentsMargins(12, 8, 12, 4)
        box.setSpacing(6)
        for part in (self.title, head, self.strip, self.trouble):
            box.addWidget(part)
        lower = QWidget()
        under = QVBoxLayout(lower)
        under.setContentsMargins(12, 6, 12, 8)
        under.setSpacing(6)
        under.addWidget(self.tasks, 1)
        under.addWidget(flowing(self.way_words, self.way))
        middle = QWidget()
        beds = QVBoxLayout(middle)
        beds.setContentsMargins(0, 0, 0, 0)
        beds.setSpacing(0)
        beds.addWidget(self.keys)
        beds.addWidget(self.beds, 1)
        self._parts = parts = QSplitter(Qt.Orientation.Vertical)
        parts.addWidget(middle)
        parts.addWidget(lower)
        parts.setStretchFactor(0, 3)
        parts.setStretchFactor(1, 2)
        parts.setChildrenCollapsible(False)
        self.full = QWidget()
        whole = QVBoxLayout(self.full)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(upper)
        whole.addWidget(parts, 1)
        self.empty = QWidget()
        bare = QVBoxLayout(self.empty)
        bare.setContentsMargins(24, 24, 24, 24)
        bare.addStretch(1)
        for part in (self.empty_words, self.make):
            bare.addWidget(part, 0, Qt.AlignmentFlag.AlignHCenter)
        self.empty_words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.empty_words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        bare.addStretch(2)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self.full)
        outer.addWidget(self.empty)

    @property
    def week(self) -> Week | None:
        """The week that is chosen."""
        return self._week

    @property
    def is_busy(self) -> bool:
        """Whether the beds of the chosen week are still being worked out."""
        return self._worker.is_busy

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        begin = first_day(now.project.runs)
        self.full.setVisible(begin is not None)
        self.empty.setVisible(begin is None)
        if begin is None:
            self._show_empty(now)
            return
        if self._week is None:
            self._week = max(_this_week(), Week.of(begin))
        self._show_way(now)
        self._show_week()

    def _show_empty(self, now: Now) -> None:
        crop = now.planting.crop if now.planting else ""
        if now.project.runs:
            self.empty_words.setText(
                tr("Type the day of the first sowing, and the weeks stand here.")
            )
        elif now.bed is None or not now.plan.plants:
            self.empty_words.setText(
                tr("When a bed has holes and something is sown, the weeks stand here.")
            )
        else:
            self.empty_words.setText(
                tr("Nothing is sown yet. Say what is sown, and when, and the weeks stand here.")
            )
        self.make.setVisible(bool(not now.project.runs and now.bed and now.plan.plants))
        name = tr(crop) if crop else tr("a crop")
        self.make.setText(tr("Sow {crop} from this week on", crop=name))

    def _make_run(self) -> None:
        if self._now is None or self._now.bed is None:
            return
        project, bed = self._document.project, self._now.bed
        crop = bed.planting.crop if bed.planting else ""
        made = fresh_run(project, bed.name, crop, _this_week().first)
        self._document.apply(tr("Sow from week to week"), add_run(project, made))

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        self._theme = theme
        self.strip.set_theme(theme)
        self.beds.set_theme(theme)
        if self._shown is not None:
            self._show_keys(self._shown)

    def go_to(self, week: Week) -> None:
        """Show another week."""
        if week != self._week:
            self._week = week
            self._show_week()

    def _step(self, by: int) -> None:
        if self._week is not None:
            self.go_to(self._week.after(by))

    def _go_to_begin(self) -> None:
        if self._now is not None and (begin := first_day(self._now.project.runs)):
            self.go_to(Week.of(begin))

    def _on_day(self) -> None:
        try:
            self.go_to(Week.of(read_day(self.day.text())))
        except GeometryError as error:
            self.said.emit(str(error))

    def _show_week(self) -> None:
        """Show the chosen week, at once what is known of it and the rest when it is there."""
        week, now = self._week, self._now
        if week is None or now is None:
            return
        self.title.setText(
            tr(
                "Week {number}: {first} to {last}",
                number=week.number, first=date_text(week.first), last=date_text(week.last),
            )
        )  # fmt: skip
        self.day.setText(date_text(week.first))
        shown = self._shown
        known = shown.weeks if shown is not None and shown.plan is now.plan else None
        if shown is not None and known is not None and shown.week == week:
            self._show(shown)
            return
        if known is not None and week not in known.weeks[1:-1]:
            known = None
        picked = _picked(known) if known else {}
        self.strip.show_week(week, _this_week(), picked)
        plan = now.plan
        self._worker.ask(lambda _is_wanted: _work_out(plan, week, known))

    def _on_done(self, shown: _Shown) -> None:
        self._shown = shown
        if self._now is not None and shown.plan is self._now.plan and shown.week == self._week:
            self._show(shown)

    def _on_failed(self, error: BaseException) -> None:
        raise error

    def _show(self, shown: _Shown) -> None:
        self.strip.show_week(shown.week, _this_week(), _picked(shown.weeks))
        self.beds.show_beds(shown.beds, shown.keys, shown.week)
        self._show_keys(shown)
        self._share_room()
        self.tasks.clear()
        tasks = shown.weeks.tasks_in(shown.week)
        self.tasks.addItems([_task_line(task) for task in tasks] or [tr("Nothing is to be done.")])
        trouble = tuple(_trouble(shown))
        self.trouble.setText("\n".join(trouble))
        self.trouble.setVisible(bool(trouble))

    def _share_room(self) -> None:
        """Give the beds no more room than they take, once; then it is the grower's to share."""
        if self._is_shared or not self._parts.height() or not self.beds.content_height:
            return
        self._is_shared = True
        high, whole = (
            self.beds.content_height + self.keys.heightForWidth(self.width()),
            self._parts.height(),
        )
        upper = min(high, int(whole * 0.62))
        self._parts.setSizes([upper, whole - upper])

    def _show_keys(self, shown: _Shown) -> None:
        while (item := self._keys_box.takeAt(0)) is not None:
            if (part := item.widget()) is not None:
                part.deleteLater()
        for key in shown.keys.values():
            words = label(key.words, "quiet")
            words.setWordWrap(False)
            entry = QWidget()
            row = QHBoxLayout(entry)
            row.setContentsMargins(0, 0, 0, 0)
            row.addWidget(KeySwatch(key, self._theme))
            row.addWidget(words)
            self._keys_box.addWidget(entry)

    def _show_way(self, now: Now) -> None:
        bed = now.bed
        self.way.setVisible(bed is not None)
        self.way_words.setVisible(bed is not None)
        if bed is not None:
            self.way_words.setText(tr("Rafts of {bed}", bed=bed.name))
            self.way.setAccessibleName(self.way_words.text())
            self.way.show_value(bed.pushed)

    def _on_way(self, way: object) -> None:
        if self._now is None or self._now.bed is None:
            return
        bed = self._now.bed.name
        project = push_rafts(self._document.project, bed, way)  # type: ignore[arg-type]  # an option
        self._document.apply(tr("How the rafts of {bed} go through", bed=bed), project)


def _trouble(shown: _Shown) -> Iterator[str]:
    """Say which runs cannot be reckoned, and how many rafts find no place in the week."""
    for made in shown.weeks.runs:
        if made.lack == "room":
            yield tr(
                "{run}: the beds do not hold one raft of each stage at a time. Sow less often, "
                "or let batches share rafts.",
                run=made.run.name,
            )
        elif made.lack:
            yield tr("{run} cannot be reckoned yet; the fields of Grow say why.", run=made.run.name)
    lacking = sum(
        count
        for demand, count in shown.weeks.left_out
        if demand.first <= shown.week.last and demand.end > shown.week.first
    )
    if lacking:
        yield tr_n(
            "{n} raft finds no place in this week.",
            "{n} rafts find no place in this week.",
            lacking, n=number(lacking, 0),
        )  # fmt: skip


def _task_line(task: Task) -> str:
    day = f"{weekday(task.day)} {date_text(task.day)}"
    return f"{day}  \N{MIDDLE DOT}  {task_words(task)}"


def _this_week() -> Week:
    return Week.of(today())


def _picked(weeks: Weeks) -> dict[Week, int]:
    found: dict[Week, int] = {}
    for task in weeks.tasks:
        if task.kind == "pick":
            week = Week.of(task.day)
            found[week] = found.get(week, 0) + task.count
    return found
