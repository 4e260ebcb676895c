"""Names of sites: row letter and number, "A1" nearest the datum corner."""

from functools import lru_cache

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
    return _names(rows.astype(np.int64).tobytes())


@lru_cache(maxsize=64)
def _names(rows: bytes) -> tuple[str, ...]:
    """Name sites by the numbers of their rows; most rafts of a bed have the same."""
    names: list[str] = []
    current, letters, number = -1, "", 0
    for row in np.frombuffer(rows, np.int64).tolist():
        if row != current:
            current, letters, number = row, row_letters(row), 0
        number += 1
        names.append(f"{letters}{number}")
    return tuple(names)
