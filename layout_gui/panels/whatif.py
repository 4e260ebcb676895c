"""What if? Choices side by side and the step curve, a leaf of the drawer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Final  # noqa: TID251  the inside is loaded when first seen

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.compare.comparison import BOTH, SERIES, Comparison, merged, rearranged
from geometry.compare.courses import Course, courses_of
from geometry.drawing.marks import Drawing
from geometry.model.bed import Bed
from geometry.model.planting import Pattern, Planting
from geometry.model.project import Project
from geometry.model.zone import all_plantings
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.document.child import Child
from layout_gui.document.document import Document
from layout_gui.panels.background import Background
from layout_gui.panels.choices import Compared, compare, known_result
from layout_gui.panels.drawer import Leaf
from layout_gui.panels.leaves import Leaves
from layout_gui.panels.now import Now
from layout_gui.screen.theme import Theme

if TYPE_CHECKING:
    from layout_gui.panels.choice_desk import ChoiceDesk

PAUSE_MS: Final = 350
"""The comparison begins once the project has rested this long."""
_INSIDE: Final = ("layout_gui.panels.curve", "layout_gui.panels.choice_desk")
_MOST_KEPT: Final = 6
"""So many complete comparisons are remembered: using a choice and taking it back costs nothing."""

_Question = tuple[Bed, Unit, tuple[Course | None, ...]]
"""What a comparison hangs on, kept choices aside."""


class WhatIf(Leaf):
    """The leaf of the drawer. Its inside is made when it is first looked at."""

    export_wanted = Signal(str)
    """The comparison is to be exported, as "pdf" or "csv"."""

    said = Signal(str)
    """What is being tried, in words; empty when nothing is."""

    def __init__(
        self,
        document: Document,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        series: Sequence[Pattern] = SERIES,
        leaves: Leaves | None = None,
    ) -> None:
        """``leaves`` are those drawn on the bed; without them they cannot be chosen here."""
        tip = tr("Other spacings and patterns, side by side")
        super().__init__("what-if", tr("What if?"), tip, parent)
        self._document = document
        self._series = series
        self._theme = theme
        self._leaves = leaves
        self._now: Now | None = None
        self._asked: tuple[Project, str] | None = None
        self._question: _Question | None = None
        self._known: dict[_Question, Comparison] = {}
        self._drawings: dict[Planting, Drawing] = {}
        # The first does everything, or the lines while the second does the rest.
        self._workers = Child(self), Child(self)
        self._parts: list[Comparison | None] = [None, None]
        self._is_shared = False
        for place, worker in enumerate(self._workers):
            for news in (worker.progress, worker.done):
                news.connect(partial(self._on_news, place))
            worker.failed.connect(self._on_failed)
            worker.running_changed.connect(self.about_changed)
        self._door = Background(self)
        self._door.done.connect(self._on_loaded)
        self._door.failed.connect(self._on_unloaded)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self._begin)
        self._latest: Comparison | None = None
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._show_latest)
        self._inside: ChoiceDesk | None = None
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)

    @property
    def inside(self) -> ChoiceDesk | None:
        """What is in the drawer; None before it was first looked at."""
        return self._inside

    @property
    def comparison(self) -> Comparison | None:
        """What is known of the bed in sight; None where nothing was compared yet."""
        return self._inside.comparison if self._inside is not None else None

    @property
    def about(self) -> str:
        """Which bed is compared or, while work goes on, how much of it is done."""
        if self._now is None or self._now.bed is None:
            return ""
        if not self.is_working:
            return tr("for {name}", name=self._now.bed.name)
        known = self.comparison
        return f"{known.share if known is not None else 0.0:.0%}"

    @property
    def is_working(self) -> bool:
        """Whether something is being worked out."""
        return any(worker.is_running for worker in self._workers)

    def set_open(self, *, is_open: bool) -> None:
        """Compare from now on, or leave it and end the try."""
        super().set_open(is_open=is_open)
        if not is_open:
            if self._inside is not None:
                self._inside.go_back()
            self._document.preview(None)
            self.stop()
            self._asked = None
        self._ask()

    def show_now(self, now: Now) -> None:
        """Compare for this moment, beside the window, if the leaf is open."""
        self._now = now
        self.about_changed.emit()
        self._ask()

    def stop(self) -> None:
        """Leave the comparison at what is known so far."""
        self._pause.stop()
        was_running = self.is_working
        self._show_latest()
        self._cancel()
        if self._inside is not None and was_running:
            self._inside.show_stopped()

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        self._theme = theme
        if self._inside is not None:
            self._inside.set_theme(theme)

    def _ask(self) -> None:
        now = self._now
        if now is None or now.bed is None or not self.is_open:
            return
        if self._inside is None:
            self._load()
            return
        self._inside.show_now(now)
        wanted = (now.project, now.bed.name)
        if self._asked is not None and self._asked[0] is wanted[0] and self._asked[1] == wanted[1]:
            return
        self._asked = wanted
        self._pause.stop()
        self._cancel()
        self._turn_to(now.bed, now.project.units)
        if now.planting is None:
            self._inside.show_comparison(None)
            return
        before = self._before()
        whole = rearranged(now.project, now.bed, before) if before is not None else None
        if whole is not None:
            self._show(whole, {})
            return
        self._inside.show_busy()
        if before is not None:
            self._inside.show_comparison(replace(before, is_complete=False), self._drawings)
        elif (first := known_result(now)) is not None:
            self._inside.show_comparison(Comparison((first,)), self._drawings)
        self._pause.start()

    def _turn_to(self, bed: Bed, unit: Unit) -> None:
        """Note what is compared from now on; drawings of another bed are dropped."""
        plantings = all_plantings(bed.planting, bed.zones) if bed.planting is not None else ()
        courses = courses_of(self._document.project, plantings)
        before, self._question = self._question, (bed, unit, courses)
        if before is None or replace(before[0], planting=None) != replace(bed, planting=None):
            self._drawings.clear()
            if self._inside is not None:
                self._inside.forget_pictures()

    def _before(self) -> Comparison | None:
        """What is known of this very bed."""
        return self._known.get(self._question) if self._question is not None else None

    def _load(self) -> None:
        """Load the inside beside the window: the plotting library takes longer than a blink."""
        if not self._door.is_busy:
            self._door.ask(lambda _is_wanted: [import_module(name) for name in _INSIDE])

    def _on_loaded(self, _modules: object) -> None:
        from layout_gui.panels.choice_desk import ChoiceDesk  # noqa: PLC0415  loaded by now

        self._inside = ChoiceDesk(self._document, self._theme, leaves=self._leaves)
        self._inside.export_wanted.connect(self.export_wanted)
        self._inside.said.connect(self.said)
        self._box.addWidget(self._inside, 1)
        self._ask()

    def _begin(self) -> None:
        now = self._now
        if now is None or now.bed is None or now.planting is None:
            return
        if self._document.is_busy:  # the plan itself comes first
            self._pause.start()
            return
        own = now.planting.pattern
        lines = self._series if own in self._series else (own, *self._series)
        known, before = known_result(now), self._before()
        task = now.project, now.bed, lines, known, before
        self._parts = [None, None]
        self._is_shared = _is_slow(now) and (before is None or not before.is_complete)
        if self._is_shared:
            for worker, share in zip(self._workers, BOTH, strict=True):
                worker.start(compare, *task, (share,))
        else:
            self._workers[0].start(compare, *task, BOTH)

    def _cancel(self) -> None:
        self._soon.stop()
        self._latest = None
        for worker in self._workers:
            worker.cancel()

    def _on_news(self, place: int, news: Compared) -> None:
        self._parts[place] = news.known
        curves, choices = self._parts
        whole = news.known
        if self._is_shared:
            whole = merged(curves or Comparison(), choices or Comparison())
        self._drawings.update(news.drawings)
        if whole.results:
            self._latest = whole
            self._soon.start()

    def _show_latest(self) -> None:
        """Show what is known now; news that came in one go are drawn once."""
        latest, self._latest = self._latest, None
        if latest is not None:
            self._show(latest, {})
        self.about_changed.emit()

    def _show(self, comparison: Comparison, drawings: Mapping[Planting, Drawing]) -> None:
        self._drawings.update(drawings)
        question = self._question
        if question is not None:
            known = self._known.pop(question, None)
            if known is not None and _is_ahead(known, comparison):
                comparison = known  # what was begun anew has not come so far yet
            keeps = known is not None and known.is_complete and not comparison.is_complete
            self._known[question] = known if known is not None and keeps else comparison
            while len(self._known) > _MOST_KEPT:
                del self._known[next(iter(self._known))]
        if self._inside is not None:
            self._inside.show_comparison(comparison, self._drawings)

    def _on_failed(self, reason: str) -> None:
        if self._inside is not None:
            self._inside.show_reason(reason)

    def _on_unloaded(self, error: BaseException) -> None:
        raise error


def _is_ahead(known: Comparison, begun: Comparison) -> bool:
    """Whether a comparison that was left shows more than the same one that was begun again."""
    rows = [each.choice for each in begun.results]
    same = [each.choice for each in known.results[: len(rows)]] == rows
    return same and not known.is_complete and known.share > begun.share


def _is_slow(now: Now) -> bool:
    """Whether counting takes long enough that a second process is worth its start."""
    plan = now.bed_plan
    return plan is not None and (
        bool(plan.bed.obstacles or plan.bed.zones)
        or not all(raft.design.shape.is_rectangle for raft in plan.rafts)
    )
