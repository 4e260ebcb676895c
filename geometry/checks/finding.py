"""A finding: one fact worth knowing before cutting. Its words are made elsewhere."""

from dataclasses import dataclass
from typing import Literal

Severity = Literal["problem", "question", "note"]
"""A problem spoils the raft or the crop; a question may be a slip; a note just informs."""

Code = Literal[
    "spacing",  # two plants nearer than the spacing
    "web",  # too little foam between two rims, or between a rim and the edge
    "edge",  # a centre nearer to the raft edge than the edge margin
    "joint",  # two plants of neighbouring rafts nearer than the spacing
    "obstacle",  # a rim nearer to an obstacle than its clearance
    "raft-fit",  # a raft that touches the wall, or a clearance that leaves no raft
    "no-room",  # a bed with a planting in which no hole fits
    "unit-slip",  # a number that looks typed in another unit
    "bed-shape",  # an outline that encloses nothing or crosses itself
    "skew",  # a measured bed whose diagonals or sides differ
    "blank-idle",  # a blank with no site near it any more
    "pin-idle",  # a pin whose raft is no more
    "rounding",  # holes without a place on the steps of the tape
    "score-line",  # a raft with a score line of its sheet along its long side
    "zone-outside",  # a zone that lies on no raft, or names a raft that is not there
    "zone-empty",  # a zone without a single hole
    "zone-fixed",  # a raft that may change places but is made for its own by a zone
    "run-fit",  # rafts of a run that find no place in its beds
    "sheet-fit",  # a raft larger than every sheet, or not enough sheets on hand
    "pot-falls",  # a hole through which the pot falls, rim and all
    "pot-stuck",  # a hole too narrow even for the foot of the pot
    "pot-loose",  # a hole in which the pot wobbles, or barely hangs by its rim
    "pot-proud",  # a hole that catches the pot by its taper, well below its rim
    "pot-slips",  # a plug too thin for the hole of its collar
    "rims",  # the rims of two pots that touch
    "rim-edge",  # the rim of a pot that reaches over the edge of its raft
    "rim-obstacle",  # the rim of a pot that lies on an obstacle
    "sinks",  # a raft whose top is under water
    "freeboard",  # a raft that shows too little foam above the water
    "tilts",  # a raft whose low end is under water once one half is picked
    "pot-dry",  # a pot that does not reach the water on the day of planting
    "pot-drowned",  # a pot with water over its top
    "aground",  # a raft or its pots on the floor at low water
    "heavy",  # a raft that is too heavy to lift
    "metered-fill",  # a metered fill that does not go with the size of its bed
    "weak-line",  # a line across a raft on which holes leave too little foam
    "jam",  # rafts without room at a level of the water
    "made-jam",  # rafts that came out longer together than there is room for
    "gap",  # an opening wider than the limit
    "open-water",  # more water open to light than the limit
    "lift",  # a raft that does not come out from under what lies above it
    "pressed",  # something so low above the water that rafts are pressed under it
]


@dataclass(frozen=True, slots=True)
class MoveHole:
    """Move a hole to a place on its raft (raft coordinates)."""

    raft: str
    hole: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class LeaveOut:
    """Leave a site out, or take a pinned hole away."""

    raft: str
    hole: str


@dataclass(frozen=True, slots=True)
class SetLength:
    """Give a length of the bed another value.

    ``field`` is its dotted key in the project file, seen from the bed: "planting.spacing".
    """

    field: str
    mm: float


@dataclass(frozen=True, slots=True)
class DropHandEdit:
    """Forget a pin or a blank that no longer applies (its place in raft coordinates)."""

    raft: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class DropFromZone:
    """Take a raft out of a zone, or remove the zone where no raft is named."""

    zone: str
    raft: str = ""


@dataclass(frozen=True, slots=True)
class TakeFoam:
    """Take boards of another thickness for all that are so thick now, both in mm."""

    now: float
    mm: float


@dataclass(frozen=True, slots=True)
class TakePot:
    """Take a pot of another depth for the one of this name."""

    pot: str
    mm: float


@dataclass(frozen=True, slots=True)
class SetTarget:
    """Want so many plants of each batch of a run."""

    run: str
    plants: int


@dataclass(frozen=True, slots=True)
class TakeFill:
    """Take the metered fill of the bed as typed here: the same number in another unit."""

    text: str


@dataclass(frozen=True, slots=True)
class SealEdge:
    """Close the clearance of the bed with a strip."""


Cure = (
    MoveHole
    | LeaveOut
    | SetLength
    | DropHandEdit
    | DropFromZone
    | TakeFoam
    | TakePot
    | SetTarget
    | TakeFill
    | SealEdge
)


@dataclass(frozen=True, slots=True)
class Finding:
    """What, where, how far off, and the smallest change that clears it.

    ``subject`` names what else is concerned (an obstacle, a sheet, a field of the project file; at
    a joint "turned" when the neighbour lies half round). ``bed`` is empty for findings about sheets
    and cutting, whose ``raft`` is a raft design. ``place`` is in bed coordinates; ``amount_mm`` is
    what is there, ``limit_mm`` what is wanted. With two rafts, ``holes`` are written "R1 A1".
    ``crops`` are those of two plants of unlike plantings. ``zone`` names the zone whose planting is
    meant, where it is not the bed's own. ``more`` counts others like it that it stands for.
    ``figures`` are other figures, what is there and then what is wanted, in the unit that the code
    speaks of: kg, a share, mm in a m.
    ``rafts`` of a run find no place on a ``day`` (ISO 8601), empty where the run has no first day.
    """

    code: Code
    severity: Severity
    bed: str
    raft: str = ""
    holes: tuple[str, ...] = ()
    subject: str = ""
    place: tuple[float, float] | None = None
    amount_mm: float | None = None
    limit_mm: float | None = None
    cure: Cure | None = None
    crops: tuple[str, ...] = ()
    zone: str = ""
    more: int = 0
    figures: tuple[float, ...] = ()
    rafts: int = 0
    day: str = ""

    @property
    def key(self) -> str:
        """A stable name of the finding, by which the grower's note on it is kept."""
        parts = (self.code, self.bed, self.raft, *self.holes, self.zone, self.subject)
        return " ".join(filter(None, parts))
