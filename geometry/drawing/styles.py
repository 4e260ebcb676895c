"""Style: the meaning of a mark, and the one table of pens."""

from dataclasses import dataclass
from enum import Enum


@dataclass(frozen=True, slots=True)
class Pen:
    """How a meaning is drawn on paper: line width, dash pattern, DXF layer, filled or not."""

    width_mm: float
    layer: str
    dash_mm: tuple[float, ...] = ()
    filled: bool = False
    grey: float = 0.0


class Style(Enum):
    """The meaning of a mark."""

    WATER = "water"
    RAFT = "raft"
    HOLE = "hole"
    CENTRE = "centre"
    OBSTACLE = "obstacle"
    KEEP_OUT = "keep-out"
    DATUM = "datum"
    DIMENSION = "dimension"
    LABEL = "label"
    FRAME = "frame"
    REGISTRATION = "registration"
    CHECK_BAR = "check-bar"
    CUT = "cut"
    HINT = "hint"
    CANOPY = "canopy"


PENS: dict[Style, Pen] = {
    Style.WATER: Pen(0.35, "bed outline"),
    Style.RAFT: Pen(0.35, "raft outline"),
    Style.HOLE: Pen(0.3, "holes"),
    Style.CENTRE: Pen(0.2, "hole centres"),
    Style.OBSTACLE: Pen(0.3, "obstacles"),
    Style.KEEP_OUT: Pen(0.2, "keep-out", (2.0, 1.0)),
    Style.DATUM: Pen(0.6, "datum"),
    Style.DIMENSION: Pen(0.2, "dimensions"),
    Style.LABEL: Pen(0.2, "text"),
    Style.FRAME: Pen(0.2, "frame"),
    Style.REGISTRATION: Pen(0.2, "registration"),
    Style.CHECK_BAR: Pen(0.25, "check bars"),
    Style.CUT: Pen(0.5, "cuts"),
    Style.HINT: Pen(0.2, "hints", (1.0, 1.0), grey=0.4),
    Style.CANOPY: Pen(0.2, "canopy", (2.0, 2.0), grey=0.5),
}
