"""A crop that is sown again and again: its stages, its rhythm, and what is wanted of it."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class RunStage:
    """A time that each batch of a run spends in one place.

    Of the plants that begin a stage the share ``survival`` goes on. ``bed`` names the bed whose
    rafts they float on, empty before they come onto water; ``more_beds`` have further places for
    them. ``sites`` is how many plants a raft holds; None is what the rafts of those beds hold. Of a
    bed that is planted with several crops the stage takes the rafts of ``crop``; empty is that of
    the run.
    """

    name: str
    days: int
    survival: Fraction = Fraction(1)
    bed: str = ""
    sites: int | None = None
    more_beds: tuple[str, ...] = ()
    crop: str = ""


@dataclass(frozen=True, slots=True)
class Pause:
    """Days, first and last included, on which nothing is sown; ``why`` is for the calendar."""

    first: date
    last: date
    why: str = ""


@dataclass(frozen=True, slots=True)
class SlowTime:
    """A stage that begins within these days takes ``factor`` times as long (1.5 in winter)."""

    first: date
    last: date
    factor: Fraction


@dataclass(frozen=True, slots=True)
class Run:
    """One crop in its rhythm: a batch is sown every so many days.

    ``target`` is how many plants each batch shall bring to the table; None is as many as the beds
    can give. ``first`` is the day of the first sowing, ``until`` the last day on which something
    is picked, None without an end. ``turn_days`` is how long a place stays free between two rafts.
    Seeds and plugs are sold in packs of so many. A ripe batch stands for ``stands`` days until the
    last of it is picked, 0 where all is picked on one day. With ``share_rafts`` batches stand side
    by side on a raft and are as small as wanted; without, each has whole rafts of its own. What is
    cut and comes again is picked ``picks`` times, ``pick_every`` days apart.
    """

    name: str
    crop: str = ""
    stages: tuple[RunStage, ...] = ()
    every: int = 7
    target: int | None = None
    first: date | None = None
    until: date | None = None
    turn_days: int = 0
    pauses: tuple[Pause, ...] = ()
    slow_times: tuple[SlowTime, ...] = ()
    seed_pack: int | None = None
    plug_pack: int | None = None
    stands: int = 0
    share_rafts: bool = False
    picks: int = 1
    pick_every: int = 14
