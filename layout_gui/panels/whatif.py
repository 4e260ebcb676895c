"""What if? Choices side by side and the step curve, a leaf of the drawer."""

from collections.abc import Sequence
from importlib import import_module
from typing import Final

from PySide6.QtCore import QModelIndex, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from geometry.compare.choices import ChoiceResult, result_of
from geometry.compare.comparison import SERIES, Comparison
from geometry.model.planting import Pattern
from geometry.model.project import Choice, Project
from geometry.tongue import mark, tr
from geometry.units import Unit
from layout_gui.document.child import Child
from layout_gui.document.document import Document
from layout_gui.panels.background import Background
from layout_gui.panels.choices import (
    choice_words,
    compare,
    headers,
    other_sentences,
    spacing_sentence,
    texts,
    tried_choice,
)
from layout_gui.panels.drawer import Leaf
from layout_gui.panels.now import Now
from layout_gui.panels.parts import button, label, stack
from layout_gui.panels.words import free_name
from layout_gui.project import edits
from layout_gui.screen.theme import Theme

_ALL_COLUMNS: Final = 700
WORKING: Final = mark("Working it out \N{HORIZONTAL ELLIPSIS}")
PAUSE_MS: Final = 350
"""The comparison begins once the project has rested this long."""


class WhatIf(Leaf):
    """The leaf of the drawer. Its inside is made when it is first looked at."""

    def __init__(
        self,
        document: Document,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        series: Sequence[Pattern] = SERIES,
    ) -> None:
        tip = tr("Other spacings and patterns, side by side")
        super().__init__("what-if", tr("What if?"), tip, parent)
        self._document = document
        self._series = series
        self._theme = theme
        self._now: Now | None = None
        self._asked: tuple[Project, str] | None = None
        self._child = Child(self)
        self._child.progress.connect(self._on_news)
        self._child.done.connect(self._on_news)
        self._child.failed.connect(self._on_failed)
        self._child.running_changed.connect(self.about_changed)
        self._door = Background(self)
        self._door.done.connect(self._on_loaded)
        self._door.failed.connect(self._on_unloaded)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self._begin)
        self._inside: ChoiceDesk | None = None
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)

    @property
    def inside(self) -> "ChoiceDesk | None":
        """What is in the drawer; None before it was first looked at."""
        return self._inside

    @property
    def about(self) -> str:
        """What is compared and, while work goes on, how much of it is done."""
        if self._now is None or self._now.bed is None:
            return ""
        words = tr("plants against spacing, for {name}", name=self._now.bed.name)
        if self._child.is_running:
            best = self._child.best
            share = f"{best.share if best else 0.0:.0%}"
            return tr("{words}, {share} worked out", words=words, share=share)
        return words

    @property
    def is_working(self) -> bool:
        """Whether something is being worked out."""
        return self._child.is_running

    def set_open(self, *, is_open: bool) -> None:
        """Compare from now on, or leave it and end the try."""
        super().set_open(is_open=is_open)
        if not is_open:
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
        self._child.cancel()
        if self._inside is not None:
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
        self._child.cancel()
        if now.planting is None:
            self._pause.stop()
            self._inside.show_comparison(None)
            return
        self._inside.show_busy()
        if (first := _known(now)) is not None:
            self._inside.show_comparison(Comparison((first,)))
        self._pause.start()

    def _load(self) -> None:
        """Load the plotting library beside the window, which takes longer than a blink."""
        if not self._door.is_busy:
            self._door.ask(lambda _is_wanted: import_module("layout_gui.panels.curve"))

    def _on_loaded(self, _module: object) -> None:
        self._inside = ChoiceDesk(self._document, self._theme)
        self._box.addWidget(self._inside, 1)
        self._ask()

    def _begin(self) -> None:
        now = self._now
        if now is None or now.bed is None or now.planting is None:
            return
        if self._document.is_busy:  # the plan itself comes first
            self._pause.start()
            return
        self._child.start(compare, now.project, now.bed, self._series, _known(now))

    def _on_news(self, comparison: Comparison) -> None:
        if self._inside is not None:
            self._inside.show_comparison(comparison)
        self.about_changed.emit()

    def _on_failed(self, reason: str) -> None:
        if self._inside is not None:
            self._inside.show_reason(reason)

    def _on_unloaded(self, error: BaseException) -> None:
        raise error


def _known(now: Now) -> ChoiceResult | None:
    """What the bed as it stands gives, once its plan is made."""
    if now.bed_plan is None or now.planting is None or now.plan.project is not now.project:
        return None
    return result_of(now.bed_plan, Choice("", now.bed_plan.bed.name), now.planting)


class ChoiceDesk(QWidget):
    """The curve on the left, the choices on the right. Looking at one tries it."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        from layout_gui.panels.curve import StepCurve, legend  # noqa: PLC0415 - loaded when first used

        self._legend_words = legend
        self._document = document
        self._now: Now | None = None
        self._comparison: Comparison | None = None
        self._tried: Choice | None = None
        self._plain: Choice | None = None
        self._words = ""
        self._rows: list[tuple[str, ...]] = []
        self.curve = StepCurve(theme)
        self.curve.picked.connect(self.try_spacing)
        self._legend = label("", "quiet")
        self.sentence = label("")
        self.others = label("", "quiet")
        self.table = QTreeWidget()
        self.table.setAccessibleName(tr("Choices"))
        self.table.setRootIsDecorated(False)
        self.table.setUniformRowHeights(True)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setHeaderLabels(list(headers("mm")))
        self.table.header().setStretchLastSection(False)
        self.table.header().setMinimumSectionSize(36)
        self.table.headerItem().setToolTip(
            3, tr("Share of the most that any arrangement could hold")
        )
        self.table.headerItem().setToolTip(4, tr("Least foam left between two rims or at an edge"))
        self.table.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.table.currentItemChanged.connect(lambda _now, _before: self._on_row())
        self._use = button(tr("Use this choice"), self.use, "primary")
        self._keep = button(tr("Keep it to compare"), self.keep)
        self._drop = button(tr("Remove"), self.drop, "link")
        self._lay_out()
        self._show_buttons()

    @property
    def is_complete(self) -> bool:
        """Whether all that was asked for is compared and shown."""
        return self._comparison is not None and self._comparison.is_complete

    def show_now(self, now: Now) -> None:
        """Take over the units and the bed of this moment."""
        self._now = now
        if self._tried is not None and self._document.plan.project is now.project:
            self._tried = None
            self.curve.show_tried(None)
            self._clear_row()
        self._show_buttons()

    def show_busy(self) -> None:
        """Say that the comparison is being worked out."""
        self._comparison = None
        self.sentence.setText(tr(WORKING))
        self._show_buttons()

    def show_stopped(self) -> None:
        """Say that no more is worked out, where nothing else stands there yet."""
        if self.sentence.text() == tr(WORKING):
            self.sentence.setText("")

    def show_reason(self, reason: str) -> None:
        """Say why there is nothing to compare."""
        self.sentence.setText(reason)

    def show_comparison(self, comparison: Comparison | None) -> None:
        """Show other lines and another curve."""
        self._comparison = comparison
        self.curve.setVisible(comparison is not None and bool(comparison.series))
        if comparison is None or self._now is None:
            self.sentence.setText(tr("Plant this bed, and other spacings stand here side by side."))
            self._legend.setText("")
            self.others.setText("")
            self._fill_table(())
        else:
            unit = self._now.project.units
            now = comparison.results[0]
            self._fill_table(comparison.results)
            self.curve.show_curve(
                comparison.series,
                now_mm=now.planting.spacing.mm,
                unit=unit,
                threshold=next(iter(comparison.thresholds), None),
            )
            self._legend.setText(self._legend_words(list(comparison.series)))
            words = spacing_sentence(comparison.thresholds, unit)
            self.sentence.setText(words or ("" if comparison.is_complete else tr(WORKING)))
            self.others.setText(other_sentences(comparison.thresholds, unit))
        self._show_buttons()

    def _fill_table(self, results: Sequence[ChoiceResult]) -> None:
        """Add the rows that are new; start again only when the first ones differ."""
        rows = [texts(result, self._unit()) for result in results]
        rows[:1] = [(tr("as it stands"), *row[1:]) for row in rows[:1]]
        self.table.blockSignals(True)
        self.table.setHeaderLabels(list(headers(self._unit())))
        if self._rows != rows[: len(self._rows)]:
            self.table.clear()
            self._rows = []
        for row in rows[len(self._rows) :]:
            self.table.addTopLevelItem(_item(row, is_now=not self.table.topLevelItemCount()))
        self._rows = rows
        self.table.blockSignals(False)

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        self.curve.set_theme(theme)

    def try_spacing(self, spacing_mm: float) -> None:
        """Try a spacing read off the curve."""
        if self._now is not None and self._now.planting is not None and self._now.bed is not None:
            self._clear_row()
            choice = tried_choice(self._now.bed, spacing_mm, self._unit())
            self._try_choice(choice, choice, choice.name)

    def use(self) -> None:
        """Make the tried choice the bed's own; undo brings the old one back."""
        choice, now = self._plain, self._now
        if self._tried is None or choice is None or now is None:
            return
        self._tried = None
        self._document.apply(
            tr("Use {words}", words=self._words), edits.use_choice(now.project, choice)
        )

    def keep(self) -> None:
        """Keep the tried choice, or else the present state, to compare later."""
        now = self._now
        if now is None or now.bed is None:
            return
        wanted = self._words if self._tried else tr("as it was")
        name = free_name(wanted, [choice.name for choice in now.project.choices])
        project = edits.keep_choice(now.project, now.bed.name, name, self._tried)
        self._document.apply(tr("Keep {name}", name=name), project)

    def drop(self) -> None:
        """Forget a kept choice."""
        if self._now is not None and self._tried is not None:
            project = edits.drop_choice(self._now.project, self._tried.name)
            self._document.apply(tr("Remove {name}", name=self._tried.name), project)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out the columns of second rank when there is no room for them."""
        super().resizeEvent(event)
        for column in (3, 4):
            self.table.setColumnHidden(column, self.width() < _ALL_COLUMNS)

    def _lay_out(self) -> None:
        left, right = QVBoxLayout(), QVBoxLayout()
        self.curve.hide()
        left.addWidget(self.curve, 1)
        left.addWidget(self._legend)
        left.addStretch(0)
        right.addWidget(self.table, 1)
        row = QHBoxLayout()
        row.addWidget(stack(self.sentence, self.others), 1)
        row.addWidget(self._use)
        row.addWidget(self._keep)
        row.addWidget(self._drop)
        top = QHBoxLayout()
        top.setSpacing(18)
        top.addLayout(left, 4)
        top.addLayout(right, 5)
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 2, 16, 12)
        box.setSpacing(8)
        box.addLayout(top, 1)
        box.addLayout(row)

    def _on_row(self) -> None:
        row = self.table.currentIndex().row()
        results = self._comparison.results if self._comparison else ()
        if 0 < row < len(results):
            self._try(results[row], choice_words(results[row], self._unit()))
        else:
            self._forget()

    def _unit(self) -> Unit:
        return self._now.project.units if self._now else "mm"

    def _try(self, result: ChoiceResult, words: str) -> None:
        self._try_choice(result.choice, result.plain, words)

    def _try_choice(self, choice: Choice, plain: Choice, words: str) -> None:
        """Try a choice; ``plain`` is the same with its wanted plants turned into a spacing."""
        if self._now is None:
            return
        self._tried, self._plain, self._words = choice, plain, words
        self.curve.show_tried(plain.spacing.mm if plain.spacing else None)
        self._show_buttons()
        self._document.preview(edits.use_choice(self._now.project, plain))

    def _forget(self) -> None:
        self._tried = None
        self.curve.show_tried(None)
        self._show_buttons()
        self._document.preview(None)

    def _clear_row(self) -> None:
        self.table.blockSignals(True)
        self.table.setCurrentIndex(QModelIndex())
        self.table.blockSignals(False)

    def _show_buttons(self) -> None:
        tried = self._tried
        kept = self._now.project.choices if self._now else ()
        self._use.setEnabled(tried is not None)
        self._keep.setText(tr("Keep it to compare") if tried else tr("Keep the present state"))
        self._keep.setEnabled(self._comparison is not None and tried not in kept)
        self._drop.setVisible(tried is not None and tried in kept)


def _item(texts: Sequence[str], *, is_now: bool) -> QTreeWidgetItem:
    item = QTreeWidgetItem(list(texts))
    for column in range(1, len(texts)):
        item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    for column in range(len(texts) if is_now else 2):
        font = item.font(column)
        font.setBold(is_now or column == 1)
        item.setFont(column, font)
    return item
