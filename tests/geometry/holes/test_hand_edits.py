from fractions import Fraction

import numpy as np

from geometry.holes.hand_edits import apply_hand_edits
from geometry.holes.sites import Holes, Sites
from geometry.model.planting import Blank, Pin
from geometry.units import Length


def mm(value: int) -> Length:
    return Length(Fraction(value))


def row_of_three() -> Sites:
    return Sites(np.array([[100.0, 50.0], [300.0, 50.0], [500.0, 50.0]]), np.zeros(3, np.int64))


def edited(pins: tuple[Pin, ...] = (), blanks: tuple[Blank, ...] = ()) -> tuple[Holes, int]:
    holes, idle = apply_hand_edits(
        row_of_three(), diameter_mm=[50], reach_mm=[100], pins=pins, blanks=blanks
    )
    return holes, len(idle)


def test_a_moved_hole_keeps_its_name_and_its_place_in_the_row() -> None:
    holes, _ = edited((Pin("R1", mm(320), mm(60), home=(mm(300), mm(50))),))

    assert holes.names == ("A1", "A2", "A3")
    assert holes.xy[1].tolist() == [320, 60]
    assert holes.pinned.tolist() == [False, True, False]


def test_an_added_hole_has_a_name_of_its_own() -> None:
    holes, _ = edited((Pin("R1", mm(300), mm(400)),))

    assert holes.names == ("A1", "A2", "A3", "P1")


def test_an_added_hole_takes_over_the_site_within_reach_the_limit_included() -> None:
    holes, _ = edited((Pin("R1", mm(300), mm(150)),))

    assert holes.names == ("A1", "A2", "A3")
    assert holes.xy[1].tolist() == [300, 150]


def test_a_blank_leaves_the_other_names_alone() -> None:
    holes, idle = edited(blanks=(Blank("R1", mm(310), mm(50)),))

    assert holes.names == ("A1", "A3")
    assert idle == 0


def test_a_blank_with_no_site_near_is_reported() -> None:
    holes, idle = edited(blanks=(Blank("R1", mm(300), mm(151)),))

    assert holes.names == ("A1", "A2", "A3")
    assert idle == 1


def test_two_pins_never_share_one_site() -> None:
    pins = Pin("R1", mm(290), mm(50)), Pin("R1", mm(310), mm(50))

    holes, _ = edited(pins)

    assert holes.names == ("A1", "A2", "A3", "P1")
    assert len(holes) == 4


def test_holes_cannot_be_changed_afterwards() -> None:
    holes, _ = edited()

    assert not holes.xy.flags.writeable
    assert holes == edited()[0]
    assert holes != edited(blanks=(Blank("R1", mm(300), mm(50)),))[0]
