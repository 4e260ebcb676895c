"""Findings as short paragraphs: what, where, how far off, and the change that clears it."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QApplication,
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from geometry.checks.finding import Finding
from geometry.plan import Plan
from geometry.tongue import mark, tr, tr_n
from geometry.units import Unit
from layout_gui.panels.finding_groups import FindingGroup, group_title, grouped, kind_of
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, Press, button, label, side_by_side
from layout_gui.panels.station_facts import open_findings
from layout_gui.panels.tips import plain_tip
from layout_gui.wording.cures import cure_label, no_cure_reason
from layout_gui.wording.findings import finding_text, finding_title

MOST_SHOWN: Final = 40
"""So many cards are shown at first, and again as many each time more are asked for."""
_LONGEST: Final = 34
"""Longer words of a cure stand in its tip."""
_SIGNS: Final = {"problem": "!", "question": "?", "note": "i"}
_SIGN_WORDS: Final = {
    "problem": mark("Problem"),
    "question": mark("Question"),
    "note": mark("Note"),
}
_ENTER: Final = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space})


class _Card(QFrame):
    """A paragraph that takes the keyboard: Enter or a click shows its place."""

    shown = Signal(object)
    walked = Signal(int)
    """Up or Down was pressed: the keyboard wants the card before (-1) or after (1)."""

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(tr("Show the place"))
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(13, 10, 13, 8)
        self.box.setSpacing(2)

    @property
    def finding(self) -> Finding:
        """The finding whose place is shown."""
        raise NotImplementedError

    def step(self, by: int) -> None:
        """Go to the next finding of the same kind, if there are several."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the press, so that the release comes here too."""
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Show the place of the finding."""
        event.accept()
        self.shown.emit(self.finding)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter shows the place, Left and Right step, Up and Down go to other cards."""
        key = Qt.Key(event.key())
        if key in _ENTER:
            self.shown.emit(self.finding)
        elif key in {Qt.Key.Key_Left, Qt.Key.Key_Right}:
            self.step(1 if key == Qt.Key.Key_Right else -1)
        elif key in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self.walked.emit(1 if key == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)


class FindingCard(_Card):
    """One finding, or many of one kind with one of them in sight.

    The same card shows other findings later: making widgets anew would take longer than a drag
    leaves time for.
    """

    cured = Signal(object)
    left = Signal(object)
    all_cured = Signal(object)
    all_left = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.group: FindingGroup | None = None
        self._at = 0
        self._plan: Plan | None = None
        self._unit: Unit = "mm"
        self._head = label("", "warn")
        self._back = button("\N{BLACK LEFT-POINTING SMALL TRIANGLE}", lambda: self.step(-1), "link")
        self._back.setAccessibleName(tr("The one before"))
        self._count = label("", "quiet")
        self._count.setWordWrap(False)
        self._next = button("\N{BLACK RIGHT-POINTING SMALL TRIANGLE}", lambda: self.step(1), "link")
        self._next.setAccessibleName(tr("The next one"))
        self._stepper = side_by_side(self._back, self._count, self._next)
        self._one = label("", "heading")
        self._text = label("")
        self._why = label("", "quiet")
        self.cure = button("", lambda: self.cured.emit(self.finding), "link")
        self.leave = button(tr("Leave it, with a note…"), self._leave, "link")
        self.leave.setToolTip(tr("Leave it as it is, with a note of why"))
        self.cure_all = button("", lambda: self.all_cured.emit(self._findings()), "link")
        self.leave_all = button("", lambda: self.all_left.emit(self._findings()), "link")
        self.leave_all.setToolTip(tr("Leave all of them as they are, with one note"))
        for part in (self._head, self._stepper, self._one, self._text, self._why):
            self.box.addWidget(part)
        for parts in ((self.cure, self.leave), (self.cure_all, self.leave_all)):
            self.box.addWidget(side_by_side(*parts))

    @property
    def finding(self) -> Finding:
        """The finding in sight."""
        return self._findings()[self._at]

    def show_group(self, group: FindingGroup, plan: Plan, unit: Unit) -> None:
        """Show these findings; of the same kind as before, the same one stays in sight."""
        before = self.group
        if before is None or before.name != group.name:
            self._at = 0
        elif not group.is_single:
            seen = before.findings[self._at].key
            keys = [each.key for each in group.findings]
            self._at = keys.index(seen) if seen in keys else min(self._at, len(keys) - 1)
        self.group, self._plan, self._unit = group, plan, unit
        is_note = group.first.severity == "note"
        role = "note" if is_note else "finding"
        if self.property("role") != role:
            self.setProperty("role", role)
            self._head.setProperty("role", "heading" if is_note else "warn")
            for widget in (self, self._head):
                widget.style().unpolish(widget)
                widget.style().polish(widget)
        self._show()

    def step(self, by: int) -> None:
        """Show the next finding of the group and its place, past the last one the first."""
        many = self._findings()
        if len(many) > 1:
            self._at = (self._at + by) % len(many)
            self._show()
            self.shown.emit(self.finding)

    def go_to(self, finding: Finding) -> None:
        """Bring one finding of the group into sight."""
        self._at = self._findings().index(finding)
        self._show()

    def _show(self) -> None:
        many, finding, unit = self._findings(), self.finding, self._unit
        is_group = len(many) > 1
        title, text = finding_title(finding, unit), finding_text(finding, unit, self._plan)
        head = group_title(many, unit)
        self._head.setText(f"{_SIGNS[finding.severity]}  {head}")
        place = tr("{at} of {n}", at=self._at + 1, n=len(many)) if is_group else ""
        self._count.setText(place)
        self._stepper.setVisible(is_group)
        where = title
        if is_group and len({each.bed for each in many}) > 1:
            where = tr("{bed}: {title}", bed=finding.bed, title=title)
        _say(self._one, where if is_group else "")
        _say(self._text, text)
        why = no_cure_reason(finding)
        _say(self._why, why)
        words = tr("{kind}: {title}", kind=tr(_SIGN_WORDS[finding.severity]), title=head)
        said = [f"{place}, {title}" if is_group else "", text, why]
        sentence = ". ".join(part.rstrip(".") for part in (words, *said) if part)
        self.setAccessibleName(f"{sentence}.")
        self.setAccessibleDescription(
            tr("Enter shows the place; Left and Right go through them.")
            if is_group
            else tr("Enter shows the place.")
        )
        self._show_buttons(many, finding)

    def _show_buttons(self, many: Sequence[Finding], finding: Finding) -> None:
        is_group = len(many) > 1
        self.cure.setVisible(finding.cure is not None)
        if finding.cure is not None:
            words = cure_label(finding.cure, self._unit)
            self.cure.setText(
                words if len(words) <= _LONGEST and not is_group else tr("Make it so")
            )
            self.cure.setToolTip(plain_tip(words))
            self.cure.setAccessibleName(words)
        self.leave.setText(tr("Leave it…") if is_group else tr("Leave it, with a note…"))
        cures = [each for each in many if each.cure is not None] if is_group else []
        self.cure_all.setVisible(len(cures) > 1)
        self.cure_all.setText(tr("Make all {n} so", n=len(cures)))
        self.cure_all.setToolTip(
            tr("Makes each one's change, in one step; what stays open is listed")
        )
        self.leave_all.setVisible(is_group)
        self.leave_all.setText(tr("Leave all {n}…", n=len(many)))

    def _findings(self) -> tuple[Finding, ...]:
        return self.group.findings if self.group else ()

    def _leave(self) -> None:
        self.left.emit(self.finding)


class LeftCard(_Card):
    """Findings of one kind that were left with the same note."""

    def __init__(
        self,
        findings: tuple[Finding, ...],
        note: str,
        unit: Unit,
        reopen: Callable[[tuple[str, ...]], object],
    ) -> None:
        super().__init__()
        self._findings, self._at = findings, 0
        self.setProperty("role", "note")
        title = group_title(findings, unit)
        words = tr("Left as it is: {note}", note=note)
        self.setAccessibleName(f"{title}. {words}")
        self.setAccessibleDescription(tr("Enter shows the place; Left and Right go through them."))
        keys = tuple(finding.key for finding in findings)
        self.again = button(tr("Look again"), lambda: reopen(keys), "link")
        self.again.setAccessibleName(tr("Look again: {title}", title=title))
        self.box.addWidget(label(title, "heading"))
        self.box.addWidget(label(words, "quiet"))
        self.box.addWidget(self.again, 0, Qt.AlignmentFlag.AlignLeft)

    @property
    def finding(self) -> Finding:
        """The finding whose place is shown."""
        return self._findings[self._at]

    def step(self, by: int) -> None:
        """Show the place of the next one."""
        if len(self._findings) > 1:
            self._at = (self._at + by) % len(self._findings)
            self.shown.emit(self.finding)


class FindingsPanel(Column):
    """The findings that are open, the worst first, or those left with a note."""

    emptied = Signal(bool)
    """Whether there is nothing to list any more, or something again."""

    place_wanted = Signal(object)
    cure_wanted = Signal(object)
    leave_wanted = Signal(object)
    cures_wanted = Signal(object)
    leaves_wanted = Signal(object)
    reopen_wanted = Signal(object)
    """The keys of findings, a tuple."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Findings"), parent)
        self.cards: list[FindingCard] = []
        self.reopeners: dict[str, QPushButton] = {}
        self._left: list[LeftCard] = []
        self._now: Now | None = None
        self._shown: object = None
        self._is_empty: bool | None = None
        self._most = MOST_SHOWN
        self._groups: list[FindingGroup] = []
        self._spare: list[FindingCard] = []
        self._last: Finding | None = None
        self.open_filter = self._make_filter("first")
        self.left_filter = self._make_filter("last")
        self.open_filter.setChecked(True)
        self._filters = QButtonGroup(self)
        self._filters.addButton(self.open_filter)
        self._filters.addButton(self.left_filter)
        self._filters.buttonToggled.connect(lambda _b, on: self._fill() if on else None)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.open_filter)
        row.addWidget(self.left_filter)
        row.addStretch(1)
        self._filter_row = QWidget()
        self._filter_row.setLayout(row)
        self._inside = QWidget()
        self._list = QVBoxLayout(self._inside)
        self._list.setContentsMargins(0, 0, 0, 0)
        self._list.setSpacing(8)
        self._nothing = label("", "quiet")
        self.more = button("", self._show_more, "link")
        self._stale = label("", "quiet")
        self.forget = button(tr("Forget these notes"), self._forget_stale, "link")
        for part in (self._filter_row, self._inside, self._nothing, self.more, self._stale,
                     self.forget):  # fmt: skip
            self.add(part)

    @property
    def shows_left(self) -> bool:
        """Whether those left with a note are listed instead of the open ones."""
        return self.left_filter.isChecked()

    def show_now(self, now: Now) -> None:
        """Show the findings of this moment; nothing is touched while they stay the same."""
        is_known = now.bed_plan is not None
        state = (
            now.plan.findings,
            now.project.accepted,
            now.project.units,
            bool(now.bed),
            is_known,
        )
        if state == self._shown:
            return
        self._shown, self._now = state, now
        found = open_findings(now)
        self._groups = grouped(found)
        self.set_title(tr("Findings"), _summary(found, now))
        is_empty = not found and not now.project.accepted
        if is_empty != self._is_empty:
            self._is_empty = is_empty
            self.emptied.emit(is_empty)
        self._fill()

    def step(self, by: int) -> None:
        """Show the place of the next open finding (-1: of the one before), past the last the first.

        It starts behind the finding that was shown last.
        """
        order = [finding for group in self._groups for finding in group.findings]
        if not order:
            return
        at = order.index(self._last) + by if self._last in order else min(by, 0)
        finding = order[at % len(order)]
        self.open_filter.setChecked(True)
        number = next(n for n, g in enumerate(self._groups) if finding in g.findings)
        if number >= self._most:
            self._most = number + 1
            self._fill()
        self.cards[number].go_to(finding)
        self.ensureWidgetVisible(self.cards[number])
        self._show_place(finding)

    def _make_filter(self, place: str) -> QPushButton:
        made = Press()
        made.setProperty("role", "segment")
        made.setProperty("place", place)
        made.setCheckable(True)
        return made

    def _fill(self) -> None:
        now = self._now
        if now is None:
            return
        unit = now.project.units
        by_key = {finding.key: finding for finding in now.plan.findings}
        accepted = [each for each in now.project.accepted if each.key in by_key]
        stale = len(now.project.accepted) - len(accepted)
        open_ones = sum(len(group.findings) for group in self._groups)
        self.open_filter.setText(tr("Open {n}", n=open_ones))
        self.left_filter.setText(tr("Left {n}", n=len(accepted)))
        self._filter_row.setVisible(bool(now.project.accepted))
        if not now.project.accepted and self.shows_left:
            self.open_filter.setChecked(True)
            return
        focused = self._focused()
        self._show_cards([] if self.shows_left else self._groups[: self._most], now)
        kinds: dict[object, list[Finding]] = {}
        notes: dict[object, str] = {}
        for each in accepted if self.shows_left else ():
            name = kind_of(by_key[each.key]), each.note
            kinds.setdefault(name, []).append(by_key[each.key])
            notes[name] = each.note
        self._show_left([(tuple(many), notes[name]) for name, many in kinds.items()], unit)
        rest = len(self._groups) - self._most
        self.more.setVisible(rest > 0 and not self.shows_left)
        self.more.setText(tr("Show {n} more of {rest}", n=min(rest, MOST_SHOWN), rest=rest))
        nothing = ""
        if self.shows_left and not accepted:
            nothing = tr("Nothing is left as it is.")
        elif not self.shows_left and not open_ones and accepted:
            nothing = tr_n(
                "{n} thing is left as it is, with a note.",
                "{n} things are left as they are, with a note.",
                len(accepted),
            )
        _say(self._nothing, nothing)
        self.forget.setVisible(self.shows_left and stale > 0)
        _say(
            self._stale,
            tr_n("{n} note on what is there no more.", "{n} notes on what is there no more.", stale)
            if self.shows_left and stale
            else "",
        )
        self._refocus(focused)

    def _show_cards(self, groups: Sequence[FindingGroup], now: Now) -> None:
        while len(self.cards) > len(groups):
            card = self.cards.pop()
            card.hide()
            self._spare.append(card)
        while len(self.cards) < len(groups):
            card = self._spare.pop() if self._spare else self._new_card()
            card.show()
            self.cards.append(card)
        for card, group in zip(self.cards, groups, strict=True):
            card.show_group(group, now.plan, now.project.units)

    def _new_card(self) -> FindingCard:
        card = FindingCard()
        card.shown.connect(self._show_place)
        card.walked.connect(partial(self._walk, card))
        card.cured.connect(self.cure_wanted)
        card.left.connect(self.leave_wanted)
        card.all_cured.connect(self.cures_wanted)
        card.all_left.connect(self.leaves_wanted)
        self._list.insertWidget(len(self.cards), card)
        return card

    def _show_left(self, kinds: Sequence[tuple[tuple[Finding, ...], str]], unit: Unit) -> None:
        for old in self._left:
            self._list.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._left, self.reopeners = [], {}
        for findings, note in kinds:
            card = LeftCard(findings, note, unit, self.reopen_wanted.emit)
            card.shown.connect(self._show_place)
            card.walked.connect(partial(self._walk, card))
            self._left.append(card)
            self._list.addWidget(card)
            for finding in findings:
                self.reopeners[finding.key] = card.again

    def _show_place(self, finding: Finding) -> None:
        self._last = finding
        self.place_wanted.emit(finding)

    def _walk(self, card: _Card, by: int) -> None:
        order: list[_Card] = [*self.cards, *self._left]
        at = order.index(card) + by
        if 0 <= at < len(order):
            order[at].setFocus(Qt.FocusReason.TabFocusReason)
            self.ensureWidgetVisible(order[at])

    def _focused(self) -> int | None:
        """The number of the card that has the keyboard; None when it is elsewhere."""
        holder = QApplication.focusWidget()
        for at, card in enumerate([*self.cards, *self._left]):
            if holder is not None and (holder is card or card.isAncestorOf(holder)):
                return at
        return None

    def _refocus(self, at: int | None) -> None:
        """Leave the keyboard in the list when its card has gone."""
        order: list[_Card] = [*self.cards, *self._left]
        if at is None or not order:
            return
        holder = QApplication.focusWidget()
        if holder is None or not (self._inside.isAncestorOf(holder) and holder.isVisible()):
            order[min(at, len(order) - 1)].setFocus()

    def _show_more(self) -> None:
        self._most += MOST_SHOWN
        self._fill()

    def _forget_stale(self) -> None:
        if self._now is not None:
            keys = {finding.key for finding in self._now.plan.findings}
            accepted = self._now.project.accepted
            self.reopen_wanted.emit(tuple(each.key for each in accepted if each.key not in keys))


def _say(where: QLabel, words: str) -> None:
    where.setText(words)
    where.setVisible(bool(words))


def _summary(found: Sequence[Finding], now: Now) -> str:
    if now.bed is None:
        return ""
    if now.bed_plan is None:
        return tr("Not known before it is worked out.")
    open_ones = [finding for finding in found if finding.severity != "note"]
    if not open_ones:
        return tr("Nothing left to settle before cutting.")
    return tr_n(
        "{n} thing to settle before cutting.",
        "{n} things to settle before cutting.",
        len(open_ones),
    )
