"""How wide the leaves of a planting are from day to day: measured first, else reckoned.

Where nothing was measured, the logistic law leads from the width at planting to that of a plant
grown up (``geometry.growth.width``). What had to be assumed for that is told with it.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from geometry.crops.leaves import days_of, first_day_at, record_of, width_on
from geometry.crops.table import Crop, find_crop
from geometry.errors import GeometryError
from geometry.growth.width import Spread
from geometry.model.growth import Growth
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.units import Length

Assumption = Literal["planted as the hole", "middle width", "middle days"]
"""A seedling as wide as its hole (common practice, no source), or the middle of a range."""


@dataclass(frozen=True, slots=True)
class Course:
    """The leaves of one crop; days count from the one on which it comes onto the water.

    Either ``measured`` holds the grower's figures or ``reckoned`` a law. Both are known from day
    ``first`` to day ``last``. ``harvest`` is the day on which the crop is picked, None where nobody
    says. Two equal courses give the same widths.
    """

    measured: Growth | None
    reckoned: Spread | None
    first: int
    last: int
    harvest: int | None
    assumed: tuple[Assumption, ...] = ()

    def width_on(self, day: int) -> float | None:
        """Return the width of the leaves on a day, in mm; None on days that are not known."""
        if not self.first <= day <= self.last:
            return None
        if self.reckoned is not None:
            return self.reckoned.width_on(day)
        width = width_on(self.measured, day) if self.measured is not None else None
        return None if width is None else float(width)

    def day_at(self, width_mm: float) -> int | None:
        """Return the first known day on which leaves are at least so wide; None for never."""
        if self.measured is not None:
            return first_day_at(self.measured, Fraction(width_mm))
        day = self.reckoned.day_at(width_mm) if self.reckoned is not None else None
        return day if day is not None and day <= self.last else None


def course_of(project: Project, planting: Planting) -> Course | None:
    """Return the course of a planting's leaves; None where no two widths are known of its crop."""
    crop = find_crop(planting.crop, project.crops)
    harvest, assumed = _harvest(crop)
    measured = record_of(project.growth, planting.crop)
    days = days_of(measured)
    if days is not None:
        return Course(measured, None, *days, harvest, assumed)
    if crop is None or crop.mature_width is None or harvest is None:
        return None
    first = _middle(crop.planted_width) if crop.planted_width else planting.hole_diameter.exact
    if crop.planted_width is None:
        assumed = ("planted as the hole", *assumed)
    if crop.mature_width[0] != crop.mature_width[1]:
        assumed = (*assumed, "middle width")
    try:
        law = Spread(float(first), float(_middle(crop.mature_width)), harvest)
    except GeometryError:
        return None  # as wide at planting as grown up: nothing follows from that
    return Course(None, law, 0, harvest, harvest, assumed)


def courses_of(project: Project, plantings: tuple[Planting, ...]) -> tuple[Course | None, ...]:
    """Return the course of each planting of a bed, in their order."""
    return tuple(course_of(project, planting) for planting in plantings)


def _harvest(crop: Crop | None) -> tuple[int | None, tuple[Assumption, ...]]:
    if crop is None or crop.days is None:
        return None, ()
    least, most = crop.days
    return (least + most) // 2, () if least == most else ("middle days",)


def _middle(ends: tuple[Length, Length]) -> Fraction:
    return (ends[0].exact + ends[1].exact) / 2
