"""How often to sow for a household, so that not everything is ripe at once."""

from dataclasses import dataclass
from math import ceil
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import tr

USUAL_KEEPS: Final = 7
"""So many days a ripe head of lettuce stands in the bed (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Rhythm:
    """Sow every so many days, so that ``plants`` ripen: what is eaten until the next ones do."""

    every: int
    plants: int


def rhythm_for(per_week: int, keeps: int) -> Rhythm:
    """Find the calmest rhythm in which nothing stands ripe for more than ``keeps`` days.

    The last plant of a batch stands until the next batch is ripe, so batches come no more than
    ``keeps`` days apart: whole weeks if these are long enough, so that the weekday stays.
    """
    if per_week < 1 or keeps < 1:
        raise GeometryError(tr("There must be one plant a week and one day to eat it, or more."))
    every = keeps // 7 * 7 or keeps
    return Rhythm(every, ceil(per_week * every / 7))
