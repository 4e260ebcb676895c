"""The models of what a crop is run by: water, pots, limits, stages, and the log."""

from datetime import date
from fractions import Fraction
from typing import Annotated, Any, Final, Self

from pydantic import Field, PlainValidator, WithJsonSchema, model_validator

from geometry.flow.period import day_fault
from geometry.model import allowances, limits, log, own_crop, pot, run, water
from geometry.tongue import tr
from geometry.units import ZERO
from layout_gui.project import bounds
from layout_gui.project.schema_parts import (
    Fine,
    Gap,
    Lines,
    Model,
    Name,
    PaintVolume,
    Size,
    Title,
    fault,
    number,
    text_of,
)

MOST_POTS: Final = 1_000
MOST_CROPS: Final = 1_000
MOST_RUNS: Final = 1_000
MOST_STAGES: Final = 50
MOST_BEDS: Final = 1_000
MOST_PAUSES: Final = 1_000
MOST_LOGGED: Final = 100_000


def _day(value: Any) -> date:
    try:
        day = date.fromisoformat(value) if len(value) == len("2026-01-31") else _no_day()
    except (TypeError, ValueError):
        return _no_day()
    if found := day_fault(day):
        raise fault(*found)
    return day


def _no_day() -> date:
    raise fault(tr("is no day of the calendar"), tr('write one such as "2026-03-31"'))


def _ranged(name: str) -> PlainValidator:
    def read(value: Any) -> Fraction:
        exact = number(value)
        if found := bounds.RANGES[name].fault(exact):
            raise fault(*found)
        return exact

    return PlainValidator(read)


def _range_schema(name: str) -> WithJsonSchema:
    bound = bounds.RANGES[name]
    least = "exclusiveMinimum" if bound.above else "minimum"
    return WithJsonSchema({"type": "number", least: float(bound.least), "maximum": bound.most})


def _count(name: str) -> Any:
    least, most = bounds.COUNTS[name]
    return Field(ge=least, le=most)


Day = Annotated[
    date,
    PlainValidator(_day),
    WithJsonSchema({"type": "string", "format": "date", "description": '"2026-03-31"'}),
]
Grams = Annotated[Fraction, _ranged("grams"), _range_schema("grams")]
Kilograms = Annotated[Fraction, _ranged("lift_one"), _range_schema("lift_one")]
Share = Annotated[Fraction, _ranged("survival"), _range_schema("survival")]
Celsius = Annotated[Fraction, _ranged("celsius"), _range_schema("celsius")]
Few = Annotated[Fraction, _ranged("swelling"), _range_schema("swelling")]
Factor = Annotated[Fraction, _ranged("factor"), _range_schema("factor")]
Weight = Annotated[Fraction, _ranged("soaked"), _range_schema("soaked")]
Dense = Annotated[Fraction, _ranged("per_m2"), _range_schema("per_m2")]
Days = Annotated[int, _count("days")]
Amount = Annotated[int, _count("sites")]
Some = Annotated[int, _count("target")]
Drawing = Annotated[
    str,
    text_of(bounds.LONGEST_DRAWING, lines=True),
    WithJsonSchema({"type": "string", "maxLength": bounds.LONGEST_DRAWING}),
]


class Walls(Model):
    """The inside once more, ``depth`` below the working level."""

    depth: Size
    length: Size
    width: Size

    def build(self) -> water.Walls:
        """Make the second measuring."""
        return water.Walls(self.depth, self.length, self.width)


class Water(Model):
    """The water of a bed: its ``depth`` at the working level, its levels and its warmth."""

    depth: Size | None = None
    low: Gap = ZERO
    high: Gap = ZERO
    celsius: Celsius = water.USUAL_CELSIUS
    walls: Walls | None = None
    metered: PaintVolume | None = None

    @model_validator(mode="after")
    def _agree(self) -> Self:
        if found := bounds.water_fault(self.build()):
            key, what, cure = found
            raise fault(what, cure, key)
        return self

    def build(self) -> water.Water:
        """Make the water."""
        walls = self.walls.build() if self.walls else None
        return water.Water(self.depth, self.low, self.high, self.celsius, walls, self.metered)


class Pot(Model):
    """A net pot as measured, or a plug, which has no ``rim`` and may have a ``collar``."""

    name: Title
    body: Fine
    depth: Size
    foot: Fine
    rim: Gap = ZERO
    rim_height: Gap = ZERO
    grams: Grams | None = None
    collar: Gap = ZERO
    collar_hole: Gap = ZERO

    @model_validator(mode="after")
    def _agree(self) -> Self:
        if found := bounds.pot_fault(self.build()):
            key, what, cure = found
            raise fault(what, cure, key)
        return self

    def build(self) -> pot.Pot:
        """Make the pot."""
        return pot.Pot(
            self.name,
            self.body,
            self.depth,
            self.foot,
            self.rim,
            self.rim_height,
            self.grams,
            self.collar,
            self.collar_hole,
        )


class OwnCrop(Model):
    """A crop of the grower's own, beside the published table."""

    name: Title
    spacing: Fine
    days: Days | None = None
    planted_width: Fine | None = None
    mature_width: Fine | None = None
    grams: Grams | None = None
    note: Lines = ""

    def build(self) -> own_crop.OwnCrop:
        """Make the crop."""
        return own_crop.OwnCrop(
            self.name,
            self.spacing,
            self.days,
            self.planted_width,
            self.mature_width,
            self.grams,
            self.note,
        )


class Limits(Model):
    """How far a grower goes; practice, not law. Weights in kg, ``soaked`` in kg/m³.

    ``gap`` is the widest opening beside a raft, ``open_water`` the largest share of the water
    that light reaches; without them neither is judged.
    """

    lift_one: Kilograms = limits.Limits().lift_one
    lift_two: Kilograms = limits.Limits().lift_two
    wet: Gap = limits.Limits().wet
    freeboard: Gap = limits.Limits().freeboard
    sound: Share = limits.Limits().sound
    soaked: Weight = limits.Limits().soaked
    gap: Size | None = None
    open_water: Share | None = None

    def build(self) -> limits.Limits:
        """Make the limits."""
        return limits.Limits(
            self.lift_one,
            self.lift_two,
            self.wet,
            self.freeboard,
            self.sound,
            self.soaked,
            self.gap,
            self.open_water,
        )


class Allowances(Model):
    """What makes rafts larger than they were cut, and holes wider than the saw."""

    film: Gap = ZERO
    swelling: Few = Fraction(0)
    warming: Few = Fraction(0)
    expansion: Few = allowances.Allowances().expansion
    wobble: Gap = ZERO

    def build(self) -> allowances.Allowances:
        """Make the allowances."""
        return allowances.Allowances(
            self.film, self.swelling, self.warming, self.expansion, self.wobble
        )


class RunStage(Model):
    """A time that each batch spends in one place; ``survival`` is a share, 0.95 for 95 %."""

    name: Title
    days: Days
    survival: Share = Fraction(1)
    bed: Name = ""
    sites: Some | None = None
    more_beds: Annotated[list[Name], Field(max_length=MOST_BEDS)] = Field(default_factory=list)
    crop: Name = ""

    def build(self) -> run.RunStage:
        """Make the stage."""
        return run.RunStage(
            self.name,
            self.days,
            self.survival,
            self.bed,
            self.sites,
            tuple(self.more_beds),
            self.crop,
        )


class Pause(Model):
    """Days on which nothing is sown, first and last included."""

    first: Day
    last: Day
    why: Name = ""

    @model_validator(mode="after")
    def _goes_on(self) -> Self:
        _in_order(self.first, self.last)
        return self

    def build(self) -> run.Pause:
        """Make the pause."""
        return run.Pause(self.first, self.last, self.why)


class SlowTime(Model):
    """Days in which a stage that begins takes ``factor`` times as long."""

    first: Day
    last: Day
    factor: Factor

    @model_validator(mode="after")
    def _goes_on(self) -> Self:
        _in_order(self.first, self.last)
        return self

    def build(self) -> run.SlowTime:
        """Make the time."""
        return run.SlowTime(self.first, self.last, self.factor)


def _in_order(first: date, last: date) -> None:
    if last < first:
        raise fault(tr("ends before it begins"), tr("write the earlier day first"), "last")


class Run(Model):
    """A crop in its rhythm: a batch is sown every so many days, and goes through the stages."""

    name: Title
    crop: Name = ""
    stages: Annotated[list[RunStage], Field(min_length=1, max_length=MOST_STAGES)]
    every: Days = 7
    target: Some | None = None
    first: Day | None = None
    until: Day | None = None
    turn_days: Annotated[int, _count("turn_days")] = 0
    pauses: Annotated[list[Pause], Field(max_length=MOST_PAUSES)] = Field(default_factory=list)
    slow_times: Annotated[list[SlowTime], Field(max_length=MOST_PAUSES)] = Field(
        default_factory=list
    )
    seed_pack: Some | None = None
    plug_pack: Some | None = None
    stands: Annotated[int, _count("stands")] = 0
    share_rafts: bool = False
    picks: Annotated[int, _count("picks")] = 1
    pick_every: Days = 14

    @model_validator(mode="after")
    def _ends(self) -> Self:
        if found := bounds.run_fault(self.build()):
            key, what, cure = found
            raise fault(what, cure, key)
        return self

    def build(self) -> run.Run:
        """Make the run."""
        return run.Run(
            self.name,
            self.crop,
            tuple(stage.build() for stage in self.stages),
            self.every,
            self.target,
            self.first,
            self.until,
            self.turn_days,
            tuple(pause.build() for pause in self.pauses),
            tuple(slow.build() for slow in self.slow_times),
            self.seed_pack,
            self.plug_pack,
            self.stands,
            self.share_rafts,
            self.picks,
            self.pick_every,
        )


class RaftMade(Model):
    """A raft that was cut and drilled, as it came out."""

    label: Title
    design: Name = ""
    code: Name = ""
    made: Day | None = None
    length: Size | None = None
    width: Size | None = None
    hole_diameter: Fine | None = None
    sites: Amount | None = None
    retired: bool = False
    bed: Name = ""
    raft: Name = ""
    coats: Annotated[int, _count("coats")] | None = None
    washes: Annotated[int, _count("washes")] | None = None
    washed: Day | None = None
    drawing: Drawing = ""

    def build(self) -> log.RaftMade:
        """Make the raft."""
        return log.RaftMade(
            self.label,
            self.design,
            self.code,
            self.made,
            self.length,
            self.width,
            self.hole_diameter,
            self.sites,
            self.retired,
            self.bed,
            self.raft,
            self.coats,
            self.washes,
            self.washed,
            self.drawing,
        )


class BatchGrown(Model):
    """A batch as it grew; numbers of plants, the mass of all picked together in grams."""

    run: Title
    sown: Day
    seeds: Amount | None = None
    up: Amount | None = None
    set: Amount | None = None
    picked: Amount | None = None
    picked_on: Day | None = None
    grams: Grams | None = None
    per_m2: Dense | None = None

    def build(self) -> log.BatchGrown:
        """Make the batch."""
        return log.BatchGrown(
            self.run,
            self.sown,
            self.seeds,
            self.up,
            self.set,
            self.picked,
            self.picked_on,
            self.grams,
            self.per_m2,
        )


class Note(Model):
    """Something to remember, about the project or the raft or batch that ``of`` names."""

    text: Lines
    about: log.About = "project"
    of: Name = ""
    day: Day | None = None

    def build(self) -> log.Note:
        """Make the note."""
        return log.Note(self.text, self.about, self.of, self.day)


class Log(Model):
    """All that was written down."""

    rafts: Annotated[list[RaftMade], Field(max_length=MOST_LOGGED)] = Field(default_factory=list)
    batches: Annotated[list[BatchGrown], Field(max_length=MOST_LOGGED)] = Field(
        default_factory=list
    )
    notes: Annotated[list[Note], Field(max_length=MOST_LOGGED)] = Field(default_factory=list)

    def build(self) -> log.Log:
        """Make the log."""
        return log.Log(
            tuple(raft.build() for raft in self.rafts),
            tuple(batch.build() for batch in self.batches),
            tuple(note.build() for note in self.notes),
        )
