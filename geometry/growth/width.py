"""How wide a plant is on a day: the sigmoid between its width at planting and grown up."""

from dataclasses import dataclass
from math import ceil, exp, log, sqrt
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import tr

GROWN_SHARE: Final = 0.98
"""A plant counts as grown up when its area has come so far; the curve never quite arrives."""


@dataclass(frozen=True, slots=True)
class Spread:
    """A plant that is ``first`` mm wide on day 0 and ``grown`` mm wide after ``days`` days.

    Between them its area follows the logistic law (Verhulst), which fitted the projected area of
    lettuce best of three sigmoids (Agronomy 2022, 12(4):860). It is a reckoning: measure your own.

    Raises:
        GeometryError: A plant that does not grow.
    """

    first: float
    grown: float
    days: int

    def __post_init__(self) -> None:
        if not 0 < self.first < self.grown or self.days < 1:
            raise GeometryError(
                tr("A plant must be wider grown up than at planting, after a day or more.")
            )
        if self.first**2 >= GROWN_SHARE * self.grown**2:
            raise GeometryError(tr("At planting this plant is as good as grown up."))

    def width_on(self, day: float) -> float:
        """Return the width in mm on a day; it goes on towards ``grown``."""
        most = self.grown**2
        begin = most / self.first**2 - 1
        return sqrt(most / (1 + begin * exp(-self._rate * day)))

    def day_at(self, width: float) -> int | None:
        """Return the first whole day on which it is at least so wide; None if it never is."""
        if width <= self.first:
            return 0
        if width >= self.grown:
            return None
        begin, left = (self.grown**2 / each**2 - 1 for each in (self.first, width))
        return ceil(log(begin / left) / self._rate - 1e-9)

    @property
    def _rate(self) -> float:
        begin = self.grown**2 / self.first**2 - 1
        return log(begin * GROWN_SHARE / (1 - GROWN_SHARE)) / self.days
