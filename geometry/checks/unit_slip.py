"""Does a number look as if it were typed in another unit? Only ever a question, never a block."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log
from typing import Final

from geometry.beds.outline import exact_box
from geometry.checks.finding import Finding, SetLength
from geometry.errors import OutlineError
from geometry.model.bed import Bed, Fit
from geometry.model.planting import Planting
from geometry.model.sheet import Cutting, Sheet
from geometry.model.zone import Zone
from geometry.units import TOLERANCE_MM, Length

SLIPS: Final = (25.4, 1 / 25.4, 10.0, 0.1)
"""Inches or centimetres read as millimetres, and the other way about."""

FAR_OVER: Final = 1.5
"""How many spacings hole and web together may take before they are asked about."""


@dataclass(frozen=True, slots=True)
class Usual:
    """What is usual for a length, in mm (common practice, no source), and what is typical."""

    low: float
    high: float
    typical: float


SPACING: Final = Usual(20, 1500, 200)
HOLE: Final = Usual(5, 200, 50)
BED_SIDE: Final = Usual(200, 200_000, 2500)
RAFT_SIDE: Final = Usual(100, 15_000, 1200)
SHEET_SIDE: Final = Usual(100, 15_000, 1200)
THICKNESS: Final = Usual(5, 300, 50)
KERF: Final = Usual(0, 10, 3)
SHORT: Final = Usual(0, 30, 5)
"""What a side of a board may lack: data sheets say up to 8 mm, one builder found an inch."""
TRIM: Final = Usual(0, 100, 5)
PLAY_SHARE: Final = 0.1
"""Clearance and joint gap usually take less than this share of the bed's shorter side."""


def check_units(bed: Bed) -> Iterator[Finding]:
    """Ask about lengths of a bed and its planting that are far from usual.

    A cure is offered where reading the number in another unit makes it usual. What is usual has
    its limits included, so a length exactly at a limit is not asked about.
    """
    try:
        length, width = (float(side) for side in exact_box(bed.outline))
    except OutlineError:
        return
    most_play = PLAY_SHARE * min(length, width)
    for side, mm in (("length", length), ("width", width)):
        is_one_number = isinstance(getattr(bed.outline, side, None), Length)
        yield from _asked(bed.name, f"outline.{side}", mm, BED_SIDE, can_be_set=is_one_number)
    yield from _asked(bed.name, "clearance", bed.clearance.mm, Usual(0, most_play, 10))
    yield from _asked(bed.name, "joint_gap", bed.joint_gap.mm, Usual(0, most_play, 5))
    if isinstance(bed.rafts, Fit):
        yield from _asked(bed.name, "rafts.length", bed.rafts.length.mm, RAFT_SIDE)
        yield from _asked(bed.name, "rafts.width", bed.rafts.width.mm, RAFT_SIDE)
    if bed.planting:
        yield from _planting(bed.name, bed.planting)
    for number, zone in enumerate(bed.zones):
        yield from _zone(bed.name, number, zone)


def check_sheet_units(sheets: Sequence[Sheet], cutting: Cutting) -> Iterator[Finding]:
    """Ask about lengths of sheets and of the cutting that are far from usual."""
    for number, sheet in enumerate(sheets):
        for side, value, usual in (
            ("length", sheet.length, SHEET_SIDE),
            ("width", sheet.width, SHEET_SIDE),
            ("thickness", sheet.thickness, THICKNESS),
            ("tolerance", sheet.tolerance, SHORT),
        ):
            if value is not None:
                subject = f"sheets.{number}.{side}"
                yield from _asked("", subject, value.mm, usual, can_be_set=False)
    yield from _asked("", "cutting.kerf", cutting.kerf.mm, KERF, can_be_set=False)
    yield from _asked("", "cutting.trim", cutting.trim.mm, TRIM, can_be_set=False)


def _planting(bed: str, planting: Planting) -> Iterator[Finding]:
    spacing, hole, web = planting.spacing.mm, planting.hole_diameter.mm, planting.web.mm
    asked = [
        *_asked(bed, "planting.spacing", spacing, SPACING),
        *_row_spacing(bed, planting.row_spacing),
        *_asked(bed, "planting.hole_diameter", hole, HOLE),
    ]
    yield from asked
    if asked:
        return
    if hole > spacing:
        roomy, small = Usual(hole, SPACING.high, 4 * hole), Usual(HOLE.low, spacing, spacing / 4)
        larger, smaller = _usual_reading(spacing, roomy), _usual_reading(hole, small)
        cure = (
            SetLength("planting.spacing", larger)
            if larger
            else smaller and SetLength("planting.hole_diameter", smaller)
        )
        yield _question(bed, "planting.hole_diameter", hole, spacing, cure or None)
    elif hole + web > FAR_OVER * spacing:
        most = FAR_OVER * spacing - hole
        yield from _asked(bed, "planting.web", web, Usual(0, most, 25))


def _zone(bed: str, number: int, zone: Zone) -> Iterator[Finding]:
    for key, value, usual in (
        ("spacing", zone.rules.spacing, SPACING),
        ("row_spacing", zone.rules.row_spacing, SPACING),
        ("hole_diameter", zone.rules.hole_diameter, HOLE),
    ):
        if value is not None:
            yield from _asked(bed, f"zones.{number}.{key}", value.mm, usual)


def _row_spacing(bed: str, value: Length | None) -> Iterator[Finding]:
    if value is not None:
        yield from _asked(bed, "planting.row_spacing", value.mm, SPACING)


def _asked(
    bed: str, subject: str, mm: float, usual: Usual, *, can_be_set: bool = True
) -> Iterator[Finding]:
    if usual.low - TOLERANCE_MM <= mm <= usual.high + TOLERANCE_MM:
        return
    reading = _usual_reading(mm, usual) if can_be_set else None
    cure = None if reading is None else SetLength(subject, reading)
    yield _question(bed, subject, mm, usual.low if mm < usual.low else usual.high, cure)


def _question(
    bed: str, subject: str, amount: float, limit: float, cure: SetLength | None
) -> Finding:
    return Finding(
        code="unit-slip",
        severity="question",
        bed=bed,
        subject=subject,
        amount_mm=amount,
        limit_mm=limit,
        cure=cure,
    )


def _usual_reading(mm: float, usual: Usual) -> float | None:
    """Read a number in another unit: the usual reading nearest to the typical value, if any.

    Readings that no tape shows come last, but for inches with decimals: "12 in" for 304.8 mm was
    meant to be 12 mm, not 30.48 mm.
    """
    readings = [(slip, round(mm * slip, 6)) for slip in SLIPS]
    fitting = [each for each in readings if usual.low <= each[1] <= usual.high and each[1]]
    ranked = sorted(
        (
            slip != SLIPS[0] and not _is_on_a_tape(reading),
            abs(log(reading / usual.typical)),
            reading,
        )
        for slip, reading in fitting
    )
    return ranked[0][-1] if ranked else None


def _is_on_a_tape(mm: float) -> bool:
    steps = (mm, mm / SLIPS[0] * 16)
    return any(abs(step - round(step)) < TOLERANCE_MM for step in steps)
