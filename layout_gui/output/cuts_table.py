"""The table of the cut plan: what comes out of which sheet, for saws that are set by numbers."""

import csv
from fractions import Fraction
from typing import Final, TextIO

from geometry.cutting.plan import CutPlan
from layout_gui.output.tables import plain

HEADER: Final = (
    "sheet",
    "board",
    "piece",
    "raft_design",
    "x_mm",
    "y_mm",
    "length_mm",
    "width_mm",
    "turned",
)
"""The columns of ``cuts.csv``, in order."""


def write_cuts(cut: CutPlan, stream: TextIO) -> None:
    """Write one row for every piece of every sheet to cut.

    Sheets are numbered as on the cut sheet, pieces from 1 on each. ``board`` is the name of the
    sheet as bought. ``x_mm``, ``y_mm`` is the lower left corner of the piece on its sheet,
    ``length_mm`` along the sheet and ``width_mm`` across it, as the piece lies there; ``turned``
    says that its raft lies turned a quarter. Millimetres, with the decimal point.
    """
    rows = csv.writer(stream, lineterminator="\n")
    rows.writerow(HEADER)
    number = 0
    for sheet in cut.sheets:
        pieces = [
            (
                plain(sheet.sheet.name),
                count,
                piece.design,
                *map(_mm, (piece.x, piece.y, piece.length, piece.width)),
                "yes" if piece.turned else "no",
            )
            for count, piece in enumerate(sheet.pieces, start=1)
        ]
        for _ in range(sheet.copies):
            number += 1
            rows.writerows((number, *piece) for piece in pieces)


def _mm(value: Fraction) -> str:
    whole, _, rest = f"{float(value):.6f}".partition(".")
    return f"{whole}.{rest.rstrip('0'):0<3}"
