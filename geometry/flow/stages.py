"""How many seeds, plants and rafts a crop needs, stage by stage. Exact: shares are fractions."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, prod

from geometry.errors import GeometryError
from geometry.tongue import tr


@dataclass(frozen=True, slots=True)
class Stage:
    """A time that a batch spends in one place, at one spacing.

    ``sites`` is how many plants one raft of this stage holds; None before the plants come onto
    rafts. ``survival`` is the share of the plants that begin the stage and are fit to go on.
    """

    name: str
    days: int
    sites: int | None = None
    survival: Fraction = Fraction(1)

    def __post_init__(self) -> None:
        if self.days < 1:
            raise GeometryError(tr("The stage {name} must last a day or more.", name=self.name))
        if self.sites is not None and self.sites < 1:
            raise GeometryError(tr("A raft of the stage {name} holds no plant.", name=self.name))
        if not 0 < self.survival <= 1:
            raise GeometryError(
                tr("Of the stage {name} more than 0 and at most 100 % go on.", name=self.name)
            )


def survival(stages: Iterable[Stage]) -> Fraction:
    """Return the share of what is begun that comes through all these stages."""
    return prod((stage.survival for stage in stages), start=Fraction(1))


def begin_with(wanted: int | Fraction, stages: Iterable[Stage]) -> int:
    """Return how many to begin with so that at least ``wanted`` come through these stages."""
    return ceil(wanted / survival(stages))


def rafts_for(plants: int, stage: Stage) -> int:
    """Return how many rafts a batch of so many plants needs in a stage; none before rafts."""
    return ceil(Fraction(plants, stage.sites)) if stage.sites else 0


def batches_at_once(days: int, interval: int) -> int:
    """Return how many batches are in a stage of so many days, one begun every ``interval`` days.

    A batch leaves in the morning of the day on which the next one may come.
    """
    return ceil(Fraction(days, interval))


def raft_places(plants: int, stage: Stage, interval: int) -> int:
    """Return how many raft places a stage takes when every batch has rafts of its own."""
    return rafts_for(plants, stage) * batches_at_once(stage.days, interval)


def shared_places(plants: int, stage: Stage, interval: int) -> int:
    """Return the same where batches that stand side by side may share a raft."""
    at_once = plants * batches_at_once(stage.days, interval)
    return rafts_for(at_once, stage)


def whole_rafts_for(target: int | Fraction, stage: Stage, after: Iterable[Stage] = ()) -> int:
    """Return the fewest full rafts of a stage from which at least ``target`` are harvested."""
    if not stage.sites:
        raise GeometryError(tr("The stage {name} is not on rafts.", name=stage.name))
    each = stage.sites * stage.survival * survival(after)
    return ceil(target / each)


def packs(needed: int | Fraction, size: int | Fraction) -> int:
    """Return how many packs of a size hold what is needed."""
    return ceil(Fraction(needed) / size)
