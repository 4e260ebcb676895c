"""Week by week at Grow: stepping, what each raft shows, the tasks, and the way on from nothing."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QHelpEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.drawing.week_map import HATCHES
from geometry.flow.period import Period, Week
from geometry.model.bed import Split
from geometry.model.run import Run, RunStage
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels import week_beds
from layout_gui.panels.dates import date_text
from layout_gui.panels.period_part import PeriodPart
from layout_gui.panels.week_sight import WeekSight
from layout_gui.project.edits_weeks import push_rafts
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project, now_of

pytestmark = OFFSCREEN

# One raft of nine a week, two weeks in a bed of two rafts.
RUN = Run(
    "Basil", "", (RunStage("tray", 7, Fraction(9, 10)), RunStage("bed", 14, bed="Bench")),
    target=9, first=date(2027, 2, 22),
)  # fmt: skip


@pytest.fixture
def document() -> Document:
    return make_document(replace(make_project(), runs=(RUN,)))


@pytest.fixture
def sight(qtbot: QtBot, document: Document) -> Iterator[WeekSight]:
    sight = WeekSight(document, Selection())
    qtbot.addWidget(sight)
    sight.resize(760, 620)
    sight.set_theme(LIGHT)
    sight.show()
    show(qtbot, sight, document)
    yield sight
    sight.hide()


def show(qtbot: QtBot, sight: WeekSight, document: Document, week: Week | None = None) -> None:
    sight.show_now(now_of(document))
    if week is not None:
        sight.go_to(week)
    qtbot.waitUntil(lambda: not sight.is_busy)


def tasks(sight: WeekSight) -> list[str]:
    return [sight.tasks.item(row).text().partition("  \N{MIDDLE DOT}  ")[2]
            for row in range(sight.tasks.count())]  # fmt: skip


def test_weeks_are_stepped_through_by_keys_days_and_buttons(
    qtbot: QtBot, sight: WeekSight, document: Document
) -> None:
    show(qtbot, sight, document, Week.of(date(2027, 3, 1)))
    assert tasks(sight) == [
        "Basil, batch 1: thin out, keep the best 9 of 10",
        "Basil, batch 1: set 9 plants on Bench R1, bed",
        "Basil, batch 2: sow 10 seeds",
    ]
    QTest.keyClick(sight.strip, Qt.Key.Key_Right)
    qtbot.waitUntil(lambda: not sight.is_busy)
    assert sight.week == Week.of(date(2027, 3, 8))
    assert "Basil, batch 2: set 9 plants on Bench R2, bed" in tasks(sight)
    sight.day.setText("2027-03-17")
    QTest.keyClick(sight.day, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not sight.is_busy)
    assert sight.week == Week.of(date(2027, 3, 15))
    assert tasks(sight)[0] == "Basil, batch 1: pick 9 plants from Bench R1"
    sight.before.click()
    sight.begin.click()
    assert sight.week == Week.of(RUN.first or date.max)
    assert date_text(sight.week.first) in sight.title.text()
    said: list[str] = []
    sight.said.connect(said.append)
    sight.day.setText("31 February")
    QTest.keyClick(sight.day, Qt.Key.Key_Return)
    assert "no day of the calendar" in said[0]


def test_a_raft_tells_its_batch_under_the_pointer_and_by_its_hatch(
    qtbot: QtBot, sight: WeekSight, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    show(qtbot, sight, document, Week.of(date(2027, 3, 1)))
    beds = sight.beds
    box = beds._laid[0].box
    left, right = (QPointF(box.left() + box.width() * share, 70) for share in (0.25, 0.75))
    assert beds.place_at(QPointF(0, 0)) is None
    told: list[str] = []
    monkeypatch.setattr(week_beds.QToolTip, "showText", lambda _at, text, _owner: told.append(text))
    for at in (left, right):
        place = at.toPoint()
        QApplication.sendEvent(
            beds.viewport(), QHelpEvent(QEvent.Type.ToolTip, place, beds.mapToGlobal(place))
        )
    assert told == ["R1: A1, 9 plants (Basil: bed); in Mon", "R2: free"]
    assert "Bench: 1 of 2 places taken" in beds.accessibleDescription()

    # Without any colour a raft with plants still differs from a free one.
    image = beds.viewport().grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    assert _shades(image, left.toPoint()) > _shades(image, right.toPoint())
    assert len(week_beds._HATCHES) == len(HATCHES)
    sight.set_theme(DARK)
    beds.zoom_by(4)
    assert beds.horizontalScrollBar().maximum() > 0


def _shades(image: QImage, middle: QPoint) -> int:
    row = middle.y() - 30
    return len({image.pixel(middle.x() + x, row) for x in range(-30, 30)})


def test_how_rafts_go_through_is_one_undo_step(
    qtbot: QtBot, sight: WeekSight, document: Document
) -> None:
    sight.way.committed.emit("far")
    assert document.project.beds[0].pushed == "far"
    show(qtbot, sight, document, Week.of(date(2027, 3, 15)))
    assert "Bench: push 1 raft along" in tasks(sight)
    document.undo_stack.undo()
    assert document.project.beds[0].pushed == "no"
    assert push_rafts(document.project, "Bench", "no") == document.project


def test_the_weeks_to_write_are_typed_once_for_pages_tables_and_calendar(qtbot: QtBot) -> None:
    part = PeriodPart()
    qtbot.addWidget(part)
    meant: list[Period] = []
    part.meant.connect(meant.append)
    part.day.setText("2027-03-17")
    part.day.editingFinished.emit()
    part.count.setValue(4)
    assert meant == [Period(date(2027, 3, 15)), Period(date(2027, 3, 15), 4)]
    part.day.setText("soon")
    part.day.editingFinished.emit()
    assert not part.fault.isHidden()
    part.day.setText("")
    part.day.editingFinished.emit()
    assert meant[-1] == Period(None, 4)
    assert part.fault.isHidden()


def test_where_nothing_is_sown_one_button_begins(qtbot: QtBot) -> None:
    document = make_document(make_project())
    sight = WeekSight(document, Selection())
    qtbot.addWidget(sight)
    sight.show_now(now_of(document))
    assert sight.full.isHidden()
    assert not sight.empty.isHidden()
    sight.make.click()
    assert len(document.project.runs) == 1
    show(qtbot, sight, document)
    assert sight.empty.isHidden()
    # Two rafts do not hold a batch of each week: that is said, and six do.
    assert "one raft of each stage" in sight.trouble.text()
    bench = replace(document.project.beds[0], rafts=Split(6, 1))
    document.apply("six", replace(document.project, beds=(bench,)))
    qtbot.waitUntil(lambda: document.is_worked_out)
    show(qtbot, sight, document)
    assert any("sow" in text for text in tasks(sight))
    sight.show_now(replace(now_of(document), project=replace(document.project, runs=())))
    assert not sight.empty.isHidden()
