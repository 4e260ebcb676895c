"""Findings as paragraphs with their cures."""

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from geometry.checks.finding import Cure, Finding, LeaveOut, MoveHole, Severity
from geometry.model.project import Accepted, Project
from layout_gui.panels.findings import MOST_SHOWN, FindingsPanel
from layout_gui.panels.now import Now
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

    assert card.cure is not None
    assert panel.cards[1].cure is None
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

    assert button is not None
    assert button.text() == "Make it so"
    assert button.accessibleName() == "Move R1 A1 to x 123.4 mm, y 567.8 mm"
    assert "Problem" in panel.cards[0].accessibleName()


def test_what_was_left_with_a_note_can_be_looked_at_again(qtbot: QtBot) -> None:
    finding = edge()
    panel = make_panel(qtbot, now_with((finding,), (Accepted(finding.key, "the rim is soft"),)))
    again = heard(panel.reopen_wanted)

    assert panel.cards == []
    panel.reopeners[finding.key].click()

    assert again == [finding.key]


def test_nothing_is_built_anew_while_the_findings_stay_the_same(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with((edge(),)))
    card = panel.cards[0]

    panel.show_now(now_with((edge(),)))
    assert panel.cards[0] is card
    panel.show_now(now_with((edge(2),)))
    assert panel.cards[0] is not card


def test_a_great_many_findings_are_told_by_their_number(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with(edge(number) for number in range(1, MOST_SHOWN + 8)))

    assert len(panel.cards) == MOST_SHOWN
    assert panel.subtitle == f"{MOST_SHOWN + 7} things to settle before cutting."


def test_becoming_empty_or_not_is_announced_once(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_with(()))
    emptied = heard(panel.emptied)

    for findings in ((), (edge(),), (edge(2),), ()):
        panel.show_now(now_with(findings))

    assert emptied == [False, True]


def test_without_a_bed_nothing_is_claimed(qtbot: QtBot) -> None:
    panel = make_panel(qtbot, now_of(make_document(Project("nothing"))))

    assert panel.subtitle == ""
