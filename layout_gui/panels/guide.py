"""The guide: a few questions beside the bed, each answer a step that the bed shows at once."""

from dataclasses import replace
from functools import cached_property
from itertools import pairwise
from typing import Final, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QLabel,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from geometry.checks.finding import Finding
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.document.document import Document
from layout_gui.panels.guide_foam import CropPage, DonePage, FoamPage, OfferPage
from layout_gui.panels.guide_pages import InsidePage, LevelsPage, Page, ShapePage
from layout_gui.panels.guide_talk import Talk
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, button, label
from layout_gui.panels.station_facts import home_of, open_findings
from layout_gui.panels.stations import StationName
from layout_gui.project import edits
from layout_gui.project.first import QUESTIONS, is_usual, open_question
from layout_gui.screen.theme import Theme
from layout_gui.wording.cures import cure_label, no_cure_reason
from layout_gui.wording.findings import finding_text, finding_title

P = TypeVar("P", bound=Column)

DONE: Final = "done"
BEFORE_FOAM: Final = ("shape", "inside", "levels")
"""The questions about the bed alone."""
_STATIONS: Final[dict[str, StationName]] = {
    "shape": "Bed", "inside": "Bed", "levels": "Bed", "foam": "Rafts", "crop": "Holes",
    DONE: "Holes",
}  # fmt: skip
_RANK: Final = {"problem": 0, "question": 1}


_LEAST_CHARS: Final = 36
"""So many letters fit beside each other at any size of text."""


class Guide(QWidget):
    """One question at a time. Enter goes on, Escape leaves; what is answered stays."""

    left = Signal()
    went_to = Signal(str)
    """The station that the question belongs to."""

    shape_picked = Signal(str)
    measuring_wanted = Signal(str)
    unit_wanted = Signal(object)
    save_wanted = Signal()
    look_wanted = Signal()
    make_wanted = Signal()

    def __init__(self, document: Document, theme: Theme, unit: Unit) -> None:
        super().__init__()
        self._document = document
        self._talk = Talk(unit)
        self._made: dict[str, Column] = {}
        self._now: Now | None = None
        self.setAccessibleName(tr("Guide"))
        self.setMinimumWidth(_LEAST_CHARS * self.fontMetrics().averageCharWidth())
        self._theme = theme
        self._stack = QStackedWidget()
        self._at: str = "shape"
        self._step = label("", "quiet")
        self._fault = label("", "warn")
        self._fault.setObjectName("guide-fault")
        self._follows = label("")
        self._follows.setObjectName("guide-follows")
        self._asked = label("", "warn")
        self._asked.setObjectName("guide-asked")
        self._finding: Finding | None = None
        self.cure = button("", self._take_cure)
        self.cure.setObjectName("guide-cure")
        self.next = button(tr("&Next question"), self.go_on, "primary")
        self.back = button(tr("Bac&k"), self.go_back)
        self.leave = button(tr("&Leave the guide"), self.left.emit, "link")
        self.leave.setToolTip(tr("What is answered stays; Help, Guide comes back here (Esc)"))
        self._lay_out()

    @cached_property
    def shape_page(self) -> ShapePage:
        """The question about the shape."""
        page = self._put(ShapePage(self._document, self._talk, self._theme), "shape")
        page.picked.connect(self.shape_picked)
        page.unit_chosen.connect(self.unit_wanted)
        page.measuring_wanted.connect(self.measuring_wanted)
        return page

    @cached_property
    def inside_page(self) -> InsidePage:
        """The question about the inside measures."""
        return self._put(InsidePage(self._document, self._talk, self._theme), "inside")

    @cached_property
    def levels_page(self) -> LevelsPage:
        """The question about the walls and the water."""
        return self._put(LevelsPage(self._document, self._talk), "levels")

    @cached_property
    def foam_page(self) -> FoamPage:
        """The question about the boards."""
        return self._put(FoamPage(self._document, self._talk), "foam")

    @cached_property
    def crop_page(self) -> CropPage:
        """The question about the crop."""
        return self._put(CropPage(self._document, self._talk), "crop")

    @cached_property
    def done_page(self) -> DonePage:
        """What stands at the end."""
        page = self._put(DonePage(self._document, self._talk), DONE)
        page.save_wanted.connect(self.save_wanted)
        page.look_wanted.connect(self.look_wanted)
        page.findings_wanted.connect(self.look_wanted)
        page.make_wanted.connect(self.make_wanted)
        page.question_wanted.connect(self.go_to)
        return page

    @property
    def unit(self) -> Unit:
        """The unit that lengths are typed in."""
        return self._talk.unit if self._now is None else self._talk.units(self._now)

    @property
    def at(self) -> str:
        """The question that is shown, or "done"."""
        return self._at

    @property
    def fault(self) -> str:
        """What stands in the way of going on."""
        return self._fault.text()

    @property
    def asked(self) -> str:
        """What is odd or in the way, as a question or a sentence."""
        return self._asked.text()

    def open(self, now: Now) -> None:
        """Begin at the first question that is not answered yet."""
        if "levels" in self._made:
            self.levels_page.forget()
        self.go_to(open_question(now.project, now.bed) or DONE, now)

    def go_to(self, place: str, now: Now | None = None) -> None:
        """Show a question, with the keyboard in it."""
        self._now = now if now is not None else self._now
        if self._now is None:
            return
        is_other = place != self._at
        self._at = place
        self._say("")
        page = self._page(place)
        self._stack.setCurrentWidget(page)
        self.show_now(self._now)
        self.went_to.emit(_STATIONS[place])
        if isinstance(page, OfferPage) and (wanted := page.proposed(self._now)):
            self._document.preview(wanted)
        page.verticalScrollBar().setValue(0)
        if is_other:
            self.begin()

    def begin(self) -> None:
        """Put the keyboard where the answer goes."""
        page = self._page(self._at)
        page.begin()
        focus = QApplication.focusWidget()
        if focus is None or not page.isAncestorOf(focus):
            self.next.setFocus(Qt.FocusReason.TabFocusReason)  # there is nothing to answer

    def show_now(self, now: Now) -> None:
        """Show this moment; without a bed only the first question makes sense."""
        self._now = now
        if now.bed is None and self._at != "shape":
            self.go_to("shape", now)
            return
        place = self._at
        number = QUESTIONS.index(place) + 1 if place in QUESTIONS else 0
        words = tr("Question {n} of {all}", n=number, all=len(QUESTIONS))
        self._step.setText(words if number else tr("All questions answered"))
        self.back.setEnabled(place != "shape")
        self.next.setVisible(place != DONE)
        page = self._page(place)
        page.show_now(now)
        self._tell(self._follows, page.follows(now) if isinstance(page, Page) else "")
        self._ask(now)

    def go_on(self) -> None:
        """Take the answer that is shown and go to the next question."""
        page = self._page(self._at)
        if self._now is None or not isinstance(page, Page):
            return
        fault = page.answer(self._now)
        self._say(fault)
        # A plan that takes its time comes later; the project is there at once.
        document = self._document
        self._now = replace(self._now, project=document.project, plan=document.plan)
        if not fault:
            at = QUESTIONS.index(page.question) + 1
            self.go_to(QUESTIONS[at] if at < len(QUESTIONS) else DONE)

    def go_back(self) -> None:
        """Go back to the question before."""
        order = (*QUESTIONS, DONE)
        self.let_go()
        self.go_to(order[max(order.index(self._at) - 1, 0)])

    def let_go(self) -> None:
        """Show the project as it is, without what was only offered."""
        self._document.preview(None)

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        for page in self._made.values():
            if isinstance(page, (ShapePage, InsidePage)):
                page.set_theme(theme)

    def choose_unit(self, unit: object) -> None:
        """Type lengths in another unit from now on; none of them changes."""
        chosen: Unit = "in" if unit == "in" else "cm" if unit == "cm" else "mm"
        self._talk.unit = chosen
        if self._now is None:
            return
        if self._now.bed is None:
            self.show_now(self._now)
        else:
            project = edits.set_units(self._now.project, chosen)
            self._document.apply(tr("Lengths in {unit}", unit=chosen), project)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes on, Escape leaves."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self._at != DONE:
            self.go_on()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _ask(self, now: Now) -> None:
        """Ask about what is odd or in the way at this question, with the change that clears it."""
        self._finding = finding = first_finding(self._at, now)
        cure, unit = finding.cure if finding else None, now.project.units
        words = ""
        if finding is not None:
            title = finding_title(finding, unit)
            end = "" if title.endswith("?") else "."
            words = f"{title}{end} {finding_text(finding, unit)} {no_cure_reason(finding)}".rstrip()
        self._asked.setText(words)
        self._asked.setVisible(bool(words) and not self.fault)
        self.cure.setText(cure_label(cure, unit) if cure else "")
        self.cure.setVisible(cure is not None)

    def _take_cure(self) -> None:
        now, finding = self._now, self._finding
        if now is None or finding is None or finding.cure is None:
            return
        page, document = self._page(self._at), self._document
        if isinstance(page, OfferPage):
            page.answer(now)  # a step of its own: what is cured was only on offer
        words = cure_label(finding.cure, now.project.units)
        document.apply(words, edits.apply_cure(document.project, now.plan, finding))
        self.begin()

    def _tell(self, words: QLabel, text: str) -> None:
        words.setText(text)
        words.setVisible(bool(text))

    def _page(self, place: str) -> Page | DonePage:
        """Return a page; it is made now if it was not seen before."""
        match place:
            case "shape":
                return self.shape_page
            case "inside":
                return self.inside_page
            case "levels":
                return self.levels_page
            case "foam":
                return self.foam_page
            case "crop":
                return self.crop_page
            case _:
                return self.done_page

    def _put(self, page: P, place: str) -> P:
        self._made[place] = page
        self._stack.addWidget(page)
        # What is made later comes later by Tab; the buttons at the foot are to come last.
        order = [*_reached_by_tab(page)[-1:], self.cure, self.next, self.back, self.leave]
        for before, after in pairwise(order):
            self.setTabOrder(before, after)
        return page

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        self._step.setContentsMargins(20, 14, 20, 0)
        box.addWidget(self._step)
        box.addWidget(self._stack, 1)
        foot = QFrame()
        foot.setProperty("role", "last-line")
        column = QVBoxLayout(foot)
        column.setContentsMargins(20, 10, 20, 10)
        column.setSpacing(6)
        for part in (self._follows, self._asked, self.cure, self._fault):
            column.addWidget(part)
        column.addWidget(self.next)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.back)
        row.addWidget(self.leave)
        row.addStretch(1)
        column.addLayout(row)
        box.addWidget(foot)

    def _say(self, fault: str) -> None:
        self._tell(self._fault, f"! {fault}" if fault else "")
        self._asked.setVisible(bool(self._asked.text()) and not fault)  # it says the same


def first_finding(place: str, now: Now) -> Finding | None:
    """Return what is to be settled first of all that has been answered up to a question."""
    if place == "shape" or now.bed is None or is_usual(now.bed.outline):
        return None
    order = list(_STATIONS)
    asked = {_STATIONS[each] for each in order[: order.index(place) + 1]}
    if "Rafts" in asked:
        asked.add("Make")
    found = [
        each
        for each in open_findings(now)
        if each.severity in _RANK and home_of(each) in asked and each.bed in {"", now.bed.name}
    ]
    return min(found, key=lambda each: _RANK[each.severity], default=None)


def _reached_by_tab(page: QWidget) -> list[QWidget]:
    """What takes the keyboard by Tab on a page, in order; lists that drop down are windows."""
    return [
        part
        for part in page.findChildren(QWidget)
        if part.focusPolicy() & Qt.FocusPolicy.TabFocus
        and part.focusProxy() is None
        and part.window() is page.window()
    ]
