"""The plain straight-cut plan: rows of rafts across each sheet, cut edge to edge."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.model.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Piece:
    """One raft's bounding rectangle on a sheet: lower left corner and size, sheet coordinates."""

    design: str
    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction
    turned: bool


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet and what is cut from it; ``copies`` sheets are cut alike."""

    sheet: Sheet
    pieces: tuple[Piece, ...]
    copies: int


@dataclass(frozen=True, slots=True)
class CutPlan:
    """All sheets to cut. ``unplaced`` counts the rafts, by design, that no sheet on hand holds."""

    sheets: tuple[CutSheet, ...] = ()
    unplaced: tuple[tuple[str, int], ...] = ()

    @property
    def sheet_count(self) -> int:
        """How many sheets are cut up."""
        return sum(cut.copies for cut in self.sheets)
