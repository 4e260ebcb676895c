"""What the canvas tells apart it tells apart in grey too, in all colours and down to small sizes.

WCAG 2.2, 1.4.1: colour is never the only sign. Each pair is drawn, turned to grey by relative
luminance (the weights of the same standard), and compared.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QStyleOptionGraphicsItem

from geometry.holes.sites import Holes
from geometry.model.guide_line import GuideLine
from geometry.plan import PlacedRaft
from geometry.units import Length
from layout_gui.canvas.bed_items import paint_badges
from layout_gui.canvas.guide_lines import GuideLines
from layout_gui.canvas.overlay import Guides, Overlay, Rings
from layout_gui.canvas.rafts import Rafts
from layout_gui.canvas.snapping import Guide
from layout_gui.canvas.tones import Tones
from layout_gui.screen.painter import y_up
from layout_gui.screen.theme import THEMES, Theme
from tests.layout_gui.canvas.hand_made import HandMade

EVERY_THEME = pytest.mark.parametrize("theme", THEMES.values(), ids=lambda theme: theme.name)
SIDE = 200
SEEN = 40
"""Two greys so far apart, of 255, are told apart at a glance."""

Grey = NDArray[np.float64]


def grey_of(theme: Theme, paint: Callable[[QPainter], None]) -> Grey:
    """Paint on the theme's foam and return the luminance of every pixel, 0 to 255."""
    image = QImage(SIDE, SIDE, QImage.Format.Format_RGB32)
    tones = Tones(theme)
    image.fill(tones.foam)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint(painter)
    painter.end()
    data = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(SIDE, SIDE, 4)
    blue, green, red = (data[..., channel].astype(np.float64) for channel in range(3))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def differing(one: Grey, other: Grey) -> int:
    """How many pixels are told apart."""
    return int((np.abs(one - other) > SEEN).sum())


def raft_with(**changes: object) -> PlacedRaft:
    plan = HandMade(along=1, columns=1, rows=1, length=100, width=100)
    placed = plan(plan.project(), None).beds[0].rafts[0]
    holes: Holes = replace(placed.design.holes, **changes)  # type: ignore[arg-type]
    return replace(placed, design=replace(placed.design, holes=holes))


def paint_at(theme: Theme, placed: PlacedRaft, across: float) -> Callable[[QPainter], None]:
    """Paint a raft whose one hole (50 mm) is so many pixels across, in the middle."""
    rafts = Rafts(Tones(theme), 0)
    rafts.show_rafts([replace(placed, x=0.0, y=0.0)], 0)

    def paint(painter: QPainter) -> None:
        scale = across / 50
        painter.setTransform(y_up(SIDE / 2 - 50 * scale, SIDE / 2 + 50 * scale, scale))
        option = QStyleOptionGraphicsItem()
        option.exposedRect = QRectF(0, 0, 100, 100)
        rafts.paint(painter, option)

    return paint


@EVERY_THEME
@pytest.mark.parametrize("across", [3, 5, 6, 8, 12, 16, 30, 60])
def test_a_plugged_hole_is_told_from_one_in_use(
    qapp: QApplication, theme: Theme, across: float
) -> None:
    used = grey_of(theme, paint_at(theme, raft_with(), across))
    plugged = grey_of(theme, paint_at(theme, raft_with(plugged=np.array([True])), across))
    # As many pixels look otherwise as the hole is pixels across, and from 5 on never less than 6.
    assert differing(used, plugged) >= (max(6, across) if across >= 5 else across)


@EVERY_THEME
@pytest.mark.parametrize("across", [5, 6, 8, 12, 16, 30, 60])
def test_a_hole_is_told_from_foam(qapp: QApplication, theme: Theme, across: float) -> None:
    hole = grey_of(theme, paint_at(theme, raft_with(), across))
    foam = grey_of(theme, lambda _painter: None)
    middle = slice(SIDE // 2 - int(across), SIDE // 2 + int(across))
    assert differing(hole[middle, middle], foam[middle, middle]) >= 0.3 * across


@EVERY_THEME
def test_pins_and_crops_are_told_apart(qapp: QApplication, theme: Theme) -> None:
    plain = grey_of(theme, paint_at(theme, raft_with(), 60))
    pinned = grey_of(theme, paint_at(theme, raft_with(pinned=np.array([True])), 60))
    crops = [
        grey_of(theme, paint_at(theme, raft_with(plantings=np.array([number])), 60))
        for number in (1, 2)
    ]
    for one, other in combinations([plain, pinned, *crops], 2):
        assert differing(one, other) >= 40


@EVERY_THEME
def test_findings_are_told_apart_by_shape(qapp: QApplication, theme: Theme) -> None:
    tones = Tones(theme)
    badges = [
        grey_of(
            theme, lambda painter, s=severity: paint_badges(painter, tones, s, [QPointF(90, 110)])
        )  # type: ignore[misc]
        for severity in ("problem", "question", "note")
    ]
    for one, other in combinations(badges, 2):
        assert differing(one, other) >= 40


def paint_item(item: Overlay) -> Callable[[QPainter], None]:
    def paint(painter: QPainter) -> None:
        painter.setTransform(y_up(0, SIDE, 1))
        option = QStyleOptionGraphicsItem()
        option.exposedRect = QRectF(0, 0, SIDE, SIDE)
        item.paint(painter, option)

    return paint


@EVERY_THEME
def test_lines_are_told_apart_by_their_dashes(qapp: QApplication, theme: Theme) -> None:
    tones, box = Tones(theme), QRectF(0, 0, SIDE, SIDE)
    free = GuideLine("B", "x", Length.of(100))
    locked = replace(free, locked=True)
    pictures = []
    for line, picked in ((free, None), (free, free), (locked, None)):
        item = GuideLines(tones, 0)
        item.show_lines((line,), picked, "mm", box)
        pictures.append(grey_of(theme, paint_item(item)))
    snapped = Guides(tones, 0)
    snapped.show_guides((Guide("x", 100, 0, SIDE),))
    pictures.append(grey_of(theme, paint_item(snapped)))
    for one, other in combinations(pictures, 2):
        assert differing(one, other) >= 25


@EVERY_THEME
def test_what_is_selected_stands_out(qapp: QApplication, theme: Theme) -> None:
    rings = Rings(Tones(theme), 0)
    rings.show_circles([(100, 100, 25)])
    plain = grey_of(theme, lambda _painter: None)
    assert differing(grey_of(theme, paint_item(rings)), plain) >= 200
