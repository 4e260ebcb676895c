import numpy as np

from geometry.holes.names import row_letters, site_names


def test_rows_are_lettered_without_i_o_and_p_and_go_on_with_two_letters() -> None:
    letters = [row_letters(row) for row in range(26)]

    assert letters[:9] == ["A", "B", "C", "D", "E", "F", "G", "H", "J"]
    assert letters[21:] == ["Y", "Z", "AA", "AB", "AC"]
    assert len(set(letters)) == len(letters)
    assert "P" not in letters  # P1, P2, … are holes added by hand


def test_numbers_start_again_in_every_row() -> None:
    assert site_names(np.array([0, 0, 1, 1, 1, 3])) == ("A1", "A2", "B1", "B2", "B3", "D1")
