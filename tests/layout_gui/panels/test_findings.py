"""Findings as paragraphs with their cures."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import get_args

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from geometry.checks.finding import Code, Cure, Finding, LeaveOut, MoveHole, Severity
from geometry.model.project import Accepted, Project
from layout_gui.panels.finding_groups import GROUP_FROM, group_title
from layout_gui.panels.findings import MOST_SHOWN, FindingsPanel
from layout_gui.panels.now import Now
from layout_gui.wording.cures import no_cure_reason
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project, now_of

pytestmark = OFFSCREEN

DOCUMENT_PROJECT = make_project()


def edge(number: int = 1, severity: Severity = "problem", cure: Cure | None = None) -> Finding:
    return Finding(
        "edge", severity, "Bench", "R1", (f"A{number}",), amount_mm=50.0, limit_mm=60.0, cure=cure,
        place=(70.0, 70.0),
    )  # fmt: skip


def now_with(findings: Iterable[Finding], accepted: tuple[Accepted, ...] = ()) -> Now:
    document = make_document(replace(DOCUMENT_PROJECT, accepted=accepted))
    return replace(now_of(document), plan=replace(document.plan, findings=tuple(findings)))


def make_panel(qtbot: QtBot, now: Now) -> FindingsPanel:
    panel = FindingsPanel()
    qtbot.addWidget(panel)
    panel.show_now(now)
    return panel


def heard(signal: object) -> list[object]:
    values: list[object] = []
    signal.connect(values.append)  # type: ignore[attr-defined]
    return values


def test_nothing_found_is_said_in_so_many_words(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with(()))

    assert panel.subtitle == "Nothing left to settle before cutting."
    assert panel.cards == []


def test_a_plan_without_findings_that_comes_late_is_told(qtbot: QtBot) -> None:
    now = now_with(())
    panel = make_panel(qtbot, replace(now, plan=replace(now.plan, beds=())))
    assert panel.subtitle == "Not known before it is worked out."

    panel.show_now(now)

    assert panel.subtitle == "Nothing left to settle before cutting."


def test_the_worst_come_first_and_notes_do_not_count(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with((edge(1, "note"), edge(2, "question"), edge(3, "problem"))))

    assert [card.finding.holes[0] for card in panel.cards] == ["A3", "A2", "A1"]
    assert panel.subtitle == "2 things to settle before cutting."


def test_a_card_offers_the_cure_and_the_note(qtbot: QtBot) -> None:
    cure = LeaveOut("R1", "A1")
    panel = make_panel(qtbot, now_with((edge(cure=cure), edge(2))))
    cured, left, shown = (
        heard(signal) for signal in (panel.cure_wanted, panel.leave_wanted, panel.place_wanted)
    )
    card = panel.cards[0]

    assert card.cure.isVisibleTo(panel)
    assert not panel.cards[1].cure.isVisibleTo(panel)
    assert "No single change clears it" in panel.cards[1].accessibleName()
    card.cure.click()
    card.leave.click()
    QTest.keyClick(card, Qt.Key.Key_Return)

    assert cured == left == shown == [edge(cure=cure)]


def test_a_click_on_a_card_shows_its_place(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with((edge(),)))
    shown = heard(panel.place_wanted)
    panel.resize(340, 500)
    panel.show()

    QTest.mouseClick(panel.cards[0], Qt.MouseButton.LeftButton)

    assert shown == [edge()]


def test_a_long_cure_has_a_short_button_and_says_all_to_a_screen_reader(qtbot: QtBot) -> None:
    cure = MoveHole("R1", "A1", 123.4, 567.8)
    panel = make_panel(qtbot, now_with((edge(cure=cure),)))
    button = panel.cards[0].cure

    assert button.text() == "Make it so"
    assert button.accessibleName() == "Move R1 A1 to x 123.4 mm, y 567.8 mm"
    assert "Problem" in panel.cards[0].accessibleName()


def test_what_was_left_with_a_note_can_be_looked_at_again(qtbot: QtBot) -> None:
    finding = edge()
    panel = make_panel(qtbot, now_with((finding,), (Accepted(finding.key, "the rim is soft"),)))
    again = heard(panel.reopen_wanted)

    assert panel.cards == []
    assert (panel.open_filter.text(), panel.left_filter.text()) == ("Open 0", "Left 1")
    panel.left_filter.click()
    assert "the rim is soft" in panel.reopeners[finding.key].parentWidget().accessibleName()
    panel.reopeners[finding.key].click()

    assert again == [(finding.key,)]


def test_notes_on_what_is_there_no_more_can_be_forgotten(qtbot: QtBot) -> None:
    left = (Accepted("edge Bench R9 A1", "long gone"), Accepted(edge().key, "soft"))
    panel = make_panel(qtbot, now_with((edge(),), left))
    again = heard(panel.reopen_wanted)

    assert not panel.forget.isVisibleTo(panel)
    panel.left_filter.click()
    assert panel.forget.isVisibleTo(panel)
    panel.forget.click()

    assert again == [("edge Bench R9 A1",)]


def test_cards_are_not_made_anew_when_findings_change(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with((edge(), edge(9, "note"))))
    card = panel.cards[0]

    panel.show_now(now_with((edge(2),)))

    assert len(panel.cards) == 1
    assert panel.cards[0] is card
    assert "A2" in card.accessibleName()


def many(count: int) -> tuple[Finding, ...]:
    cure = LeaveOut("R1", "A1")
    return tuple(edge(number, cure=cure) for number in range(1, count + 1))


def test_hundreds_of_one_kind_take_one_card_and_are_stepped_through(qtbot: QtBot) -> None:
    found = (*many(212), edge(1, "note"))
    panel = make_panel(qtbot, now_with(found))
    shown = heard(panel.place_wanted)
    card = panel.cards[0]

    assert len(panel.cards) == 2
    assert card.accessibleName().startswith("Problem: 212 holes nearer than 60 mm to the edge.")
    assert "1 of 212, Hole R1 A1 is too near the edge" in card.accessibleName()
    QTest.keyClick(card, Qt.Key.Key_Right)
    QTest.keyClick(card, Qt.Key.Key_Right)
    QTest.keyClick(card, Qt.Key.Key_Left)
    QTest.keyClick(card, Qt.Key.Key_Return)

    assert shown == [found[1], found[2], found[1], found[1]]
    QTest.keyClick(card, Qt.Key.Key_Left)
    QTest.keyClick(card, Qt.Key.Key_Left)
    assert shown[-1] == found[211]
    assert panel.subtitle == "212 things to settle before cutting."


def test_a_group_offers_one_change_and_all_of_them(qtbot: QtBot) -> None:
    found = many(5)
    panel = make_panel(qtbot, now_with(found))
    one, every, left, all_left = (
        heard(signal)
        for signal in (
            panel.cure_wanted, panel.cures_wanted, panel.leave_wanted, panel.leaves_wanted
        )
    )  # fmt: skip
    card = panel.cards[0]
    card.step(2)

    card.cure.click()
    card.cure_all.click()
    card.leave.click()
    card.leave_all.click()

    assert (one, every, left, all_left) == ([found[2]], [found], [found[2]], [found])
    assert card.cure_all.text() == "Make all 5 so"


def test_the_one_in_sight_stays_in_sight_when_others_go(qtbot: QtBot) -> None:
    found = many(6)
    panel = make_panel(qtbot, now_with(found))
    panel.cards[0].step(3)

    panel.show_now(now_with(found[1:]))

    assert panel.cards[0].finding == found[3]


def test_few_of_one_kind_have_a_card_each(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with(many(GROUP_FROM - 1)))

    assert len(panel.cards) == GROUP_FROM - 1
    assert not panel.cards[0].cure_all.isVisibleTo(panel)


def test_unlike_limits_are_unlike_kinds(qtbot: QtBot) -> None:
    wide = [replace(each, limit_mm=80.0) for each in many(4)]
    panel = make_panel(qtbot, now_with((*many(4), *wide)))

    assert [len(card.group.findings) for card in panel.cards if card.group] == [4, 4]


def test_the_next_finding_is_the_one_behind_the_one_shown_last(qtbot: QtBot) -> None:
    found = (*many(4), edge(7, "question"))
    panel = make_panel(qtbot, now_with(found))
    shown = heard(panel.place_wanted)

    for by in (1, 1, 1, 1, 1, 1, -1):
        panel.step(by)

    assert shown == [*found, found[0], found[4]]
    make_panel(qtbot, now_with(())).step(1)


def test_a_great_many_kinds_are_shown_bit_by_bit(qtbot: QtBot) -> None:
    found = [replace(edge(), code="obstacle", subject=f"pipe {n}") for n in range(MOST_SHOWN + 7)]
    panel = make_panel(qtbot, now_with(found))

    assert len(panel.cards) == MOST_SHOWN
    assert panel.more.text() == "Show 7 more of 7"
    panel.more.click()
    assert len(panel.cards) == MOST_SHOWN + 7
    assert not panel.more.isVisibleTo(panel)


def test_what_is_not_worked_out_is_not_called_settled(qtbot: QtBot) -> None:
    now = now_with(())
    panel = make_panel(qtbot, replace(now, plan=replace(now.plan, beds=())))

    assert panel.subtitle == "Not known before it is worked out."


def test_thousands_of_one_kind_take_no_more_widgets_than_one(qtbot: QtBot) -> None:
    found = tuple(replace(each, raft=f"R{raft}") for raft in range(100) for each in many(100))
    now = now_with(found)
    panel = make_panel(qtbot, now)

    panel.show_now(now_with(found[:-1]))

    assert len(panel.cards) == 1
    assert len(panel.findChildren(QWidget)) < 80


def test_up_and_down_go_from_card_to_card(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with((edge(1), edge(2))))
    panel.show()
    panel.activateWindow()
    panel.cards[0].setFocus()
    qtbot.waitUntil(panel.cards[0].hasFocus)

    QTest.keyClick(panel.cards[0], Qt.Key.Key_Down)
    assert panel.cards[1].hasFocus()
    QTest.keyClick(panel.cards[1], Qt.Key.Key_Down)
    assert panel.cards[1].hasFocus()
    QTest.keyClick(panel.cards[1], Qt.Key.Key_Up)
    assert panel.cards[0].hasFocus()


def test_the_keyboard_stays_in_the_list_when_its_card_goes(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with((edge(1), edge(2))))
    panel.show()
    panel.activateWindow()
    panel.cards[1].leave.setFocus()
    qtbot.waitUntil(panel.cards[1].leave.hasFocus)

    panel.show_now(now_with((edge(1),)))

    assert panel.cards[0].hasFocus()


def _samples() -> Iterator[Finding]:
    for code in get_args(Code):
        yield Finding(code, "problem", "Bench", "R1", ("A1", "A2"), "1 2", None, 1.0, 2.0)
        yield Finding(code, "question", "Bench", "", (), "outline", None, None, None)


@pytest.mark.parametrize("finding", tuple(_samples()), ids=lambda f: f"{f.code} {f.severity}")
def test_every_kind_has_its_words_alone_and_together(finding: Finding) -> None:
    assert no_cure_reason(finding)
    assert no_cure_reason(replace(finding, cure=LeaveOut("R1", "A1"))) == ""
    if finding.code == "rounding" and not finding.holes:
        return
    assert "5" in group_title([finding] * 5, "mm")


def test_becoming_empty_or_not_is_announced_once(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with(()))
    emptied = heard(panel.emptied)

    for findings in ((), (edge(),), (edge(2),), ()):
        panel.show_now(now_with(findings))

    assert emptied == [False, True]


def test_without_a_bed_nothing_is_claimed(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_of(make_document(Project("nothing"))))

    assert panel.subtitle == ""
