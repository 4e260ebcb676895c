"""Choices side by side: the same bed with another pattern, spacing or margin."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from typing import Final

from geometry.afloat.riding import Afloat
from geometry.compare.courses import courses_of
from geometry.compare.growing import Growing, growing
from geometry.compare.riding import heaviest
from geometry.compare.want import find_spacing, least_spacing
from geometry.flow.room import Room
from geometry.model.bed import Bed
from geometry.model.planting import Pattern, Planting
from geometry.model.project import Choice, Project
from geometry.model.wanted import Density
from geometry.plan import BedPlan, make_plan
from geometry.tongue import tr
from geometry.units import MM_PER, ZERO, Length, Unit

Sameness = tuple[Planting, int | None, Density | None]

_PATTERNS: Final[tuple[Pattern, ...]] = ("square", "hexagonal", "best")
_TENTHS: Final = (9, 11)
"""A spacing is also tried a tenth narrower and a tenth wider."""


@dataclass(frozen=True, slots=True)
class ChoiceResult:
    """What one choice gives in its bed.

    ``planting`` holds the rules it was planned with; its spacing is the one found where the choice
    asks for a number or a density of plants (``wanted`` is that number, None otherwise).
    ``pattern`` and ``direction`` say which rows won, both empty when no hole fits. ``problems``
    counts the findings that spoil raft or crop. ``growing`` says how leaves close over the water,
    None where that is not known or was not asked for. ``rooms`` are what the bed then offers runs,
    ``afloat`` is how its heaviest raft rides, None where that is not known or was not asked for.
    """

    choice: Choice
    planting: Planting
    pattern: str
    direction: str
    pitch_mm: float
    row_gap_mm: float
    plants: int
    density_per_m2: float
    ceiling: int | None
    least_web_mm: float | None
    problems: int
    wanted: int | None = None
    growing: Growing | None = None
    rooms: tuple[Room, ...] = ()
    afloat: Afloat | None = None

    @property
    def plain(self) -> Choice:
        """The choice with the spacing that was found, as it can be used in the bed."""
        if self.wanted is None:
            return self.choice
        return replace(self.choice, spacing=self.planting.spacing, count=None, density=None)

    @property
    def share_of_ceiling(self) -> float | None:
        """Plants as a share of the most that any arrangement could hold."""
        return self.plants / self.ceiling if self.ceiling else None


def compare_choices(project: Project, bed: Bed) -> tuple[ChoiceResult, ...]:
    """Plan every choice of a bed and tell what it gives, the bed as it stands first.

    Then come the choices that the project keeps for this bed, then the offered ones. Empty for a
    bed without planting.
    """
    choices = choices_for(project, bed)
    return tuple(with_outcome(project, *judge_plan(project, bed, choice)) for choice in choices)


def with_outcome(project: Project, result: ChoiceResult, planned: BedPlan) -> ChoiceResult:
    """Add to a result how leaves and rafts do in the plan it was read off."""
    found = growing(planned, courses_of(project, planned.plantings))
    return replace(result, growing=found, afloat=heaviest(project, planned))


def choices_for(project: Project, bed: Bed) -> tuple[Choice, ...]:
    """Return the choices worth comparing: as it stands, all kept ones, and offered ones.

    Offered are patterns times spacings (its own, a tenth less and more, in round numbers) times
    edge margins (its own and the least that the web allows), none that come to the same as
    another choice. Only kept choices have names.
    """
    planting = bed.planting
    if planting is None:
        return ()
    kept = [choice for choice in project.choices if choice.bed == bed.name]
    chosen = [Choice("", bed.name), *kept]
    known = {same_as(planting, choice) for choice in chosen}
    for choice in _offered(project.units, bed.name, planting):
        key = same_as(planting, choice)
        if key not in known:
            known.add(key)
            chosen.append(choice)
    return tuple(chosen)


def same_as(planting: Planting, choice: Choice) -> Sameness:
    """Return what choices have in common that come to the same in a bed planted so."""
    return _effective(applied(planting, choice)), choice.count, choice.density


def judge(project: Project, bed: Bed, choice: Choice) -> ChoiceResult:
    """Plan one choice of a bed by itself; its planting is the bed's, changed by the choice."""
    return judge_plan(project, bed, choice)[0]


def judge_plan(project: Project, bed: Bed, choice: Choice) -> tuple[ChoiceResult, BedPlan]:
    """Judge a choice as ``judge`` does, and return the plan of its bed as well."""
    if bed.planting is None:
        msg = tr('The bed "{name}" has no planting to compare.', name=bed.name)
        raise ValueError(msg)
    planting = applied(bed.planting, choice)
    wanted = None
    if (amount := choice.count or choice.density) is not None:
        found = find_spacing(replace(bed, planting=planting), amount, project.units)
        if found is not None:
            wanted = found.wanted
            # What cannot be reached is planned as close as holes and web allow.
            spacing = found.spacing or least_spacing(planting)
            planting = replace(planting, spacing=Length(spacing))
    # Places for the tape change no count.
    alone = Project(project.name, beds=(replace(bed, planting=replace(planting, round_to=None)),))
    planned = make_plan(alone).beds[0]
    return result_of(planned, choice, planting, wanted), planned


def result_of(
    planned: BedPlan, choice: Choice, planting: Planting, wanted: int | None = None
) -> ChoiceResult:
    """Tell what a plan of a bed gives that was made with a choice and the rules it led to."""
    best = planned.tried[0] if planned.tried else None
    return ChoiceResult(
        choice,
        planting,
        best.pattern if best else "",
        best.direction if best else "",
        best.pitch_mm if best else 0.0,
        best.row_gap_mm if best else 0.0,
        planned.plants,
        planned.density_per_m2,
        planned.ceiling,
        planned.least_web_mm,
        sum(finding.severity == "problem" for finding in planned.findings),
        wanted,
        rooms=planned.rooms,
    )


def applied(planting: Planting, choice: Choice) -> Planting:
    """Return the planting with what the choice changes outright; hand edits stay."""
    return replace(
        planting,
        pattern=choice.pattern or planting.pattern,
        rows=choice.rows or planting.rows,
        spacing=choice.spacing or planting.spacing,
        row_spacing=choice.row_spacing or planting.row_spacing,
        edge_margin=planting.edge_margin if choice.edge_margin is None else choice.edge_margin,
    )


def _offered(units: Unit, bed: str, planting: Planting) -> Iterator[Choice]:
    own = planting.spacing
    spacings = [own, *(_round(own.exact * tenths / 10, units) for tenths in _TENTHS)]
    margins = (planting.edge_margin, ZERO)
    for pattern, spacing, margin in product(_PATTERNS, spacings, margins):
        yield Choice("", bed, pattern=pattern, spacing=spacing, edge_margin=margin)


def _round(mm: Fraction, units: Unit) -> Length:
    """To 5 mm or 1/4 in, or not at all when that would leave nothing."""
    step = MM_PER["in"] / 4 if units == "in" else Fraction(5)
    return Length(round(mm / step) * step or mm)


def _effective(planting: Planting) -> Planting:
    """The rules as they act, so that choices which come to the same are seen to be equal."""
    radius = planting.hole_diameter.exact / 2
    spacing = max(planting.spacing.exact, planting.hole_diameter.exact + planting.web.exact)
    rows = planting.row_spacing if planting.pattern == "rectangular" else None
    margin = max(planting.edge_margin.exact, planting.web.exact + radius)
    return replace(planting, spacing=Length(spacing), row_spacing=rows, edge_margin=Length(margin))
