"""Did the tape find a bed out of true?"""

from collections.abc import Iterator
from typing import Final

from geometry.beds.outline import exact_box, skew_mm
from geometry.checks.finding import Finding
from geometry.model.bed import Bed
from geometry.model.outlines import Measured
from geometry.units import TOLERANCE_MM

DOUBTFUL_SHARE: Final = 0.02
"""A bed skewed by more than this share of its width is rather measured wrong (no source)."""


def check_skew(bed: Bed) -> Iterator[Finding]:
    """Yield a note when like measures of a bed differ; a question when they differ by much.

    The amount is the largest difference between widths, between lengths or between diagonals.
    """
    if not isinstance(bed.outline, Measured):
        return
    skew = skew_mm(bed.outline)
    if skew <= TOLERANCE_MM:
        return
    doubtful = DOUBTFUL_SHARE * float(min(exact_box(bed.outline)))
    yield Finding(
        code="skew",
        severity="question" if skew > doubtful else "note",
        bed=bed.name,
        subject="outline",
        amount_mm=skew,
        limit_mm=doubtful if skew > doubtful else 0.0,
    )
