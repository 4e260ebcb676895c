"""What happened: rafts as they were made, batches as they grew, and notes."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from geometry.units import Length

About = Literal["project", "raft", "batch"]


@dataclass(frozen=True, slots=True)
class RaftMade:
    """A raft that was cut and drilled. ``label`` is written on the foam.

    ``design`` is the name of its raft design, ``code`` the design code that its papers bore,
    and ``drawing`` that raft as it was drawn then, so that it can be printed again: text that
    the program wrote. ``length``, ``width``, ``hole_diameter`` and ``sites`` are as it came out,
    None where nobody measured it. ``bed`` and ``raft`` name the place in which it lies, both empty
    for a spare one. ``coats`` counts those of paint; it was washed ``washes`` times, at last on the
    day ``washed``.
    """

    label: str
    design: str = ""
    code: str = ""
    made: date | None = None
    length: Length | None = None
    width: Length | None = None
    hole_diameter: Length | None = None
    sites: int | None = None
    retired: bool = False
    bed: str = ""
    raft: str = ""
    coats: int | None = None
    washes: int | None = None
    washed: date | None = None
    drawing: str = ""

    @property
    def place(self) -> tuple[str, str]:
        """Bed and raft in whose place it lies; empty names for one that is spare or retired."""
        return ("", "") if self.retired else (self.bed, self.raft)


@dataclass(frozen=True, slots=True)
class BatchGrown:
    """A batch as it grew: ``seeds`` sown, ``up`` come up, ``set`` on the water, ``picked``.

    ``grams`` is what the picked plants weighed together, ``per_m2`` how many stood on a square
    metre at last. What is None was not written down.
    """

    run: str
    sown: date
    seeds: int | None = None
    up: int | None = None
    set: int | None = None
    picked: int | None = None
    picked_on: date | None = None
    grams: Fraction | None = None
    per_m2: Fraction | None = None

    @property
    def name(self) -> str:
        """What notes call it: its run and the day it was sown on."""
        return f"{self.run} {self.sown.isoformat()}"


@dataclass(frozen=True, slots=True)
class Note:
    """Something to remember; ``of`` names the raft or batch that it is ``about``."""

    text: str
    about: About = "project"
    of: str = ""
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Log:
    """All that was written down."""

    rafts: tuple[RaftMade, ...] = ()
    batches: tuple[BatchGrown, ...] = ()
    notes: tuple[Note, ...] = ()
