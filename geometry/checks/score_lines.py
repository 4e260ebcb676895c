"""Does a raft break along a score line?"""

from collections.abc import Iterator
from fractions import Fraction

from geometry.checks.finding import Finding
from geometry.cutting.plan import CutPlan, Piece
from geometry.cutting.task import lies_along_score
from geometry.model.sheet import Sheet


def check_score_lines(cut: CutPlan) -> Iterator[Finding]:
    """Ask about every raft design that has a score line along its long side.

    A board breaks along its scores; across a raft they do little harm, along it they halve it. The
    subject is the sheet, the amount how far the line lies from the side of the raft.
    """
    told: set[tuple[str, str]] = set()
    for cut_sheet in cut.sheets:
        sheet = cut_sheet.sheet
        for piece in cut_sheet.pieces:
            key = piece.design, sheet.name
            if key in told or not lies_along_score(piece.length, piece.width, sheet):
                continue
            line = _line_within(piece, sheet)
            if line is not None:
                told.add(key)
                yield Finding(
                    code="score-line",
                    severity="question",
                    bed="",
                    raft=piece.design,
                    subject=sheet.name,
                    amount_mm=float(line),
                )


def _line_within(piece: Piece, sheet: Sheet) -> Fraction | None:
    """Find how far from its left or lower side the first score line runs along a piece."""
    score = sheet.score
    if score is None:
        return None
    gap, start, extent = (
        (score.across, piece.x, piece.length)
        if piece.width > piece.length
        else (score.along, piece.y, piece.width)
    )
    if gap is None:
        return None
    line = (start // gap.exact + 1) * gap.exact
    return line - start if line < start + extent else None
