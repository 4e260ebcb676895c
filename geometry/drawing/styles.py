"""Style: the meaning of a mark, and the one table of pens."""

from dataclasses import dataclass
from enum import Enum


@dataclass(frozen=True, slots=True)
class Pen:
    """How a meaning is drawn on paper.

    ``layer`` names the layer in DXF and the class in SVG (letters and hyphens only). ``grey`` runs
    from 0, black, to 1, the paper; a filled pen fills with it and draws no line. ``bold`` is for
    text.
    """

    width_mm: float
    layer: str
    dash_mm: tuple[float, ...] = ()
    filled: bool = False
    grey: float = 0.0
    bold: bool = False


class Style(Enum):
    """The meaning of a mark."""

    WATER = "water"
    RAFT = "raft"
    HOLE = "hole"
    CENTRE = "centre"
    CROP = "crop"
    PLUG = "plug"
    POT = "pot"
    ZONE = "zone"
    OBSTACLE = "obstacle"
    KEEP_OUT = "keep-out"
    DATUM = "datum"
    DIMENSION = "dimension"
    LABEL = "label"
    TITLE = "title"
    PAGE_NAME = "page-name"
    LOUD = "loud"
    SHADE = "shade"
    SOLID = "solid"
    WHITE = "white"
    FRAME = "frame"
    RULE = "rule"
    REGISTRATION = "registration"
    CHECK_BAR = "check-bar"
    REFERENCE = "reference"
    SHEET = "sheet"
    CUT = "cut"
    HINT = "hint"
    CANOPY = "canopy"


PENS: dict[Style, Pen] = {
    Style.WATER: Pen(0.35, "bed-outline"),
    Style.RAFT: Pen(0.35, "raft-outline"),
    Style.HOLE: Pen(0.3, "holes"),
    Style.CENTRE: Pen(0.2, "hole-centres"),
    Style.CROP: Pen(0.15, "crop-rings"),
    Style.PLUG: Pen(0.4, "plugs"),
    Style.POT: Pen(0.4, "pots"),
    Style.ZONE: Pen(0.3, "zones", (4.0, 1.5)),
    Style.OBSTACLE: Pen(0.3, "obstacles"),
    Style.KEEP_OUT: Pen(0.2, "keep-out", (2.0, 1.0)),
    Style.DATUM: Pen(0.6, "datum"),
    Style.DIMENSION: Pen(0.2, "dimensions"),
    Style.LABEL: Pen(0.2, "text"),
    Style.TITLE: Pen(0.2, "title", bold=True),
    Style.PAGE_NAME: Pen(0.2, "page-name", grey=0.78, bold=True),
    Style.LOUD: Pen(0.2, "loud", grey=0.62, bold=True),
    Style.SHADE: Pen(0.2, "shade", filled=True, grey=0.8),
    Style.SOLID: Pen(0.2, "solid", filled=True),
    Style.WHITE: Pen(0.2, "white", filled=True, grey=1.0),
    Style.FRAME: Pen(0.2, "frame"),
    Style.RULE: Pen(0.15, "rules", grey=0.6),
    Style.REGISTRATION: Pen(0.2, "registration"),
    Style.CHECK_BAR: Pen(0.25, "check-bars"),
    Style.REFERENCE: Pen(0.25, "reference-line"),
    Style.SHEET: Pen(0.35, "sheet-outline"),
    Style.CUT: Pen(0.5, "cuts"),
    Style.HINT: Pen(0.2, "hints", (1.0, 1.0), grey=0.4),
    Style.CANOPY: Pen(0.2, "canopy", (2.0, 2.0), grey=0.5),
}
