"""Words on paper."""

from itertools import pairwise

import pytest

from geometry.drawing.lettering import clipped, line, name_list, paragraph, wrapped
from geometry.drawing.text_width import text_width
from geometry.tongue import listed, plural


@pytest.mark.parametrize(
    ("names", "shown"),
    [
        (["R1", "R2", "R3", "R4"], "R1-R4"),
        (["R1", "R2"], "R1, R2"),
        (["R1", "R2", "R3", "R7", "N1"], "R1-R3, R7, N1"),
        (["R9", "R10", "R11"], "R9-R11"),
        (["R01", "R02", "R03"], "R01-R03"),
        (["west", "east"], "west, east"),
        (["R3", "R2", "R1"], "R3, R2, R1"),
        (["1", "2", "3"], "1-3"),
        ([], ""),
        ([f"R{n * 2}" for n in range(40)], "R0, R2, R4, … R78"),
    ],
)
def test_runs_of_names_are_written_as_ranges(names: list[str], shown: str) -> None:
    assert name_list(names) == shown


def test_lines_break_between_words_and_fit_their_room() -> None:
    text = "Lay the template on the top face of the raft, datum corner on datum corner"
    rows = wrapped(text, 3, 40)

    assert " ".join(rows) == text
    assert len(rows) > 2
    assert all(text_width(row, 3) <= 40 + 1e-9 for row in rows)
    for row, following in pairwise(rows):
        longer = f"{row} {following.split()[0]}"
        assert text_width(longer, 3) > 40


def test_a_word_that_is_too_long_is_shortened() -> None:
    (row,) = wrapped("x" * 200, 3, 40)

    assert row.endswith("…")
    assert text_width(row, 3) <= 40


def test_a_paragraph_ends_below_its_last_line() -> None:
    lines, end = paragraph(10, 100, "one two three four five six", 4, 20)

    assert len(lines) > 1
    assert lines[0].at.y == 96
    assert end < lines[-1].at.y < lines[0].at.y


def test_counting_and_listing() -> None:
    assert (plural(1, "hole"), plural(0, "hole"), plural(9, "hole")) == (
        "1 hole",
        "0 holes",
        "9 holes",
    )
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_a_line_is_cut_to_its_room_and_drawable() -> None:
    short = line(0, 0, "計 a very long line of words", 4, room=20)

    assert short.text.startswith("□ a")
    assert text_width(short.text, 4) <= 20


def test_a_name_is_clipped_to_what_a_line_can_bear() -> None:
    assert clipped("North bench") == "North bench"
    assert len(clipped("north bench " * 20)) <= 40
    assert clipped("north bench " * 20).endswith("…")
