"""Names of sites: row letter and number, "A1" nearest the datum corner."""

import numpy as np
from numpy.typing import NDArray

_LETTERS = "ABCDEFGHJKLMNQRSTUVWXYZ"
"""No I and O, which read as 1 and 0 on wet foam, and no P, which names holes added by hand."""


def row_letters(row: int) -> str:
    """Return the letters of a row counted from 0: A to Z, then AA, AB and so on."""
    letters = ""
    row += 1
    while row:
        row, digit = divmod(row - 1, len(_LETTERS))
        letters = _LETTERS[digit] + letters
    return letters


def site_names(rows: NDArray[np.int64]) -> tuple[str, ...]:
    """Name sites that are ordered by row and then along the row; a row without sites counts."""
    names: list[str] = []
    current, letters, number = -1, "", 0
    for row in rows.tolist():
        if row != current:
            current, letters, number = row, row_letters(row), 0
        number += 1
        names.append(f"{letters}{number}")
    return tuple(names)
