from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QTransform
from PySide6.QtWidgets import QStyleOptionGraphicsItem

from geometry.plan import PlacedRaft
from layout_gui.canvas.dimensions import Dimensions, room_for, stops
from layout_gui.canvas.tones import Tones, text_width_px
from layout_gui.screen.theme import LIGHT
from tests.builders import make_design, make_holes, make_shape


def placed(*, turned: bool = False, moved: float = 0) -> PlacedRaft:
    holes = make_holes(
        [(96.8 + moved, 90 - moved), (290.5, 90.01), (484.2, 470)], names=["A1", "A2", "B1"]
    )
    return PlacedRaft("R1", make_design("d", make_shape(581, 560), holes), 100, 200, turned)


def test_every_figure_runs_from_the_datum_corner() -> None:
    assert [(stop.at, stop.text) for stop in stops(placed(), "x", "mm")] == [
        (196.8, "96.8"),
        (390.5, "290.5"),
        (584.2, "484.2"),
        (681, "581"),
    ]


def test_holes_in_a_row_share_a_figure() -> None:
    assert [stop.text for stop in stops(placed(), "y", "mm")] == ["90", "470", "560"]


def test_a_turned_raft_is_measured_from_the_other_end() -> None:
    found = stops(placed(turned=True), "x", "mm")
    assert [stop.text for stop in found] == ["96.8", "290.5", "484.2", "581"]
    assert [stop.at for stop in found] == pytest.approx([584.2, 390.5, 196.8, 100])


def test_inches_are_those_of_the_tape() -> None:
    # 96.8 mm is 3.811 in, nearest sixteenth 3 13/16.
    assert stops(placed(), "x", "in")[0].text == "3 13/16"


def test_chosen_holes_mark_their_figures() -> None:
    marked = [stop.text for stop in stops(placed(), "y", "mm", frozenset({"A2"})) if stop.is_chosen]
    assert marked == ["90"]


def test_figures_that_would_touch_are_left_out_but_the_far_edge_and_chosen_ones_stay(
    qapp: QObject,
) -> None:
    marks = stops(placed(), "x", "mm", frozenset({"A2"}))
    for pixel_mm in (0.5, 2, 5, 8):
        kept = list(room_for(marks, pixel_mm))
        spans = sorted(
            (stop.at - half, stop.at + half)
            for stop in kept
            for half in [text_width_px(stop.text, 11) / 2 * pixel_mm]
        )
        assert all(one[1] < other[0] for one, other in pairwise(spans))
        assert marks[1] in kept
    assert len(list(room_for(marks, 0.5))) == 4
    assert marks[-1] in list(room_for(stops(placed(), "x", "mm"), 8))


class Noted(Dimensions):
    """Dimensions that note which parts of them are to be painted again."""

    parts: list[QRectF]

    def update(self, *part: Any) -> None:
        self.parts.append(QRectF(*part))


def picture_of(item: Dimensions, scale: float) -> NDArray[np.uint8]:
    image = QImage(480, 480, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setWorldTransform(QTransform(scale, 0, 0, -scale, 20, 460))
    option = QStyleOptionGraphicsItem()
    option.exposedRect = QRectF(-500, -500, 3000, 3000)  # type: ignore[misc]
    item.paint(painter, option)
    painter.end()
    return np.frombuffer(image.constBits(), np.uint8).reshape(480, 480, 4).copy()


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("moved", [0.4, 7, 60])
def test_a_moved_hole_changes_nothing_beside_the_figures_painted_again(
    qapp: QObject, moved: float, turned: bool
) -> None:
    scale = 0.5
    item = Noted(Tones(LIGHT), 1)
    item.parts = []
    item.set_pixel(1 / scale)
    item.show_bed(QRectF(60, 160, 700, 700))
    item.show_view(QRectF(0, 0, 900, 900))
    item.show_raft(placed(turned=turned), "mm", frozenset({"A1"}))
    before = picture_of(item, scale)
    item.parts.clear()
    item.show_raft(placed(turned=turned, moved=moved), "mm", frozenset({"A1"}))
    differs = (picture_of(item, scale) != before).any(axis=2)
    covered = np.zeros_like(differs)
    for part in item.parts:
        box = QTransform(scale, 0, 0, -scale, 20, 460).mapRect(part).toAlignedRect()
        covered[max(box.top(), 0) : box.bottom() + 1, max(box.left(), 0) : box.right() + 1] = True
    assert differs.any()
    assert not (differs & ~covered).any()
    assert covered.sum() < 0.1 * covered.size
