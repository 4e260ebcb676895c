"""The project file as pydantic models: what may stand in it, told apart key by key.

Each model builds the frozen value of the model package that it stands for. The published JSON
Schema comes from these same models.
"""

from collections.abc import Sequence
from typing import Annotated, Any, Literal, Self, get_args

from pydantic import FailFast, Field, ValidationInfo, model_validator

from geometry.crops.table import find_crop, plain_name
from geometry.model import (
    bed,
    growth,
    guide_line,
    lock,
    outlines,
    own_crop,
    planting,
    project,
    sheet,
    supplies,
    zone,
)
from geometry.tongue import tr
from geometry.units import ZERO, Unit
from layout_gui.project import bounds
from layout_gui.project.schema_parts import (
    Count,
    Fine,
    FoamDensity,
    Gap,
    Lines,
    Model,
    Money,
    Name,
    Note,
    PaintCoverage,
    PaintVolume,
    Place,
    PlantDensity,
    Plants,
    Point,
    Size,
    Step,
    Title,
    fault,
)
from layout_gui.project.schema_running import (
    MOST_CROPS,
    MOST_POTS,
    MOST_RUNS,
    Allowances,
    Limits,
    Log,
    OwnCrop,
    Pot,
    Run,
    Water,
)

MOST_OBSTACLES = 10_000
MOST_ZONES = 1_000
MOST_POINTS = 100_000
MOST_SHEETS = 10_000
MOST_CHOICES = 10_000
LAST_DAY = 1000
MOST_SAWS = bounds.MOST_SAWS
MOST_ACCEPTED = 100_000


class OutlineModel(Model):
    """An outline, as a bed has it."""

    def build(self) -> outlines.Outline:
        """Make the outline that stands behind these keys."""
        raise NotImplementedError

    @model_validator(mode="after")
    def _agree(self) -> Self:
        if found := bounds.outline_fault(self.build()):
            key, what, cure = found
            raise fault(what, cure, key)
        return self


class Rectangle(OutlineModel):
    """A rectangle, its corners rounded when ``corner_radius`` is above 0."""

    kind: Literal["rectangle"]
    length: Size
    width: Size
    corner_radius: Gap = ZERO

    def build(self) -> outlines.Outline:
        """Make the outline."""
        return outlines.Rectangle(self.length, self.width, self.corner_radius)


class Measured(OutlineModel):
    """A rectangle-like bed as a tape found it: the smallest width and length are safe."""

    kind: Literal["measured"]
    widths: Annotated[list[Size], Field(min_length=1, max_length=3)]
    lengths: Annotated[list[Size], Field(min_length=1, max_length=2)]
    diagonals: Annotated[list[Size], Field(max_length=2)] = Field(default_factory=list)

    def build(self) -> outlines.Outline:
        """Make the outline."""
        return outlines.Measured(tuple(self.widths), tuple(self.lengths), tuple(self.diagonals))


class Disc(OutlineModel):
    """A round tank."""

    kind: Literal["disc"]
    diameter: Size

    def build(self) -> outlines.Outline:
        """Make the outline."""
        return outlines.Disc(self.diameter)


class RoundEnded(OutlineModel):
    """Straight sides and two half-round ends."""

    kind: Literal["round-ended"]
    length: Size
    width: Size

    def build(self) -> outlines.Outline:
        """Make the outline."""
        return outlines.RoundEnded(self.length, self.width)


class LShape(OutlineModel):
    """A rectangle without its upper right corner."""

    kind: Literal["L"]
    length: Size
    width: Size
    notch_length: Size
    notch_width: Size

    def build(self) -> outlines.Outline:
        """Make the outline."""
        return outlines.LShape(self.length, self.width, self.notch_length, self.notch_width)


class Tapered(OutlineModel):
    """A symmetrical trapezium, ``width_start`` wide at x = 0."""

    kind: Literal["tapered"]
    length: Size
    width_start: Size
    width_end: Size

    def build(self) -> outlines.Outline:
        """Make the outline."""
        return outlines.Tapered(self.length, self.width_start, self.width_end)


class Polygon(OutlineModel):
    """A free outline of three or more corners [x, y], not crossing itself."""

    kind: Literal["polygon"]
    points: Annotated[list[Point], Field(min_length=3, max_length=MOST_POINTS), FailFast()]

    def build(self) -> outlines.Polygon:
        """Make the outline."""
        return outlines.Polygon(tuple((x, y) for x, y in self.points))


class Placed(OutlineModel):
    """An outline in bed coordinates: its box stands at ``centre`` or with a ``corner`` there.

    The corner is the lower left one. A polygon may go without: its points are bed coordinates.
    """

    centre: Point | None = None
    corner: Point | None = None

    def spots(self) -> tuple[bed.Spot | None, bed.Spot | None]:
        """Give the centre and the corner; exactly one of them is there."""
        if self.centre:
            return bed.Spot(*self.centre), None
        if self.corner:
            return None, bed.Spot(*self.corner)
        assert isinstance(self, Polygon)  # noqa: S101  # anything else was refused
        points = self.build().points
        return None, bed.Spot(
            *(min(axis, key=lambda place: place.exact) for axis in zip(*points, strict=True))
        )

    @model_validator(mode="after")
    def _stand_somewhere(self) -> Self:
        if self.centre and self.corner:
            raise fault(tr("has a centre and a corner"), tr("keep one of the two"))
        if not (self.centre or self.corner or isinstance(self, Polygon)):
            raise fault(tr("has no place"), tr('add a "centre" or a "corner", such as [300, 60]'))
        return self


class PlacedRectangle(Placed, Rectangle):
    """A rectangle in the bed."""


class PlacedMeasured(Placed, Measured):
    """A measured rectangle in the bed."""


class PlacedDisc(Placed, Disc):
    """A disc in the bed."""


class PlacedRoundEnded(Placed, RoundEnded):
    """A shape with two half-round ends in the bed."""


class PlacedLShape(Placed, LShape):
    """An L in the bed."""


class PlacedTapered(Placed, Tapered):
    """A trapezium in the bed."""


class PlacedPolygon(Placed, Polygon):
    """A free shape in the bed."""


OUTLINES = (Rectangle, Measured, Disc, RoundEnded, LShape, Tapered, Polygon)
Outline = Annotated[
    Rectangle | Measured | Disc | RoundEnded | LShape | Tapered | Polygon,
    Field(discriminator="kind"),
]
Shape = Annotated[
    PlacedRectangle
    | PlacedMeasured
    | PlacedDisc
    | PlacedRoundEnded
    | PlacedLShape
    | PlacedTapered
    | PlacedPolygon,
    Field(discriminator="kind"),
]


class Obstacle(Model):
    """A thing that the rims of holes keep away from.

    With ``above`` it lies over the rafts, its lower side so far over the working level.
    """

    name: Name | None = None
    shape: Shape
    clearance: Gap = ZERO
    above: Gap | None = None

    def build(self, number: int) -> bed.Obstacle:
        """Make the obstacle; without a name it is called by its number in the bed."""
        name = f"obstacle {number}" if self.name is None else self.name
        return bed.Obstacle(
            name, self.shape.build(), *self.shape.spots(), self.clearance, self.above
        )


class Split(Model):
    """Equal rafts, so many along the bed and so many across.

    ``shift_along`` moves all joints along the bed and ``shift_across`` all those across it, back
    when negative: the first rafts grow by so much, the last ones shrink.
    """

    kind: Literal["split"]
    along: Count = 1
    across: Count = 1
    shift_along: Place = ZERO
    shift_across: Place = ZERO

    def build(self) -> bed.RaftRule:
        """Make the rule."""
        return bed.Split(self.along, self.across, self.shift_along, self.shift_across)


class Fit(Model):
    """As few equal rafts as possible, none longer or wider than this."""

    kind: Literal["fit"]
    length: Size
    width: Size

    def build(self) -> bed.RaftRule:
        """Make the rule."""
        return bed.Fit(self.length, self.width)


class One(Model):
    """One raft that fills the bed."""

    kind: Literal["one"] = "one"

    def build(self) -> bed.RaftRule:
        """Make the rule."""
        return bed.One()


class Pin(Model):
    """A hole placed by hand, in raft coordinates; ``home`` is the site that it took over."""

    raft: Name
    x: Place
    y: Place
    home: Point | None = None

    def build(self) -> planting.Pin:
        """Make the pin."""
        home = (self.home[0], self.home[1]) if self.home else None
        return planting.Pin(self.raft, self.x, self.y, home)


class Blank(Model):
    """A site left out by hand, in raft coordinates."""

    raft: Name
    x: Place
    y: Place

    def build(self) -> planting.Blank:
        """Make the blank."""
        return planting.Blank(self.raft, self.x, self.y)


class Planting(Model):
    """Crop, pattern and rules of one bed; ``spacing`` may stay out for a crop of the table.

    ``in_use`` "every second" drills all holes but plugs every second one for now.
    """

    crop: Name = ""
    pattern: planting.Pattern = "best"
    rows: planting.Direction = "best"
    spacing: Fine | None = None
    row_spacing: Fine | None = None
    edge_margin: Gap = ZERO
    web: Gap = ZERO
    hole_diameter: Fine
    joints: planting.JointRule = "bed-wide"
    spread: bool = True
    round_to: Step | None = None
    pot: Name = ""
    in_use: planting.InUse = "all"
    pins: Annotated[list[Pin], Field(max_length=bounds.MOST_SITES), FailFast()] = Field(
        default_factory=list
    )
    blanks: Annotated[list[Blank], Field(max_length=bounds.MOST_SITES), FailFast()] = Field(
        default_factory=list
    )

    @model_validator(mode="after")
    def _know_the_spacing(self, info: ValidationInfo) -> Self:
        own = info.context.own_crops if info.context is not None else ()
        is_known = find_crop(self.crop) is not None or plain_name(self.crop) in own
        if self.spacing is None and not is_known:
            missing = (
                tr("is missing, and the crop table does not have “{crop}”", crop=self.crop)
                if self.crop
                else tr("is missing, and no crop is named")
            )
            raise fault(
                missing,
                tr('write one, such as 200 or "8 in"'),
                "spacing",
            )
        return self

    def build(self, own: Sequence[own_crop.OwnCrop] = ()) -> planting.Planting:
        """Make the planting; the own crops or the table give a spacing that is left out."""
        spacing = self.spacing
        if spacing is None:
            crop = find_crop(self.crop, own)
            assert crop is not None  # noqa: S101  # anything else was refused
            spacing = crop.spacing
        return planting.Planting(
            spacing=spacing,
            hole_diameter=self.hole_diameter,
            crop=self.crop,
            pot=self.pot,
            pattern=self.pattern,
            rows=self.rows,
            row_spacing=self.row_spacing,
            edge_margin=self.edge_margin,
            web=self.web,
            joints=self.joints,
            spread=self.spread,
            round_to=self.round_to,
            in_use=self.in_use,
            pins=tuple(pin.build() for pin in self.pins),
            blanks=tuple(blank.build() for blank in self.blanks),
        )


class ZonePlanting(Model):
    """What a zone has of its own; what is left out is as in the bed's planting."""

    crop: Name | None = None
    pattern: planting.Pattern | None = None
    rows: planting.Direction | None = None
    spacing: Fine | None = None
    row_spacing: Fine | None = None
    edge_margin: Gap | None = None
    web: Gap | None = None
    hole_diameter: Fine | None = None
    spread: bool | None = None
    in_use: planting.InUse | None = None
    pot: Name | None = None

    def build(self) -> zone.ZoneRules:
        """Make the rules of a zone."""
        return zone.ZoneRules(
            crop=self.crop,
            pattern=self.pattern,
            rows=self.rows,
            spacing=self.spacing,
            row_spacing=self.row_spacing,
            edge_margin=self.edge_margin,
            web=self.web,
            hole_diameter=self.hole_diameter,
            spread=self.spread,
            in_use=self.in_use,
            pot=self.pot,
        )


class Zone(Model):
    """An area of the bed, or whole rafts, planted otherwise. Later zones lie on earlier ones."""

    name: Title | None = None
    shape: Shape | None = None
    rafts: Annotated[list[Title], Field(min_length=1, max_length=bounds.MOST_RAFTS)] | None = None
    planting: ZonePlanting = Field(default_factory=ZonePlanting)

    @model_validator(mode="after")
    def _lie_somewhere(self) -> Self:
        if (self.shape is None) == (self.rafts is None):
            raise fault(tr("needs a shape or rafts, one of the two"), tr('add "shape" or "rafts"'))
        return self

    def build(self, number: int) -> zone.Zone:
        """Make the zone; without a name it is called by its number in the bed."""
        centre, corner = self.shape.spots() if self.shape else (None, None)
        return zone.Zone(
            name=self.name or f"zone {number}",
            rules=self.planting.build(),
            shape=self.shape.build() if self.shape else None,
            centre=(centre.x, centre.y) if centre else None,
            corner=(corner.x, corner.y) if corner else None,
            rafts=tuple(self.rafts or ()),
        )


class Bed(Model):
    """One body of water; without a name it is called by its number."""

    name: Title | None = None
    outline: Outline
    clearance: Gap = ZERO
    joint_gap: Gap = ZERO
    obstacles: Annotated[list[Obstacle], Field(max_length=MOST_OBSTACLES)] = Field(
        default_factory=list
    )
    rafts: Annotated[Split | Fit | One, Field(discriminator="kind")] = Field(default_factory=One)
    planting: Planting | None = None
    zones: Annotated[list[Zone], Field(max_length=MOST_ZONES)] = Field(default_factory=list)
    water: Water = Field(default_factory=Water)
    edge_seal: bool = False
    pushed: bed.Pushed = "no"

    def build(self, number: int, own: Sequence[own_crop.OwnCrop] = ()) -> bed.Bed:
        """Make the bed; ``own`` are the crops of the project."""
        return bed.Bed(
            name=self.name or f"Bed {number}",
            outline=self.outline.build(),
            clearance=self.clearance,
            joint_gap=self.joint_gap,
            obstacles=tuple(
                obstacle.build(number) for number, obstacle in enumerate(self.obstacles, 1)
            ),
            rafts=self.rafts.build(),
            planting=self.planting.build(own) if self.planting else None,
            zones=tuple(zone.build(number) for number, zone in enumerate(self.zones, 1)),
            water=self.water.build(),
            edge_seal=self.edge_seal,
            pushed=self.pushed,
        )


class Score(Model):
    """Score lines of a sheet: ``across`` its length, this far apart, or ``along`` it."""

    across: Size | None = None
    along: Size | None = None

    def build(self) -> sheet.Score:
        """Make the score lines."""
        return sheet.Score(self.across, self.along)


class Sheet(Model):
    """A board as bought, or with ``offcut`` a leftover on hand that is used first at no cost.

    ``quantity`` null is as many as needed, and one of an offcut. Each side may be up to
    ``tolerance`` too short; plans fit the smallest. ``density`` is that of the dry foam in kg/m³.
    """

    name: Name | None = None
    length: Size
    width: Size
    thickness: Size | None = None
    price: Money | None = None
    quantity: Annotated[int, Field(ge=0, le=bounds.COUNTS["quantity"][1])] | None = None
    tolerance: Gap = ZERO
    offcut: bool = False
    score: Score | None = None
    density: FoamDensity | None = None

    @model_validator(mode="after")
    def _agree(self) -> Self:
        if found := bounds.sheet_fault(self.build(1)):
            key, what, cure = found
            raise fault(what, cure, key)
        return self

    def build(self, number: int) -> sheet.Sheet:
        """Make the sheet; without a name it is called by its number."""
        return sheet.Sheet(
            name=f"sheet {number}" if self.name is None else self.name,
            length=self.length,
            width=self.width,
            thickness=self.thickness,
            price=self.price,
            quantity=self.quantity,
            tolerance=self.tolerance,
            offcut=self.offcut,
            score=self.score.build() if self.score else None,
            density=self.density,
        )


class Cutting(Model):
    """Blade width, strip trimmed off each sheet edge, and whether rafts may be turned.

    ``aim`` "cost" makes the sheets cost as little as can be, if each has its price; "sheets" buys
    as few as can be. A leftover is an offcut when both its sides reach ``keep_offcut``.
    ``saw_depth`` is how deep the hole saw cuts from one face; null is not measured.
    """

    kerf: Gap = ZERO
    trim: Gap = ZERO
    turn: bool = True
    aim: sheet.Aim = "cost"
    keep_offcut: Gap = sheet.KEEP_OFFCUT
    saw_depth: Size | None = None

    def build(self) -> sheet.Cutting:
        """Make the rules of cutting."""
        return sheet.Cutting(
            self.kerf, self.trim, self.turn, self.aim, self.keep_offcut, self.saw_depth
        )


class Choice(Model):
    """A choice kept for comparison in the named bed; what is left out is as in the bed."""

    name: Name
    bed: Title
    pattern: planting.Pattern | None = None
    rows: planting.Direction | None = None
    spacing: Fine | None = None
    row_spacing: Fine | None = None
    edge_margin: Gap | None = None
    count: Plants | None = None
    density: PlantDensity | None = None

    @model_validator(mode="after")
    def _asks_for_one_thing(self) -> Self:
        given = [key for key in ("spacing", "count", "density") if getattr(self, key) is not None]
        if len(given) > 1:
            raise fault(
                tr("stands beside {key}", key=given[0]), tr("keep one of the two"), given[1]
            )
        return self

    def build(self) -> project.Choice:
        """Make the choice."""
        return project.Choice(
            self.name,
            self.bed,
            self.pattern,
            self.rows,
            self.spacing,
            self.row_spacing,
            self.edge_margin,
            self.count,
            self.density,
        )


class Accepted(Model):
    """A finding that is left as it is, with the reason."""

    key: Note
    note: Note

    def build(self) -> project.Accepted:
        """Make the note."""
        return project.Accepted(self.key, self.note)


class Lock(Model):
    """A raft, an obstacle or a zone of the named bed that stays as it is until it is unlocked."""

    bed: Title
    kind: lock.LockKind
    name: Title

    def build(self) -> lock.Lock:
        """Make the lock."""
        return lock.Lock(self.bed, self.kind, self.name)


class GuideLine(Model):
    """A line across the named bed to line things up with, at an ``x`` or at a ``y`` of the bed."""

    bed: Title
    x: Place | None = None
    y: Place | None = None
    locked: bool = False

    @model_validator(mode="after")
    def _lies_somewhere(self) -> Self:
        if (self.x is None) == (self.y is None):
            raise fault(tr("has no place, or two"), tr('write an "x" or a "y", such as 300'))
        return self

    def build(self) -> guide_line.GuideLine:
        """Make the line."""
        if self.x is not None:
            return guide_line.GuideLine(self.bed, "x", self.x, self.locked)
        return guide_line.GuideLine(self.bed, "y", self.y or ZERO, self.locked)


class LeafWidth(Model):
    """How wide the leaves of a plant were, so many days after it came onto the water."""

    day: Annotated[int, Field(strict=True, ge=0, le=LAST_DAY)]
    width: Size

    def build(self) -> growth.LeafWidth:
        """Make the width."""
        return growth.LeafWidth(self.day, self.width)


class Growth(Model):
    """The leaf widths that the grower has measured of one crop, the earliest day first."""

    crop: Title
    widths: Annotated[list[LeafWidth], Field(min_length=1, max_length=LAST_DAY + 1)]

    @model_validator(mode="after")
    def _goes_on(self) -> Self:
        days = [each.day for each in self.widths]
        if days != sorted(set(days)):
            raise fault(
                tr("has days out of order, or twice"), tr("write each day once, the earliest first")
            )
        return self

    def build(self) -> growth.Growth:
        """Make the record."""
        return growth.Growth(self.crop, tuple(each.build() for each in self.widths))


class Details(Model):
    """Who drew the project up, which revision it is, of which day, and notes.

    Nothing is laid out by it.
    """

    author: Name = ""
    revision: Name = ""
    date: Name = ""
    notes: Lines = ""

    def build(self) -> project.Details:
        """Make the details."""
        return project.Details(self.author, self.revision, self.notes, self.date)


class Packed(Model):
    """How a thing is sold: by the piece, or by the pack of so many, at a price for one of them."""

    pack: Annotated[int, Field(ge=1, le=bounds.COUNTS["pack"][1])] | None = None
    price: Money | None = None

    def build(self) -> supplies.Packed:
        """Make what is known of the packs."""
        return supplies.Packed(self.pack, self.price)


class Strip(Model):
    """Seal strip: the length of a roll and its price."""

    roll: Size | None = None
    price: Money | None = None

    def build(self) -> supplies.Strip:
        """Make what is known of the rolls."""
        return supplies.Strip(self.roll, self.price)


class Paint(Model):
    """Paint: how far it goes, how many coats (0: not painted), the tin and its price."""

    coverage: PaintCoverage = supplies.Paint().coverage
    coats: Annotated[int, Field(ge=0, le=bounds.COUNTS["coats"][1])] = supplies.Paint().coats
    tin: PaintVolume | None = None
    price: Money | None = None

    def build(self) -> supplies.Paint:
        """Make what is known of the paint."""
        return supplies.Paint(self.coverage, self.coats, self.tin, self.price)


class Supplies(Model):
    """What the shopping list needs to know beside the plan; nothing is laid out by it.

    ``saws`` are hole saws that are there already, ``spares`` percent added to pots, hole plugs
    and seal strip.
    """

    saws: Annotated[list[Fine], Field(max_length=MOST_SAWS)] = Field(default_factory=list)
    spares: Annotated[int, Field(ge=0, le=bounds.COUNTS["spares"][1])] = supplies.Supplies().spares
    pots: Packed = Field(default_factory=Packed)
    plugs: Packed = Field(default_factory=Packed)
    strip: Strip = Field(default_factory=Strip)
    paint: Paint = Field(default_factory=Paint)

    def build(self) -> supplies.Supplies:
        """Make the supplies."""
        return supplies.Supplies(
            tuple(self.saws),
            self.spares,
            self.pots.build(),
            self.plugs.build(),
            self.strip.build(),
            self.paint.build(),
        )


class Project(Model):
    """A project of rafts and planting holes: what the grower wants, nothing that follows from it.

    Points are [x, y], x along the bed, y across it, from the lower left of the outline's box.
    """

    format: Literal["raftwright"]
    version: Literal[1]
    name: Name | None = None
    units: Unit = "mm"
    beds: Annotated[list[Bed], Field(max_length=bounds.MOST_RAFTS)] = Field(default_factory=list)
    sheets: Annotated[list[Sheet], Field(max_length=MOST_SHEETS)] = Field(default_factory=list)
    cutting: Cutting = Field(default_factory=Cutting)
    choices: Annotated[list[Choice], Field(max_length=MOST_CHOICES)] = Field(default_factory=list)
    accepted: Annotated[list[Accepted], Field(max_length=MOST_ACCEPTED)] = Field(
        default_factory=list
    )
    guide_lines: Annotated[list[GuideLine], Field(max_length=bounds.MOST_GUIDE_LINES)] = Field(
        default_factory=list
    )

    growth: Annotated[list[Growth], Field(max_length=MOST_CHOICES)] = Field(default_factory=list)
    details: Details = Field(default_factory=Details)
    supplies: Supplies = Field(default_factory=Supplies)
    pots: Annotated[list[Pot], Field(max_length=MOST_POTS)] = Field(default_factory=list)
    crops: Annotated[list[OwnCrop], Field(max_length=MOST_CROPS)] = Field(default_factory=list)
    limits: Limits = Field(default_factory=Limits)
    allowances: Allowances = Field(default_factory=Allowances)
    runs: Annotated[list[Run], Field(max_length=MOST_RUNS)] = Field(default_factory=list)
    log: Log = Field(default_factory=Log)
    locks: Annotated[list[Lock], Field(max_length=bounds.MOST_LOCKS)] = Field(default_factory=list)

    @model_validator(mode="before")
    @classmethod
    def _note_own_crops(cls, value: Any, info: ValidationInfo) -> Any:
        """Remember which crops the file brings, for plantings that name one without a spacing."""
        crops = value.get("crops") if isinstance(value, dict) else None
        if info.context is not None and isinstance(crops, list):
            names = (crop.get("name") for crop in crops if isinstance(crop, dict))
            info.context.own_crops = frozenset(
                plain_name(name) for name in names if isinstance(name, str)
            )
        return value

    def build(self, name: str) -> project.Project:
        """Make the project, called ``name`` if the file does not say."""
        own = tuple(crop.build() for crop in self.crops)
        return project.Project(
            name=name if self.name is None else self.name,
            units=self.units,
            beds=tuple(bed.build(number, own) for number, bed in enumerate(self.beds, 1)),
            sheets=tuple(sheet.build(number) for number, sheet in enumerate(self.sheets, 1)),
            cutting=self.cutting.build(),
            choices=tuple(choice.build() for choice in self.choices),
            accepted=tuple(accepted.build() for accepted in self.accepted),
            guide_lines=tuple(line.build() for line in self.guide_lines),
            growth=tuple(record.build() for record in self.growth),
            details=self.details.build(),
            supplies=self.supplies.build(),
            pots=tuple(pot.build() for pot in self.pots),
            crops=own,
            limits=self.limits.build(),
            allowances=self.allowances.build(),
            runs=tuple(run.build() for run in self.runs),
            log=self.log.build(),
            locks=tuple(dict.fromkeys(each.build() for each in self.locks)),
        )


def kinds(key: str) -> str:
    """List the kinds that may stand under a key."""
    fitting = (Split, Fit, One) if key == "rafts" else OUTLINES
    names = (f'"{get_args(model.model_fields["kind"].annotation)[0]}"' for model in fitting)
    return tr("one of {names}", names=", ".join(names))
