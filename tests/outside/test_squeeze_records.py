"""Squeezing against the best known arrangements in a square and in a disc.

E. Specht's public record lists (data/points-in-square.csv, data/points-in-circle.csv), proved
optimal for the square up to N = 30 and for N = 36, for the disc up to N = 13 and for N = 19.
"""

import csv
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from geometry.holes.records import best_known_in_square, most_proved_in_square
from geometry.holes.room import Room
from geometry.holes.rows import best_rows
from geometry.holes.squeeze import squeeze
from geometry.model.outlines import Disc
from geometry.units import Length
from tests.geometry.holes.rooms import least_gap, make_room

DATA = Path(__file__).parent / "data"
SIDE = 1000.0


def records(name: str) -> dict[int, Fraction]:
    with (DATA / f"points-in-{name}.csv").open(encoding="utf-8", newline="") as file:
        return {int(row["n"]): Fraction(row["m_n"]) for row in csv.DictReader(file) if row["m_n"]}


def most_found(room: Room, begin: int, ceiling: int, tries: int) -> int:
    """How many points a search comes to that begins with ``begin`` of them, thrown at random."""
    random = np.random.default_rng(1)
    low, high = room.box
    found = squeeze(
        room,
        random.uniform(low, high, (begin, 2)),
        ceiling=ceiling,
        generator=random,
        keep_going=lambda: True,
        tries=tries,
    )
    if found is None:
        return begin
    assert least_gap(found, room.fixed) >= room.spacing - 1e-6
    return len(found)


@pytest.mark.parametrize("points", [7, 8, 10, 11, 13, 14, 15, 17, 19, 22, 24, 26, 28, 29])
def test_the_records_of_the_square_are_reached(points: int) -> None:
    """With a tenth of a percent of slack, from a start of one point less in no order."""
    spacing = float(records("square")[points]) * SIDE * 0.999

    found = most_found(make_room((SIDE, SIDE), spacing), points - 1, points, tries=2000)

    assert found == points


@pytest.mark.parametrize("points", [7, 8, 11, 13, 16, 19])
def test_the_records_of_the_disc_are_reached(points: int) -> None:
    """With a tenth of a percent of slack; radius 500 after the margin."""
    spacing = float(records("circle")[points]) * 500 * 0.999
    room = make_room(Disc(Length.of(1040)), spacing, margin=20)

    assert most_found(room, points - 1, points, tries=2000) == points


@pytest.mark.parametrize("points", [5, 8, 10, 13, 17, 23])
def test_a_proved_record_is_never_beaten(points: int) -> None:
    """One part in a million above m_N no arrangement holds N points, however long is searched."""
    spacing = float(records("square")[points]) * SIDE * (1 + 1e-6)

    assert most_found(make_room((SIDE, SIDE), spacing), points - 1, 999, tries=100) == points - 1


def test_the_shipped_distances_are_those_of_the_list() -> None:
    for points, most in records("square").items():
        below, above = most * (1 - Fraction(1, 10**9)), most * (1 + Fraction(1, 10**9))
        assert (best_known_in_square(Fraction(1), below) or 100) >= points
        assert (best_known_in_square(Fraction(1), above) or 100) < points or points == 100
        proved = most_proved_in_square(Fraction(1), above)
        if points <= 30 or points == 36:
            assert proved is not None
            assert proved < points


def test_no_rows_hold_more_than_is_proved() -> None:
    for step in range(1, 400):
        spacing = Fraction(3 * step, 1000) + Fraction(1, 7)
        rows = best_rows(Fraction(1), Fraction(1), spacing, pattern="best", direction="best")
        most = max((each.count for each in rows), default=0)
        proved = most_proved_in_square(Fraction(1), spacing)
        known = best_known_in_square(Fraction(1), spacing)
        assert proved is None or most <= proved
        assert known is None or most <= known
        assert proved is None or known is None or known <= proved


def test_a_point_has_room_for_one_and_exact_fits_count() -> None:
    assert best_known_in_square(Fraction(0), Fraction(1)) == 1
    assert most_proved_in_square(Fraction(0), Fraction(1)) == 1
    assert best_known_in_square(Fraction(300), Fraction(150)) == 9
    assert best_known_in_square(Fraction(300), Fraction(100)) == 16
    assert most_proved_in_square(Fraction(300), Fraction(100)) == 16
    assert best_known_in_square(Fraction(1000), Fraction(1)) is None
    assert most_proved_in_square(Fraction(1000), Fraction(1)) is None
