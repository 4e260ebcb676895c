"""The cut plan: which rafts come out of which sheet, and how good that is proved to be."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.model.sheet import Aim, Sheet


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
class Offcut:
    """What is left over of a sheet: lower left corner and size on its smallest board."""

    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction

    @property
    def area(self) -> Fraction:
        """Its area in mm²."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet and what is cut from it; ``copies`` sheets are cut alike.

    The cuts in order and what is left over follow from it: see ``cutting.cuts``.
    """

    sheet: Sheet
    pieces: tuple[Piece, ...]
    copies: int

    @property
    def raft_area(self) -> Fraction:
        """The area of all pieces of one copy, in mm²."""
        return sum((piece.length * piece.width for piece in self.pieces), Fraction(0))

    @property
    def waste_area(self) -> Fraction:
        """What is no raft of one copy at its nominal size: kerf, trim and leftovers, in mm²."""
        return self.sheet.length.exact * self.sheet.width.exact - self.raft_area


@dataclass(frozen=True, slots=True)
class CutPlan:
    """All sheets to cut. ``unplaced`` counts the rafts, by design, that no sheet on hand holds.

    ``aim`` is what the plan keeps low, ``bound`` the proved least that any plan for the placed
    rafts needs of it: sheets bought, or what they cost. None where nothing is proved because
    sheets ran out. ``searched`` says that the search for a better plan is over.
    """

    sheets: tuple[CutSheet, ...] = ()
    unplaced: tuple[tuple[str, int], ...] = ()
    aim: Aim = "sheets"
    bound: Fraction | None = None
    searched: bool = False

    @property
    def sheet_count(self) -> int:
        """How many sheets are cut up, offcuts on hand included."""
        return sum(cut.copies for cut in self.sheets)

    @property
    def bought_count(self) -> int:
        """How many sheets are bought: all but the offcuts on hand."""
        return sum(cut.copies for cut in self.sheets if not cut.sheet.offcut)

    @property
    def cost(self) -> Fraction | None:
        """What the bought sheets cost; None if the price of one is not known."""
        total = Fraction(0)
        for cut in self.sheets:
            if not cut.sheet.offcut:
                if cut.sheet.price is None:
                    return None
                total += cut.sheet.price * cut.copies
        return total

    @property
    def proved(self) -> bool:
        """Whether no plan can need less of what ``aim`` names."""
        needed = self.cost if self.aim == "cost" else Fraction(self.bought_count)
        return self.bound is not None and needed is not None and needed <= self.bound

    @property
    def waste_share(self) -> float:
        """Share of the cut sheets, at their nominal size, that does not become rafts."""
        waste = sum((cut.waste_area * cut.copies for cut in self.sheets), Fraction(0))
        rafts = sum((cut.raft_area * cut.copies for cut in self.sheets), Fraction(0))
        return float(waste / (waste + rafts)) if self.sheets else 0.0
