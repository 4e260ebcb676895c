"""Findings on the canvas, told apart without colour, live with the real plan."""

from itertools import combinations

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QMouseEvent, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.checks.finding import Finding, Severity
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.canvas.bed_items import FindingMarks, paint_badges
from layout_gui.canvas.tones import Tones
from layout_gui.canvas.view import BedView
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.screen.theme import DARK, LIGHT, Theme

SEVERITIES: tuple[Severity, ...] = ("problem", "question", "note")


def badge(theme: Theme, severity: Severity) -> np.ndarray[tuple[int, int], np.dtype[np.uint8]]:
    """The badge in greys."""
    tones = Tones(theme)
    image = QImage(60, 60, QImage.Format.Format_Grayscale8)
    image.fill(tones.canvas)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_badges(painter, tones, severity, [QPointF(20, 40)])
    painter.end()
    return np.frombuffer(image.constBits(), dtype=np.uint8).reshape(60, -1)[:, :60].copy()


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_badges_differ_in_shape_and_not_in_colour_alone(qapp: QObject, theme: Theme) -> None:
    outlines = {}
    for severity in SEVERITIES:
        picture = badge(theme, severity).astype(int)
        outlines[severity] = np.abs(picture - int(picture[0, 0])) > 40
    for one, other in combinations(SEVERITIES, 2):
        assert (outlines[one] ^ outlines[other]).sum() > 30


def test_a_finding_without_a_place_has_no_badge(qapp: QObject) -> None:
    marks = FindingMarks(Tones(LIGHT), 1)
    findings = [
        Finding("web", "problem", "North", place=(10, 10)),
        Finding("web", "problem", "North", place=(10, 10)),
        Finding("sheet-fit", "problem", "North"),
    ]
    marks.show_findings(findings, QRectF(0, 0, 100, 100))
    assert list(marks._places) == [("problem", 10, 10)]
    marks.show_findings([], QRectF(0, 0, 100, 100))
    assert marks._places == []


def test_findings_come_and_go_while_a_hole_is_dragged(qtbot: QtBot) -> None:
    of = Length.of
    planting = Planting(of(200), of(50), pattern="square", edge_margin=of(60), web=of(25))
    bed = Bed("North", Rectangle(of(1220), of(620)), of(10), planting=planting)
    document = Document(patience_s=30)
    view = BedView(document, Selection(), LIGHT)
    qtbot.addWidget(view)
    view.resize(1000, 600)
    view.show()
    qtbot.waitExposed(view)
    document.start(Project("North", beds=(bed,)))
    plants = document.plan.plants
    places = view._hands.places
    assert places is not None
    first, second = places.spots([("R1", "A1"), ("R1", "A2")])

    def send(kind: QEvent.Type, x: float, y: float) -> None:
        at = view.viewportTransform().map(QPointF(x, y))
        left = Qt.MouseButton.LeftButton
        event = QMouseEvent(
            kind, at, view.mapToGlobal(at), left, left, Qt.KeyboardModifier.AltModifier
        )
        QApplication.sendEvent(view.viewport(), event)

    assert view._scene.finding_marks._places == []
    send(QEvent.Type.MouseButtonPress, first.x, first.y)
    send(QEvent.Type.MouseMove, second.x - 60, first.y)
    assert any(severity == "problem" for severity, _, _ in view._scene.finding_marks._places)
    assert document.plan.plants == plants
    send(QEvent.Type.MouseMove, first.x + 1, first.y)
    send(QEvent.Type.MouseMove, first.x, first.y)
    assert view._scene.finding_marks._places == []
    view._hands.cancel()
    assert document.undo_stack.count() == 0
