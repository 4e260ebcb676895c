"""The measurements of an outline as fields, for beds and for obstacles alike."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from geometry.errors import GeometryError
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import Length, format_length
from layout_gui.panels.form import Field
from layout_gui.panels.now import Now
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.words import options_of

Read = Callable[[Now], Outline | None]
Write = Callable[[Now, Outline], Project]

KIND_WORDS: Final[tuple[tuple[type[Outline], str], ...]] = (
    (Rectangle, mark("rectangle")),
    (Measured, mark("as the tape found it")),
    (Disc, mark("round")),
    (RoundEnded, mark("round ends")),
    (LShape, mark("L")),
    (Tapered, mark("tapered")),
    (Polygon, mark("any corners")),
)

_LENGTHS: Final[tuple[tuple[str, str, tuple[type[Outline], ...], str], ...]] = (
    ("length", mark("Length"), (Rectangle, RoundEnded, LShape, Tapered), ""),
    ("width", mark("Width"), (Rectangle, RoundEnded, LShape), ""),
    ("corner_radius", mark("Corner radius"), (Rectangle,), mark("0 for sharp corners")),
    ("diameter", mark("Across"), (Disc,), ""),
    ("notch_length", mark("Notch length"), (LShape,), mark("the notch is the upper right corner")),
    ("notch_width", mark("Notch width"), (LShape,), ""),
    ("width_start", mark("Width at start"), (Tapered,), mark("at the left end")),
    ("width_end", mark("Width at end"), (Tapered,), mark("at the right end")),
)
_TAPES: Final[tuple[tuple[str, str, tuple[int, ...], str], ...]] = (
    ("lengths", mark("Lengths"), (1, 2), mark("one or two, with ; between")),
    ("widths", mark("Widths"), (1, 2, 3), mark("up to three, with ; between")),
    ("diagonals", mark("Diagonals"), (0, 2), mark("none or both, with ; between")),
)


def outline_of_kind(old: Outline, kind: type[Outline]) -> Outline:
    """Return an outline of another kind that keeps the length and width of the old one."""
    sizes = [Length(size) for size in outline_sizes(old)]
    length, width = sizes[0], sizes[-1]
    made: dict[type[Outline], Outline] = {
        Rectangle: Rectangle(length, width),
        Measured: Measured((width,), (length,)),
        Disc: Disc(min(length, width, key=lambda size: size.exact)),
        RoundEnded: RoundEnded(length, width),
        LShape: LShape(length, width, Length(length.exact / 4), Length(width.exact / 4)),
        Tapered: Tapered(length, width, width),
        Polygon: Polygon(_corners(length, width)),
    }
    return made[kind]


def outline_fields(read: Read, write: Write, prefix: str = "") -> list[Field]:
    """Describe the kind of an outline and all its measurements; each shows where it applies."""
    fields = [
        Field(
            name=f"{prefix}kind",
            label=mark("Outline"),
            kind="choice",
            read=lambda now: type(read(now)),
            write=lambda now, kind: write(now, outline_of_kind(_given(read(now)), kind)),
            options=lambda _now: options_of(dict(KIND_WORDS)),
            shown=lambda now: read(now) is not None,
        )
    ]
    fields += [_length_field(read, write, prefix, row) for row in _LENGTHS]
    fields += [_tape_field(read, write, prefix, row) for row in _TAPES]
    return fields


def _corners(length: Length, width: Length) -> tuple[tuple[Length, Length], ...]:
    zero = Length.of(0)
    return ((zero, zero), (length, zero), (length, width), (zero, width))


def _given(outline: Outline | None) -> Outline:
    if outline is None:
        raise GeometryError(tr("There is no bed to measure yet."))
    return outline


def _with(outline: Outline | None, attribute: str, value: object) -> Outline:
    changes: dict[str, Any] = {attribute: value}
    return replace(_given(outline), **changes)


def _length_field(
    read: Read, write: Write, prefix: str, row: tuple[str, str, tuple[type[Outline], ...], str]
) -> Field:
    attribute, label, kinds, follows = row
    return Field(
        name=f"{prefix}{attribute}",
        label=label,
        kind="length",
        read=lambda now: getattr(read(now), attribute),
        write=lambda now, value: write(now, _with(read(now), attribute, value)),
        shown=lambda now: isinstance(read(now), kinds),
        follows=lambda _now: tr(follows),
    )


def _tape_field(
    read: Read, write: Write, prefix: str, row: tuple[str, str, tuple[int, ...], str]
) -> Field:
    attribute, label, counts, hint = row

    def follows(now: Now) -> str:
        values: tuple[Length, ...] = getattr(read(now), attribute)
        if attribute == "diagonals" or len(values) < 2:
            return tr(hint)
        least = min(value.exact for value in values)
        return tr("{least} counts, the least", least=format_length(least, now.project.units))

    return Field(
        name=f"{prefix}{attribute}",
        label=label,
        kind="lengths",
        read=lambda now: getattr(read(now), attribute),
        write=lambda now, value: write(now, _with(read(now), attribute, value)),
        shown=lambda now: isinstance(read(now), Measured),
        follows=follows,
        counts=counts,
        hint=hint,
    )
