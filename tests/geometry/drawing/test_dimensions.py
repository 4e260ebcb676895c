"""Running dimensions: from the datum, apart from each other, never one on another."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.dimensions import (
    FIGURE_MM,
    Ruler,
    dimension_room,
    has_room,
    running_dimensions,
)
from geometry.drawing.figures import figure
from geometry.drawing.lettering import text_box
from geometry.drawing.marks import Mark, Path, Text
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Line

ACROSS = Ruler(start=20, edge=100, scale=0.25, upright=False)
UPRIGHT = Ruler(start=50, edge=40, scale=0.25, upright=True)


def _texts(marks: tuple[Mark, ...]) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


def test_every_figure_is_the_distance_from_the_datum() -> None:
    places = [0, 96.8333, 290.5, 484.1667, 581]
    marks, complete = running_dimensions(places, ACROSS, "mm")

    assert complete
    assert [text.text for text in _texts(marks)] == ["0", "96.8", "290.5", "484.2", "581"]


def test_lines_leave_the_edge_at_the_places_and_figures_stand_beyond() -> None:
    marks, _ = running_dimensions([0, 400], UPRIGHT, "mm")
    lines = [curve for mark in marks if isinstance(mark, Path) for curve in mark.curves]
    first = [line for line in lines if isinstance(line, Line)][::2]

    assert [line.start.y for line in first] == [50, 150]
    assert all(line.end.x < line.start.x < 40 for line in first)
    assert all(text.at.x < 40 and text.anchor == "right" for text in _texts(marks))


def test_places_with_the_same_figure_are_written_once() -> None:
    marks, complete = running_dimensions([0, 100.01, 100.02, 99.99], ACROSS, "mm")

    assert complete
    assert [text.text for text in _texts(marks)] == ["0", "100"]


def test_close_figures_are_moved_apart_and_tied_to_their_places() -> None:
    marks, complete = running_dimensions([0, 200, 204, 208, 400], ACROSS, "mm")

    assert complete
    assert len(_texts(marks)) == 5
    ties = [mark.curves[0] for mark in marks if isinstance(mark, Path)][1::2]
    starts = [tie.start.x for tie in ties if isinstance(tie, Line)]
    assert starts == [20, 70, 71, 72, 120]


def test_what_cannot_stand_even_so_is_thinned_but_both_ends_stay() -> None:
    places = [float(place) for place in range(0, 401, 2)]
    marks, complete = running_dimensions(places, ACROSS, "mm")
    texts = [text.text for text in _texts(marks)]

    assert not complete
    assert 10 < len(texts) < 40
    assert (texts[0], texts[-1]) == ("0", "400")


def test_two_tiers_hold_figures_that_one_would_thin_out() -> None:
    places = [float(place) for place in range(0, 401, 14)]
    one, all_in_one = running_dimensions(places, ACROSS, "mm", height=4.8)
    two, all_in_two = running_dimensions(places, ACROSS, "mm", height=4.8, tiers=2)
    boxes = [box for mark in two if (box := text_box(mark)) is not None]

    assert (all_in_one, all_in_two) == (False, True)
    assert not has_room(places, ACROSS, "mm", height=4.8)
    assert len(_texts(one)) < len(_texts(two)) == len(places)
    assert not any(a.meets(b) for a, b in combinations(boxes, 2))
    room = dimension_room(places, "mm", height=4.8, tiers=2)
    assert all(box.bottom >= ACROSS.edge - room for box in boxes)


@given(
    places=st.lists(st.floats(0, 600), min_size=1, max_size=80),
    ruler=st.sampled_from([ACROSS, UPRIGHT]),
)
def test_no_figure_ever_stands_on_another(places: list[float], ruler: Ruler) -> None:
    marks, _ = running_dimensions(places, ruler, "mm")
    stands = [text.at.y if ruler.upright else text.at.x for text in _texts(marks)]

    assert all(b - a >= FIGURE_MM * CAP_HEIGHT + 1 for a, b in pairwise(stands))
    shown = {figure(place, "mm") for place in places}
    assert {text.text for text in _texts(marks)} <= shown


def test_the_room_of_the_figures_holds_the_widest() -> None:
    places = [0, 1194.9, 5]
    marks, _ = running_dimensions(places, ACROSS, "mm")
    lowest = min(text.at.y - text_width(text.text, FIGURE_MM) for text in _texts(marks))

    assert dimension_room(places, "mm") == pytest.approx(100 - lowest, abs=1.1)
