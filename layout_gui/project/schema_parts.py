"""What the models of the project file are made of: numbers, lengths, texts, and their faults."""

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Final

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from geometry.errors import GeometryError, LengthError, WantedError
from geometry.model import sheet, supplies
from geometry.model.wanted import HIGHEST_PER_M2, MOST_WANTED, Density, parse_wanted
from geometry.tongue import tr
from geometry.units import MOST_DIGITS, Length, parse_length
from layout_gui.project import bounds

MOST_KEYS = 100


def fault(what: str, cure: str, key: str = "") -> PydanticCustomError:
    """Make the error that becomes one fault of the file; ``key`` narrows its place."""
    return PydanticCustomError("fault", "{what}", {"what": what, "cure": cure, "key": key})


def number(value: Any) -> Fraction:
    """Take a number of the file exactly, if it is one that can be held."""
    if type(value) is int:
        return Fraction(value)
    if not isinstance(value, Decimal):
        raise fault(tr("is no number"), tr("write a number such as 14.5"))
    if not value.is_finite():
        raise fault(tr("is no finite number"), tr("write a number such as 14.5"))
    # The size of the exponent must be known before anything is multiplied out.
    if not value or -MOST_DIGITS <= value.adjusted() <= MOST_DIGITS:
        exact = Fraction(value) if value else Fraction(0)
        if 10**MOST_DIGITS % exact.denominator == 0:
            return exact
    raise fault(tr("has more digits than a number needs"), tr("round it"))


def _money(value: Any) -> Fraction:
    amount = number(value)
    if not 0 <= amount <= bounds.HIGHEST_PRICE:
        raise fault(
            tr("must be from 0 to {most}", most=bounds.HIGHEST_PRICE),
            tr("write a number such as 14.5"),
        )
    return amount


def _foam_density(value: Any) -> Fraction:
    amount = number(value)
    if not 0 < amount <= sheet.HEAVIEST_FOAM:
        raise fault(*bounds.foam_fault())
    return amount


def _length(value: Any) -> Length:
    if isinstance(value, Decimal) or type(value) is int:
        return Length(number(value))
    if not isinstance(value, str):
        raise fault(tr("is no length"), tr(bounds.EXAMPLE))
    try:
        return parse_length(value, None)
    except LengthError as error:
        what, _, cure = str(error).rstrip(".").partition("; ")
        raise fault(what, cure or tr(bounds.EXAMPLE)) from error


def _density(value: Any) -> Density:
    example = tr('write a number per m² such as 24, or "2.2/ft2"')
    if not isinstance(value, str):
        per_m2 = number(value)
        if not 0 < per_m2 <= HIGHEST_PER_M2:
            raise fault(
                tr(
                    "must be above 0 and at most {most} per m²",
                    most=HIGHEST_PER_M2,
                ),
                example,
            )
        return Density(per_m2)
    try:
        wanted = parse_wanted(value)
    except WantedError as error:
        what, _, cure = str(error).rstrip(".").partition("; ")
        raise fault(what, cure or example) from error
    if isinstance(wanted, int):
        raise fault(tr("names no area"), example)
    return wanted


def _coverage(value: Any) -> supplies.Coverage:
    if not isinstance(value, str):
        return supplies.Coverage(_amount(value))
    try:
        return supplies.parse_coverage(value, None)
    except GeometryError as error:
        raise _amount_fault(error) from error


def _volume(value: Any) -> supplies.Volume:
    if not isinstance(value, str):
        return supplies.Volume(_amount(value))
    try:
        return supplies.parse_volume(value, None)
    except GeometryError as error:
        raise _amount_fault(error) from error


def _amount(value: Any) -> Fraction:
    amount = number(value)
    if not 0 < amount <= supplies.MOST_AMOUNT:
        raise fault(
            tr("must be above 0 and at most {most}", most=supplies.MOST_AMOUNT),
            tr("write a number such as 14.5"),
        )
    return amount


def _amount_fault(error: GeometryError) -> PydanticCustomError:
    what, _, cure = str(error).rstrip(".").partition("; ")
    return fault(what, cure or tr("write a number such as 14.5"))


def _bounded(bound: bounds.Bound) -> PlainValidator:
    def read(value: Any) -> Length:
        length = _length(value)
        if found := bound.fault(length.exact):
            raise fault(*found)
        return length

    return PlainValidator(read)


def _length_schema(bound: bounds.Bound, words: str) -> WithJsonSchema:
    least = "exclusiveMinimum" if bound.above else "minimum"
    return WithJsonSchema(
        {
            "description": f"{words} A number is millimetres; text carries its unit, exactly: "
            '"47 5/8 in", "1.2 m".',
            "anyOf": [
                {"type": "number", least: float(bound.least), "maximum": float(bound.most)},
                {"type": "string", "minLength": 2, "maxLength": 100},
            ],
        }
    )


def text_of(longest: int, *, least: int = 0, lines: bool = False) -> PlainValidator:
    """Take a text of so many characters at most; only one of ``lines`` may have line breaks."""

    def read(value: Any) -> str:
        if not isinstance(value, str):
            raise fault(tr("must be text"), tr("put it in quotes"))
        if len(value) < least:
            raise fault(tr("must not be empty"), tr("write a name"))
        if found := bounds.text_fault(value.replace("\n", " ") if lines else value, longest):
            raise fault(*found)
        return value

    return PlainValidator(read)


Size = Annotated[Length, _bounded(bounds.SIZE), _length_schema(bounds.SIZE, "Above 0.")]
Gap = Annotated[Length, _bounded(bounds.GAP), _length_schema(bounds.GAP, "0 or more.")]
Fine = Annotated[Length, _bounded(bounds.FINE), _length_schema(bounds.FINE, "At least 0.01 mm.")]
Step = Annotated[Length, _bounded(bounds.STEP), _length_schema(bounds.STEP, "0.1 mm to 50 mm.")]
Place = Annotated[Length, _bounded(bounds.PLACE), _length_schema(bounds.PLACE, "A coordinate.")]
Name = Annotated[
    str,
    text_of(bounds.LONGEST_NAME),
    WithJsonSchema({"type": "string", "maxLength": bounds.LONGEST_NAME}),
]
Title = Annotated[
    str,
    text_of(bounds.LONGEST_NAME, least=1),
    WithJsonSchema({"type": "string", "minLength": 1, "maxLength": bounds.LONGEST_NAME}),
]
Lines = Annotated[
    str,
    text_of(bounds.LONGEST_NOTE, lines=True),
    WithJsonSchema({"type": "string", "maxLength": bounds.LONGEST_NOTE}),
]
Note = Annotated[
    str,
    text_of(bounds.LONGEST_NOTE),
    WithJsonSchema({"type": "string", "maxLength": bounds.LONGEST_NOTE}),
]
Money = Annotated[
    Fraction,
    PlainValidator(_money),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": bounds.HIGHEST_PRICE}),
]
FoamDensity = Annotated[
    Fraction,
    PlainValidator(_foam_density),
    WithJsonSchema({"type": "number", "exclusiveMinimum": 0, "maximum": int(sheet.HEAVIEST_FOAM)}),
]
Count = Annotated[int, Field(ge=1, le=bounds.MOST_RAFTS)]
Plants = Annotated[int, Field(ge=1, le=MOST_WANTED)]
PlantDensity = Annotated[
    Density,
    PlainValidator(_density),
    WithJsonSchema(
        {
            "description": "Plants per square metre of water; text carries its area, exactly: "
            '"24/m2", "2.2/ft2".',
            "anyOf": [
                {"type": "number", "exclusiveMinimum": 0, "maximum": HIGHEST_PER_M2},
                {"type": "string", "minLength": 4, "maxLength": 100},
            ],
        }
    ),
]
_AMOUNTS: Final = [
    {"type": "number", "exclusiveMinimum": 0, "maximum": supplies.MOST_AMOUNT},
    {"type": "string", "minLength": 2, "maxLength": 100},
]
PaintCoverage = Annotated[
    supplies.Coverage,
    PlainValidator(_coverage),
    WithJsonSchema(
        {
            "description": "Square metres that a litre covers; text carries its units, exactly: "
            '"8 m2/L", "350 ft2/gal" (US gallons).',
            "anyOf": _AMOUNTS,
        }
    ),
]
PaintVolume = Annotated[
    supplies.Volume,
    PlainValidator(_volume),
    WithJsonSchema(
        {
            "description": "Litres; text carries its unit, exactly: "
            '"2.5 L", "1 gal" (a US gallon).',
            "anyOf": _AMOUNTS,
        }
    ),
]
Point = Annotated[list[Place], Field(min_length=2, max_length=2)]


@dataclass(slots=True)
class Reading:
    """What is known while one file is read.

    ``readers`` say by the id of an object of the file which model read it; ``own_crops`` are the
    names of the file's own crops, small letters.
    """

    readers: dict[int, type["Model"]] = field(default_factory=dict)
    own_crops: frozenset[str] = frozenset()


class Model(BaseModel):
    """What every part of the file has in common: unknown keys and near misses are refused."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, defer_build=True)

    @model_validator(mode="before")
    @classmethod
    def _note_reader(cls, value: Any, info: ValidationInfo) -> Any:
        """Remember which model read which object, for the suggestions on unknown keys."""
        if isinstance(value, dict):
            if len(value) > MOST_KEYS:
                raise fault(
                    tr("has {count} keys", count=len(value)),
                    tr("keep the keys of the documentation only"),
                )
            if info.context is not None:
                info.context.readers[id(value)] = cls
        return value
