from itertools import pairwise

import pytest
from PySide6.QtCore import QObject

from geometry.plan import PlacedRaft
from layout_gui.canvas.dimensions import room_for, stops
from layout_gui.canvas.tones import text_width_px
from tests.builders import make_design, make_holes, make_shape


def placed(*, turned: bool = False) -> PlacedRaft:
    holes = make_holes([(96.8, 90), (290.5, 90.01), (484.2, 470)], names=["A1", "A2", "B1"])
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
