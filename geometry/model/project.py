"""The project: everything the grower wants, and nothing that follows from it."""

from dataclasses import dataclass, field

from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.growth import Growth
from geometry.model.guide_line import GuideLine
from geometry.model.limits import Limits
from geometry.model.lock import Lock
from geometry.model.log import Log
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Direction, Pattern
from geometry.model.pot import Pot
from geometry.model.run import Run
from geometry.model.sheet import Cutting, Sheet
from geometry.model.supplies import Supplies
from geometry.model.wanted import Density
from geometry.units import Length, Unit


@dataclass(frozen=True, slots=True)
class Choice:
    """A spacing choice kept for comparison in the named bed; None keeps the bed's own value.

    At most one of ``spacing``, ``count`` and ``density`` is given: the spacing itself, or what the
    widest spacing must still hold.
    """

    name: str
    bed: str
    pattern: Pattern | None = None
    rows: Direction | None = None
    spacing: Length | None = None
    row_spacing: Length | None = None
    edge_margin: Length | None = None
    count: int | None = None
    density: Density | None = None


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that the grower leaves as it is, with the reason. ``key`` is the finding's key."""

    key: str
    note: str


@dataclass(frozen=True, slots=True)
class Details:
    """What is worth knowing about a project besides its name; nothing is laid out by it.

    ``revision`` is whatever the grower counts by ("B", "3", "spring"), ``date`` the day that this
    revision is of, as the grower writes it; ``notes`` may have lines.
    """

    author: str = ""
    revision: str = ""
    notes: str = ""
    date: str = ""


@dataclass(frozen=True, slots=True)
class Project:
    """The whole intent. ``units`` only says how lengths are shown and bare numbers are read.

    ``guide_lines`` only help to line things up: nothing follows from them. ``growth`` holds the
    leaf widths that the grower has measured, one entry a crop. ``supplies`` serve the shopping
    list alone. ``pots`` and ``crops`` are
    known by their names. ``runs`` are the crops in their rhythm; ``log`` is what happened.
    ``locks`` keep hands off, and nothing follows from them either.
    """

    name: str
    units: Unit = "mm"
    beds: tuple[Bed, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    cutting: Cutting = field(default_factory=Cutting)
    choices: tuple[Choice, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    guide_lines: tuple[GuideLine, ...] = ()
    growth: tuple[Growth, ...] = ()
    details: Details = Details()
    supplies: Supplies = field(default_factory=Supplies)
    pots: tuple[Pot, ...] = ()
    crops: tuple[OwnCrop, ...] = ()
    limits: Limits = field(default_factory=Limits)
    allowances: Allowances = field(default_factory=Allowances)
    runs: tuple[Run, ...] = ()
    log: Log = field(default_factory=Log)
    locks: tuple[Lock, ...] = ()
