"""Do rafts float free at every level, come out, and leave no more open water than is wanted?"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor
from typing import Final, Literal

from geometry.afloat.floating import Foam, float_of
from geometry.afloat.water import water_density
from geometry.checks.finding import Cure, Finding, SealEdge, SetLength
from geometry.checks.lifting import NOTHING_ABOVE, Lifting, look_at_lifting
from geometry.checks.open_water import NO_WATER, OpenWater, between_rafts
from geometry.errors import GeometryError
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.limits import Limits
from geometry.model.sheet import Sheet
from geometry.rafts.layout import RaftLayout, RaftPlace
from geometry.rafts.play import AXES, Axis, LevelFit, levels_fit
from geometry.rafts.split import lay_rafts
from geometry.units import MM_PER, TOLERANCE_MM, ZERO, Length

_MOST_TRIES: Final = 12

Gap = Literal["clearance", "joint_gap"]


@dataclass(frozen=True, slots=True)
class Fit:
    """How the rafts of a bed fit in: at each level, under what lies above, and before the light.

    ``light`` counts the gaps; what is open in the holes is added once they are known. ``findings``
    are what jams and what does not come out.
    """

    levels: tuple[LevelFit, ...] = ()
    lifting: Lifting = NOTHING_ABOVE
    light: OpenWater = NO_WATER
    findings: tuple[Finding, ...] = ()

    @property
    def working(self) -> LevelFit | None:
        """How they lie at the working level; None without rafts."""
        return next((each for each in self.levels if each.level == "working"), None)


NO_RAFTS: Final = Fit()


@dataclass(frozen=True, slots=True)
class Widest:
    """The widest opening: all the room along one axis in one place, at one level."""

    axis: Axis
    fit: LevelFit
    mm: float


def fit_of(bed: Bed, layout: RaftLayout, allowances: Allowances) -> Fit:
    """Find out how rafts fit into their bed; it depends on nothing that is planted."""
    if not layout.rafts:
        return NO_RAFTS
    levels = levels_fit(bed, layout, allowances)
    lifting = look_at_lifting(bed, layout)
    return Fit(
        levels,
        lifting,
        between_rafts(layout, sealed=bed.edge_seal),
        (*_check_levels(bed, layout, levels, allowances), *_check_lifting(bed, lifting)),
    )


def fits_alike(one: Bed, other: Bed) -> bool:
    """Tell whether what is found out about the fit of one bed holds for another one."""
    return _frame(one) == _frame(other)


def _frame(bed: Bed) -> Bed:
    return replace(bed, planting=None, zones=())


def widest_opening(fit: Fit) -> Widest | None:
    """Tell the widest opening at any level; None without rafts.

    Rafts drift to one side, so all the room along an axis counts as one opening; with a strip at
    the wall only that between rafts.
    """
    found = [
        Widest(axis, each, float(play.joints if fit.light.sealed else play.most))
        for each in fit.levels
        for axis in AXES
        for play in (each.play(axis),)
    ]
    return max(found, key=lambda each: each.mm, default=None)


def _check_levels(
    bed: Bed, layout: RaftLayout, levels: Iterable[LevelFit], allowances: Allowances
) -> Iterator[Finding]:
    """Yield what jams at a level of the water, once for each level and axis.

    The amount is how much is missing, below zero. Walls that lean and growth are the grower's own
    figures, so nothing is told of beds of which they are not known.
    """
    for each in levels:
        for axis in each.jams if each.near is None else ():
            yield _jam(bed, layout, allowances, each, axis)
        if each.near is not None and each.is_stuck:
            yield _stuck(bed, allowances, each)


def _check_lifting(bed: Bed, lifting: Lifting) -> Iterator[Finding]:
    for trapped in lifting.trapped:
        yield Finding(
            "lift", "problem", bed.name, trapped.raft, subject=", ".join(trapped.under),
            place=trapped.place,
        )  # fmt: skip


def _jam(
    bed: Bed, layout: RaftLayout, allowances: Allowances, fit: LevelFit, axis: Axis
) -> Finding:
    along = axis == "along"
    row = [each for each in layout.rafts if (each.row if along else each.column) == 0]
    raft = max(row, key=lambda each: each.shape.length if along else each.shape.width)
    missing = fit.play(axis).least

    def jams(tried: LevelFit) -> bool:
        return axis in tried.jams

    gap: Gap = "clearance"
    start = bed.clearance.exact - missing / 2
    if len(row) > 1 and missing + fit.lean[AXES.index(axis)] < 0:
        # Without the lean of the walls they would jam as well: what grows is the rafts.
        gap, start = "joint_gap", bed.joint_gap.exact - missing / (len(row) - 1)
    return Finding(
        code="jam",
        severity="problem",
        bed=bed.name,
        raft=raft.name,
        subject=f"{fit.level} {axis}",
        place=_middle(raft),
        amount_mm=float(missing),
        limit_mm=0.0,
        cure=_least_that_frees(bed, allowances, fit, gap, start, jams),
    )


def _stuck(bed: Bed, allowances: Allowances, fit: LevelFit) -> Finding:
    assert fit.near is not None  # noqa: S101  # asked for only where it is told
    missing = min(fit.near.away, *(float(fit.play(axis).least) / 2 for axis in AXES))
    return Finding(
        code="jam",
        severity="problem",
        bed=bed.name,
        raft=fit.near.raft,
        subject=f"{fit.level} wall",
        place=fit.near.place,
        amount_mm=missing,
        limit_mm=0.0,
        cure=_least_that_frees(
            bed, allowances, fit, "clearance", bed.clearance.exact - Fraction(missing),
            lambda tried: tried.is_stuck,
        ),
    )  # fmt: skip


def _least_that_frees(
    bed: Bed,
    allowances: Allowances,
    fit: LevelFit,
    gap: Gap,
    start: Fraction,
    jams: Callable[[LevelFit], bool],
) -> SetLength | None:
    """The least step of the tape, from a first guess on, with which nothing jams; None is rare."""
    tape = _tape(bed)

    def frees(steps: int) -> bool:
        level = _tried(_with_gap(bed, gap, steps * tape), allowances, fit)
        return level is not None and not jams(level)

    at = ceil(start / tape)
    for step in range(_MOST_TRIES):
        if frees(at):
            break
        at += 2**step
    else:
        return None
    while (at - 1) * tape > getattr(bed, gap).exact and frees(at - 1):
        at -= 1
    return SetLength(gap, float(at * tape))


def _tape(bed: Bed) -> Fraction:
    """The step that gaps are set in: a sixteenth of an inch where the bed is typed in inches."""
    typed = [bed.clearance.typed, bed.joint_gap.typed, getattr(bed.outline, "length", ZERO).typed]
    inches = any(sign in text for text in typed for sign in ("in", '"', "ft", "'"))
    return MM_PER["in"] / 16 if inches else Fraction(1)


def _tried(bed: Bed, allowances: Allowances, fit: LevelFit) -> LevelFit | None:
    """How a bed with another gap does at a level; None where no raft is left."""
    try:
        levels = levels_fit(bed, lay_rafts(bed), allowances, fit.level)
    except GeometryError:
        return None
    return levels[0] if levels else None


def check_above(bed: Bed, fit: Fit, foam: Sheet | None) -> Iterator[Finding]:
    """Yield what lies so low above the water that rafts are pressed under it at high water.

    The foam that stands above the water counts where its thickness and density are known: bare
    rafts float highest. The amount is how high the upper face comes, the limit what is above it.
    """
    if not bed.water.high.exact:
        return
    shows = _bare_freeboard(bed, foam)
    top = bed.water.high.mm + shows
    for each in bed.obstacles:
        if (
            each.above is not None
            and each.above.mm < top - TOLERANCE_MM
            and each.name in fit.lifting.things
        ):
            tape = _tape(bed)
            low = floor(Fraction(each.above.mm - shows + TOLERANCE_MM) / tape) * tape
            yield Finding(
                code="pressed",
                severity="problem",
                bed=bed.name,
                subject=each.name,
                amount_mm=top,
                limit_mm=each.above.mm,
                cure=SetLength("water.high", float(low)) if low >= 0 else None,
            )


def _bare_freeboard(bed: Bed, foam: Sheet | None) -> float:
    if foam is None or foam.thickness is None or foam.density is None:
        return 0.0
    water = water_density(float(bed.water.celsius))
    bare = float_of(Foam(1e6, foam.thickness.mm, float(foam.density)), 0.0, water)
    return max(0.0, bare.freeboard)


def check_light(
    bed: Bed, layout: RaftLayout, fit: Fit, limits: Limits, allowances: Allowances
) -> Iterator[Finding]:
    """Yield where more water is open to light than the grower's limits allow; none without."""
    widest = widest_opening(fit)
    if limits.gap is not None and widest is not None and widest.mm > limits.gap.mm + TOLERANCE_MM:
        yield Finding(
            code="gap",
            severity="question",
            bed=bed.name,
            subject=f"{widest.fit.level} {widest.axis}",
            amount_mm=widest.mm,
            limit_mm=limits.gap.mm,
            cure=_narrower(bed, layout, fit, limits.gap, allowances),
        )
    most = limits.open_water
    if most is not None and fit.levels:
        worst = max(fit.levels, key=lambda each: fit.light.at(each.water_mm2))
        share = fit.light.at(worst.water_mm2)
        if share > float(most) + 1e-9:
            sealed = replace(fit.light, sealed=True)
            dark = max(sealed.at(each.water_mm2) for each in fit.levels)
            yield Finding(
                code="open-water",
                severity="question",
                bed=bed.name,
                subject=worst.level,
                figures=(share, float(most)),
                cure=SealEdge() if not bed.edge_seal and dark <= float(most) + 1e-9 else None,
            )


def _narrower(
    bed: Bed, layout: RaftLayout, fit: Fit, limit: Length, allowances: Allowances
) -> Cure | None:
    """The least change that brings the widest opening within the limit and lets nothing jam."""
    if not bed.edge_seal:
        sealed = replace(fit, light=replace(fit.light, sealed=True))
        widest = widest_opening(sealed)
        if widest is not None and widest.mm <= limit.mm + TOLERANCE_MM:
            return SealEdge()
    now = widest_opening(fit)
    over = Fraction(now.mm) - limit.exact if now is not None else Fraction(0)
    for gap, times in _times(bed, layout, now):
        tape = _tape(bed)
        mm = floor((getattr(bed, gap).exact - over / times) / tape) * tape
        if mm <= 0:
            continue
        tried = _with_gap(bed, gap, mm)
        there = fit_of(tried, lay_rafts(tried), allowances)
        widest = widest_opening(there)
        if (
            widest is not None
            and widest.mm <= limit.mm + TOLERANCE_MM
            and not any(each.is_stuck for each in there.levels)
        ):
            return SetLength(gap, float(mm))
    return None


def _times(bed: Bed, layout: RaftLayout, widest: Widest | None) -> Iterator[tuple[Gap, int]]:
    """The lengths that the widest opening is made of, and how often it has each."""
    if not bed.edge_seal:
        yield "clearance", 2
    if widest is not None:
        cells = {raft.column if widest.axis == "along" else raft.row for raft in layout.rafts}
        if len(cells) > 1:
            yield "joint_gap", len(cells) - 1


def _with_gap(bed: Bed, gap: Gap, mm: Fraction) -> Bed:
    length = Length(mm)
    return replace(bed, clearance=length) if gap == "clearance" else replace(bed, joint_gap=length)


def _middle(raft: RaftPlace) -> tuple[float, float]:
    return (
        float(raft.x + raft.shape.length / 2),
        float(raft.y + raft.shape.width / 2),
    )
