"""What the batches that were grown tell of the next ones: shares that lived, and what heads weigh.

Batches are pooled: all plants that went on over all that began, as one large batch would give. A
batch of two hundred then counts ten times one of twenty, which is what the next sowing is planned
by; a median would let a few seeds in a cup outvote a tray.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from geometry.model.log import BatchGrown
from geometry.model.run import Run

Step = Literal["up", "set", "picked"]

STEPS: Final[tuple[tuple[str, Step], ...]] = (("seeds", "up"), ("up", "set"), ("set", "picked"))


@dataclass(frozen=True, slots=True)
class Lived:
    """Of ``began`` plants of some ``batches``, ``went_on`` reached ``step`` from ``since``.

    ``least`` and ``most`` are the shares of the worst and the best batch.
    """

    step: Step
    since: str
    began: int
    went_on: int
    batches: int
    least: Fraction
    most: Fraction

    @property
    def share(self) -> Fraction:
        """The pooled share, from 0 to 1."""
        return Fraction(self.went_on, self.began)


@dataclass(frozen=True, slots=True)
class Weighed:
    """``plants`` of some ``batches`` weighed ``grams`` together."""

    plants: int
    grams: Fraction
    batches: int

    @property
    def each(self) -> Fraction:
        """What one weighed, in grams."""
        return self.grams / self.plants


@dataclass(frozen=True, slots=True)
class Told:
    """What the batches of one run tell: each step that both ends of were counted, and the mass."""

    run: str
    lived: tuple[Lived, ...]
    weighed: Weighed | None


def told_by(batches: Iterable[BatchGrown], run: str) -> Told:
    """Pool the batches of a run.

    Where nobody counted what came up, ``set`` counts from the seeds. Counts that grow on their way
    are slips and left out.
    """
    own = [batch for batch in batches if batch.run == run]
    lived = [found for since, step in STEPS if (found := _lived(own, since, step)) is not None]
    if not any(each.step in {"up", "set"} for each in lived):
        whole = _lived(own, "seeds", "set")
        lived = [*([whole] if whole else []), *lived]
    weighed = [batch for batch in own if batch.picked and batch.grams is not None]
    plants = sum(batch.picked or 0 for batch in weighed)
    grams = sum((batch.grams or Fraction(0) for batch in weighed), Fraction(0))
    mass = Weighed(plants, grams, len(weighed)) if weighed else None
    return Told(run, tuple(lived), mass)


def _lived(batches: Sequence[BatchGrown], since: str, step: Step) -> Lived | None:
    pairs = [
        (began, went_on)
        for batch in batches
        if (began := getattr(batch, since)) and (went_on := getattr(batch, step)) is not None
        if went_on <= began
    ]
    if not pairs:
        return None
    shares = [Fraction(went_on, began) for began, went_on in pairs]
    began, went_on = (sum(column) for column in zip(*pairs, strict=True))
    return Lived(step, since, began, went_on, len(pairs), min(shares), max(shares))


def survivals(run: Run, told: Told) -> dict[int, Fraction]:
    """Return the measured survival of each stage that something was measured of, by its place.

    What came up lived through the first stage without a bed, what was set afloat through all of
    them. What is lost on the water is put into the last stage there and the others are taken as
    without loss, for the counts cannot tell them apart; the whole is then as it was measured.
    Steps of one stage multiply. A share is rounded to a tenth of a percent and never 0.
    """
    stages = range(len(run.stages))
    before = [at for at in stages if not run.stages[at].bed] or [0]
    afloat = [at for at in stages if run.stages[at].bed] or [len(run.stages) - 1]
    found: dict[int, Fraction] = {}

    def put(at: int, share: Fraction) -> None:
        found[at] = found.get(at, Fraction(1)) * share

    for each in told.lived:
        match each.step, each.since:
            case "up", _:
                put(before[0], each.share)
            case "set", since:
                for at in before:
                    put(at, Fraction(1))
                put(before[-1] if since == "up" else before[0], each.share)
            case _:
                for at in afloat:
                    put(at, Fraction(1))
                put(afloat[-1], each.share)
    least = Fraction(1, 1000)
    return {at: max(Fraction(round(share * 1000), 1000), least) for at, share in found.items()}
