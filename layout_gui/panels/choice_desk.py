"""The inside of What if?: the curve on the left, the choices on the right; looking tries."""

from collections.abc import Callable, Mapping, Sequence
from math import floor
from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QBoxLayout,
    QButtonGroup,
    QHBoxLayout,
    QMenu,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from geometry.compare.choices import ChoiceResult
from geometry.compare.comparison import Comparison
from geometry.drawing.marks import Drawing
from geometry.errors import GeometryError
from geometry.model.planting import Planting
from geometry.model.project import Choice, Project
from geometry.plan import BedPlan
from geometry.running import most_a_week
from geometry.tongue import mark, tr, tr_n
from geometry.units import Unit
from layout_gui.document.document import Document
from layout_gui.panels.choice_pictures import ChoicePictures, Look
from layout_gui.panels.choice_table import PICTURE, ChoiceTable
from layout_gui.panels.choices import (
    Matter,
    choice_words,
    headers,
    other_sentences,
    spacing_sentence,
)
from layout_gui.panels.curve_reading import Reading, choice_of, difference_words
from layout_gui.panels.leaves import Leaves, LeavesBar, course_in
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Press, button, label, side_by_side, stack
from layout_gui.panels.words import free_name
from layout_gui.panels.yield_reading import weighed_words
from layout_gui.project import edits, edits_choices
from layout_gui.screen.theme import Theme
from layout_gui.wording.leaves import assumed_words, growing_sentences

_NARROW: Final = 640
_WORD_LINES: Final = 4
_MATTER_WORDS: Final[dict[Matter, tuple[str, str]]] = {
    "foam": (mark("Plants and foam"), mark("Density, share of the ceiling, least foam")),
    "leaves": (mark("Leaves"), mark("When leaves touch, what they cover, when to move apart")),
    "float": (mark("Float"), mark("Foam above the water and weight of the heaviest raft")),
}
_SEEN_FROM: Final = 4
"""A line of so many steps is worth a look while more are counted."""
_SMALL_PICTURE: Final = QSize(48, 30)


class ChoiceDesk(QWidget):
    """Shows a comparison. ``export_wanted`` carries what to export it as, "pdf" or "csv"."""

    export_wanted = Signal(str)
    said = Signal(str)
    """What is being tried, in words; empty when nothing is."""

    def __init__(
        self,
        document: Document,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        leaves: Leaves | None = None,
    ) -> None:
        super().__init__(parent)
        from layout_gui.panels.curve import StepCurve, legend  # noqa: PLC0415 - loaded when first used

        self._legend_words = legend
        self._document = document
        self._now: Now | None = None
        self._comparison: Comparison | None = None
        self._tried: Choice | None = None
        self._plain: Choice | None = None
        self._trial: Project | None = None
        self._words = self._reading = ""
        self._is_narrow = False
        self._expected: int | None = None
        self._theme = theme
        self.curve = StepCurve(theme)
        self.curve.picked.connect(self.try_reading)
        self.curve.wanted.connect(self.use)
        self._coming = label("", "quiet")
        self._coming.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._legend = label("", "quiet")
        self.sentence = label("")
        self.others = label("", "quiet")
        self.table = ChoiceTable()
        self.table.row_changed.connect(self._on_row)
        self.table.used.connect(self.use)
        self.table.renamed.connect(self._rename)
        self.table.moved.connect(self._move)
        self.table.dropped.connect(self.drop)
        self.table.ordered.connect(self._show_buttons)
        self.table.matters_changed.connect(self._show_matters)
        self.matters = self._make_matters()
        self.pictures = ChoicePictures(self._look(PICTURE), self)
        self.pictures.painted.connect(self.table.show_pictures)
        self.curve.said.connect(self._show_reading)
        self._use = button(tr("Use this choice"), self.use, "primary")
        self._back = button(tr("Go back"), self.go_back, "link")
        self._back.setToolTip(tr("Shows the bed as it stands again (Esc)"))
        self._keep = button(tr("Keep it to compare"), self.keep)
        self._leaves = leaves or Leaves(self)
        self.leaves_bar = LeavesBar(self._leaves)
        self.leaves_bar.setMinimumWidth(260)
        self._leaves_row = side_by_side(label(tr("Leaves on the bed"), "quiet"), self.leaves_bar)
        self._leaves_row.hide()
        self._more = self._make_more()
        self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self.go_back)
        self._escape.setEnabled(False)
        self._lay_out()
        self._show_buttons()

    @property
    def is_complete(self) -> bool:
        """Whether all that was asked for is compared and shown."""
        return self._comparison is not None and self._comparison.is_complete

    @property
    def comparison(self) -> Comparison | None:
        """What is compared so far; None before anything is known."""
        return self._comparison

    @property
    def is_trying(self) -> bool:
        """Whether a choice is tried."""
        return self._tried is not None

    def show_now(self, now: Now) -> None:
        """Take over the units and the bed of this moment."""
        self._now = now
        self._show_leaves()
        if self._tried is not None and self._document.plan.project is now.project:
            self._end_try()
            self.table.pick(None)
        self._show_buttons()
        self._show_sentence()

    def show_busy(self) -> None:
        """Say that the comparison is being worked out."""
        self.show_comparison(None)
        self._show_coming()
        self._show_sentence(tr("Working it out \N{HORIZONTAL ELLIPSIS}"))
        self._show_buttons()

    def show_stopped(self) -> None:
        """Say that no more is worked out, where nothing else stands there yet."""
        self._coming.setText(tr("Stopped before there was enough for a curve."))
        if self._comparison is None or not self._comparison.thresholds:
            self._show_sentence(tr("Stopped; what is known so far stands here."))

    def show_reason(self, reason: str) -> None:
        """Say why there is nothing to compare."""
        self._show_sentence(reason)

    def show_comparison(
        self, comparison: Comparison | None, drawings: Mapping[Planting, Drawing] | None = None
    ) -> None:
        """Show other lines and another curve; ``drawings`` are pictures that came with them."""
        self._comparison = comparison
        is_seen = comparison is not None and _is_worth_a_look(comparison)
        self.curve.setVisible(is_seen)
        self._legend.setVisible(is_seen)
        self._show_coming()
        if comparison is None or self._now is None or self._now.bed is None:
            self._legend.setText("")
            self.table.show_results((), self._unit())
        else:
            now = comparison.results[0]
            self.table.show_results(comparison.results, self._unit())
            self._picture(now, drawings or {})
            self.curve.show_curve(
                comparison.series,
                now_mm=now.planting.spacing.mm,
                now_plants=now.plants,
                own=now.planting.pattern,
                unit=self._unit(),
                threshold=next(iter(comparison.thresholds), None),
            )
            self._legend.setText(self._legend_words(list(comparison.series)))
        self._show_sentence()
        self._show_buttons()

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours from now on."""
        self._theme = theme
        self.curve.set_theme(theme)
        self.pictures.set_look(self._look(self.table.iconSize()))

    def forget_pictures(self) -> None:
        """Another bed is compared: the pictures of this one mean nothing there."""
        self.pictures.forget()
        self.table.forget_pictures()

    # -- trying and using ------------------------------------------------------------------------

    def try_reading(self, reading: Reading) -> None:
        """Try a place of the curve."""
        if self._now is not None and self._now.planting is not None and self._now.bed is not None:
            self.table.pick(None)
            choice = choice_of(self._now.bed, reading, self._unit())
            self._try_choice(choice, choice, choice.name, reading.plants)

    def use(self) -> None:
        """Make the tried choice the bed's own; undo brings the old one back."""
        choice, now = self._plain, self._now
        if self._tried is None or choice is None or now is None:
            return
        words = self._words
        self._end_try()
        self._apply(tr("Use {choice}", choice=words), lambda: edits.use_choice(now.project, choice))

    def go_back(self) -> None:
        """Show the bed as it stands again."""
        if self._tried is not None:
            self._end_try()
            self.table.pick(None)
            self._document.preview(None)

    def keep(self) -> None:
        """Keep the tried choice, or else the present state, to compare later."""
        now = self._now
        if now is None or now.bed is None:
            return
        bed, tried = now.bed.name, self._tried
        wanted = self._words if tried else tr("as it was")
        name = free_name(wanted, [choice.name for choice in now.project.choices])
        self._apply(
            tr("Keep {choice}", choice=name),
            lambda: edits.keep_choice(now.project, bed, name, tried),
        )

    def drop(self) -> None:
        """Forget a kept choice."""
        now, kept = self._now, self._kept()
        if now is not None and kept is not None:
            words = tr("Remove {choice}", choice=kept.name)
            self._apply(words, lambda: edits.drop_choice(now.project, kept.name))

    # -- inside ----------------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw smaller pictures where there is little room."""
        super().resizeEvent(event)
        is_narrow = self.width() < _NARROW
        direction = QBoxLayout.Direction
        self._bottom.setDirection(direction.TopToBottom if is_narrow else direction.LeftToRight)
        self._top.setStretch(1, 4 if is_narrow else 3)
        if is_narrow != self._is_narrow:
            self._is_narrow = is_narrow
            self._show_buttons()
        size = _SMALL_PICTURE if is_narrow else PICTURE
        if self.table.iconSize() != size:
            self.table.setIconSize(size)
            self.pictures.set_look(self._look(size))

    def _lay_out(self) -> None:
        left, right = QVBoxLayout(), QVBoxLayout()
        self.curve.hide()
        left.addWidget(self.curve, 1)
        left.addWidget(self._coming, 1)
        left.addWidget(self._legend)
        right.addWidget(self.table, 1)
        right.addWidget(self._matters_row)
        buttons = side_by_side(self._use, self._back, self._keep, self._more)
        self._bottom = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._bottom.setSpacing(6)
        words = stack(self.sentence, self.others)
        # Room for the longest words, so that the curve keeps its size while it is pointed at.
        words.setMinimumHeight(_WORD_LINES * self.fontMetrics().lineSpacing())
        self._bottom.addWidget(words, 1)
        self._bottom.addWidget(buttons, 0, Qt.AlignmentFlag.AlignBottom)
        top = QHBoxLayout()
        top.setSpacing(18)
        top.addLayout(left, 2)
        top.addLayout(right, 3)
        self._top = top
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 2, 16, 12)
        box.setSpacing(8)
        box.addLayout(top, 1)
        box.addWidget(self._leaves_row)
        self._leaves.changed.connect(self._show_leaves)
        box.addLayout(self._bottom)
        self.setTabOrder(self.curve, self.table)

    def _make_matters(self) -> dict[Matter, Press]:
        """Make a switch for each matter that some columns are about."""
        group, made = QButtonGroup(self), dict[Matter, Press]()
        for matter, (text, tip) in _MATTER_WORDS.items():
            made[matter] = switch = Press(tr(text))
            switch.setProperty("role", "segment")
            switch.setCheckable(True)
            switch.setToolTip(tr(tip))
            switch.clicked.connect(lambda _on, matter=matter: self.table.show_matter(matter))
            group.addButton(switch)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(label(tr("Columns"), "quiet"))
        row.addSpacing(8)
        for switch in made.values():
            row.addWidget(switch)
        row.addStretch(1)
        self._matters_row = QWidget()
        self._matters_row.setLayout(row)
        self._matters_row.hide()
        return made

    def _show_matters(self) -> None:
        """Let a matter be chosen where the columns of all have no room."""
        shown = self.table.open_matters
        self._matters_row.setVisible(bool(shown))
        for matter, switch in self.matters.items():
            switch.setVisible(matter in shown)
            switch.setChecked(matter == self.table.matter)
            ends = (matter == shown[0], matter == shown[-1]) if shown else (False, False)
            place = "first" if ends[0] else "last" if ends[1] else "middle"
            switch.setProperty("place", place)
            switch.style().unpolish(switch)
            switch.style().polish(switch)

    def _make_more(self) -> QToolButton:
        menu = QMenu(self)
        self._for_kept: list[QAction] = []
        for text, keys, slot in (
            (tr("&Rename"), "F2", self.table.rename),
            (tr("Move &up"), "Alt+Up", lambda: self._move(-1)),
            (tr("Move &down"), "Alt+Down", lambda: self._move(1)),
            (tr("Re&move"), "Del", self.drop),
        ):
            # The keys are written, not set: the table answers to them while it has the keyboard.
            action = menu.addAction(f"{text}\t{keys}")
            action.triggered.connect(lambda _on, slot=slot: slot())
            self._for_kept.append(action)
        menu.addSeparator()
        order = menu.addMenu(tr("&Order of the rows"))
        self._orders = QActionGroup(self)
        natural = order.addAction(tr("As they were compared"))
        natural.triggered.connect(lambda: self.table.sort_by(None))
        for column, name in enumerate(headers("mm")):
            words = tr("By name") if column == 0 else tr("Most {column} first", column=name)
            entry = order.addAction(words)
            entry.triggered.connect(
                lambda _on, column=column: self.table.sort_by(column, descending=column > 0)
            )
        for number, entry in enumerate(order.actions()):
            entry.setCheckable(True)
            entry.setData(number - 1)
            self._orders.addAction(entry)
        shown = menu.addAction(tr("&Leaves on the bed"))
        shown.setCheckable(True)
        leaves = self._leaves
        shown.toggled.connect(lambda is_on: leaves.pin(is_on=is_on))
        leaves.changed.connect(lambda: shown.setChecked(leaves.is_pinned))
        menu.addSeparator()
        self._exports = [
            menu.addAction(tr("Export as a &page…"), lambda: self.export_wanted.emit("pdf")),
            menu.addAction(tr("Export as a &table…"), lambda: self.export_wanted.emit("csv")),
        ]
        made = QToolButton()
        made.setText(tr("More \N{BLACK DOWN-POINTING SMALL TRIANGLE}"))
        made.setAccessibleName(tr("More for these choices"))
        made.setToolTip(tr("Rename, move, remove, order, export"))
        made.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        made.setMenu(menu)
        return made

    def _on_row(self, number: int) -> None:
        results = self._comparison.results if self._comparison else ()
        if 0 < number < len(results):
            result = results[number]
            words = choice_words(result, self._unit())
            self._try_choice(result.choice, result.plain, words, result.plants)
        else:
            self._end_try()
            self._document.preview(None)

    def _unit(self) -> Unit:
        return self._now.project.units if self._now else "mm"

    def _kept(self) -> Choice | None:
        """The kept choice that is looked at; None for another one."""
        kept = self._now.project.choices if self._now else ()
        return self._tried if self._tried in kept else None

    def _try_choice(self, choice: Choice, plain: Choice, words: str, plants: int) -> None:
        """Try a choice; ``plain`` is the same with its wanted plants turned into a spacing."""
        if self._now is None:
            return
        try:
            trial = edits.use_choice(self._now.project, plain)
        except GeometryError as error:
            self._show_sentence(str(error))
            return
        self._tried, self._plain, self._words, self._trial = choice, plain, words, trial
        self._expected = plants
        self.curve.show_tried(plain.spacing.mm if plain.spacing else None)
        self._escape.setEnabled(True)
        self._show_buttons()
        self._document.preview(trial)
        self._show_sentence()
        self.said.emit(self.sentence.text())

    def _end_try(self) -> None:
        if self._tried is not None:
            self.said.emit("")
        self._tried = self._trial = None
        self._escape.setEnabled(False)
        self.curve.show_tried(None)
        self._show_buttons()
        self._show_sentence()

    def _rename(self, old: str, new: str) -> None:
        now = self._now
        if now is not None and now.bed is not None:
            bed = now.bed.name
            self._apply(
                tr("Call a choice {choice}", choice=new),
                lambda: edits_choices.rename_choice(now.project, bed, old, new),
            )

    def _move(self, by: int) -> None:
        now, kept = self._now, self._kept()
        if now is not None and kept is not None:
            self.table.sort_by(None)
            self._apply(
                tr("Move {choice}", choice=kept.name),
                lambda: edits_choices.move_choice(now.project, kept.bed, kept.name, by),
            )
            self._look_at(kept)

    def _look_at(self, choice: Choice) -> None:
        """Look at the row of a choice again after the rows have moved."""
        results = self._comparison.results if self._comparison else ()
        for number, result in enumerate(results):
            if number and result.choice == choice:
                self.table.setCurrentItem(self.table.item_of(number))

    def _apply(self, words: str, make: Callable[[], Project]) -> None:
        try:
            project = make()
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(words, project)

    def _picture(self, now: ChoiceResult, drawings: Mapping[Planting, Drawing]) -> None:
        """Hand new drawings to the painter; of the present state its plan is at hand."""
        moment = self._now
        if moment is None or moment.bed is None:
            return
        settled = self._document.settled
        planned = next((bed for bed in settled.beds if bed.bed == moment.bed), None)
        wanted: dict[Planting, Drawing | BedPlan] = dict(drawings)
        if planned is not None:
            wanted.setdefault(now.planting, planned)
        self.pictures.add(wanted)

    def _look(self, size: QSize) -> Look:
        return Look(size, self.devicePixelRatioF(), self._theme)

    def _show_reading(self, sentence: str) -> None:
        """Say the place pointed at on the curve instead of what stands there else."""
        self._reading = sentence
        self._show_sentence()

    def _show_sentence(self, words: str = "") -> None:
        """Say what is tried; else how far the present count goes; else why nothing is said."""
        comparison, unit = self._comparison, self._unit()
        self.others.setText("")
        if words:
            self.sentence.setText(words)
        elif self._reading and not self._is_read():
            self.sentence.setText(self._reading)
        elif self._tried is not None:
            self.sentence.setText(self._try_words())
            known = (self._leaf_words(), self._weighed_words())
            self.others.setText("  ".join(filter(None, known)))
        elif self._now is not None and self._now.planting is None:
            self.sentence.setText(tr("Plant this bed, and other spacings stand here side by side."))
        elif comparison is not None:
            told = spacing_sentence(comparison.thresholds, unit)
            busy = "" if comparison.is_complete else tr("Working it out \N{HORIZONTAL ELLIPSIS}")
            self.sentence.setText(told or busy)
            others = (
                other_sentences(comparison.thresholds, unit),
                self._sheet_words(),
                self._weighed_words(),
            )
            self.others.setText("  ".join(filter(None, others)))
        self.others.setVisible(bool(self.others.text()))

    def _show_coming(self) -> None:
        """Say in the place of the curve that it is on its way, and how far the work is."""
        is_planted = self._now is not None and self._now.planting is not None
        self._coming.setVisible(is_planted and self.curve.isHidden())
        share = self._comparison.share if self._comparison else 0.0
        self._coming.setText(
            tr("Counting plants at other spacings: {share} done", share=f"{share:.0%}")
        )

    def _show_leaves(self) -> None:
        """Let leaves be chosen here while they are drawn at every station."""
        self._leaves_row.setVisible(self._leaves.is_pinned)
        if self._now is not None and self._leaves.is_pinned:
            self.leaves_bar.show_now(self._now)

    def _is_read(self) -> bool:
        """Whether the place pointed at is the one that is tried."""
        at, tried = self.curve.cursor_at, self._plain
        return (
            self._tried is not None
            and at is not None
            and tried is not None
            and tried.spacing is not None
            and tried.spacing.exact == at.spacing
            and tried.pattern in {None, at.pattern}
        )

    def _try_words(self) -> str:
        """Say what is tried, what it gives, and how to go back."""
        now, plants = self._now, self._expected or 0
        if now is not None and now.bed_plan is not None and now.plan.project is self._trial:
            plants = now.bed_plan.plants
        comparison = self._comparison
        more = plants - comparison.results[0].plants if comparison else 0
        return tr_n(
            "Trying {choice}: {n} plant{difference}. Esc goes back, nothing is changed yet.",
            "Trying {choice}: {n} plants{difference}. Esc goes back, nothing is changed yet.",
            plants,
            choice=self._words,
            difference=difference_words(more),
        )

    def _leaf_words(self) -> str:
        """Say how leaves close with the choice that is looked at, and what runs bring."""
        results = self._comparison.results if self._comparison else ()
        row = self.table.picked
        if not 0 <= row < len(results) or self._now is None:
            return ""
        grown = results[row].growing
        leaves = (
            (*growing_sentences(grown), assumed_words(course_in(self._now)))
            if grown is not None
            else ()
        )
        return " ".join((*leaves, *self._run_words(results[row])))

    def _run_words(self, result: ChoiceResult) -> Sequence[str]:
        """Say what is picked a week with a choice, where something is sown in its bed."""
        now = self._now
        if now is None or now.bed is None:
            return ()
        most = most_a_week(now.project.runs, now.bed.name, result.rooms)
        if most is None:
            return ()
        return (tr("What is sown here brings up to {n} a week.", n=floor(most)),)

    def _weighed_words(self) -> str:
        """Say what plants weighed at the density in sight, once its plan is made."""
        now = self._now
        shown = self._trial if self._tried is not None and now is not None else None
        if now is None or now.plan.project is not (shown or now.project):
            return ""
        return weighed_words(now)

    def _sheet_words(self) -> str:
        """Say what the rafts take, which no choice here changes; empty where nothing is known."""
        plan = self._document.settled
        if not plan.cut.sheet_count or plan.cut.unplaced:
            return ""
        return tr_n(
            "Each of them takes the same {n} sheet.",
            "Each of them takes the same {n} sheets.",
            plan.cut.sheet_count,
        )

    def _show_buttons(self) -> None:
        tried, kept = self._tried, self._kept()
        self._use.setEnabled(tried is not None)
        self._back.setVisible(tried is not None)
        self._use.setText(tr("Use it") if self._is_narrow else tr("Use this choice"))
        self._keep.setText(tr("Keep it to compare") if tried else tr("Keep the present state"))
        self._keep.setEnabled(self._comparison is not None and kept is None)
        for action in self._for_kept:
            action.setEnabled(kept is not None)
        for export in self._exports:
            export.setEnabled(self._comparison is not None)
        by = self.table.sorted_by
        self._orders.actions()[0 if by is None else by[0] + 1].setChecked(True)


def _is_worth_a_look(comparison: Comparison) -> bool:
    """Whether enough is counted for a curve: two ends alone would be a slope that is not there."""
    if not comparison.series:
        return False
    most = max(map(len, comparison.series.values()))
    return comparison.is_complete or bool(comparison.thresholds) or most >= _SEEN_FROM
