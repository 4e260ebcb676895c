"""Between which levels the water of a bed stands, and how its walls lean: a fold at Bed."""

from fractions import Fraction
from typing import Any, Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.beds.levels import lean_at, levels_of, may_lean
from geometry.errors import OutlineError
from geometry.model.bed import Bed
from geometry.model.outlines import Disc
from geometry.model.project import Project
from geometry.model.water import Water
from geometry.tongue import mark, tr
from geometry.units import Length, format_length
from layout_gui.document.document import Document
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, label
from layout_gui.panels.words import options_of, short_length
from layout_gui.project.edits_levels import lean_walls, set_walls
from layout_gui.project.edits_water import set_water

_WALLS: Final = ((False, mark("straight")), (True, mark("leaning")))


def _water(now: Now) -> Water:
    return now.bed.water if now.bed else Water()


def _leans(now: Now) -> bool:
    return _water(now).walls is not None


def _is_round(now: Now) -> bool:
    return now.bed is not None and isinstance(now.bed.outline, Disc)


def _set(now: Now, name: str, value: Length | None) -> Project:
    changes: dict[str, Any] = {name: value}
    return set_water(now.project, now.bed.name if now.bed else "", **changes)


def _level(name: str, words: str, hint: str) -> Field:
    return Field(
        f"water-{name}", words, "length",
        read=lambda now: getattr(_water(now), name),
        write=lambda now, value: _set(now, name, value),
        empty_means=mark("not measured") if name == "depth" else "",
        hint=hint,
    )  # fmt: skip


def _wall(name: str, words: str, hint: str) -> Field:
    def write(now: Now, value: Length) -> Project:
        changes: dict[str, Any] = {name: value}
        return set_walls(now.project, now.bed.name if now.bed else "", **changes)

    return Field(
        f"wall-{name}", words, "length",
        read=lambda now: getattr(_water(now).walls, name),
        write=write,
        shown=lambda now: _leans(now) and not (name == "length" and _is_round(now)),
        hint=hint,
    )  # fmt: skip


FIELDS: Final = (
    _level(
        "depth",
        mark("Depth"),
        mark("From the face of the water, at its working level, straight down to the floor"),
    ),
    _level("low", mark("Falls by"), mark("How far the water falls below its working level")),
    _level("high", mark("Rises by"), mark("How far the water rises above its working level")),
    Field(
        "walls", mark("Walls"), "choice",
        read=_leans,
        write=lambda now, lean: lean_walls(
            now.project, now.bed.name if now.bed else "", lean=bool(lean)
        ),
        shown=lambda now: now.bed is not None and (may_lean(now.bed.outline) or _leans(now)),
        options=lambda _now: options_of(dict(_WALLS)),
        hint=mark("Walls that lean make the bed narrower as its water falls"),
    ),
    _wall(
        "depth",
        mark("Measured again, below"),
        mark("How far below the working level you measured the inside once more"),
    ),
    _wall("length", mark("Length there"), mark("The inside length so far down")),
    _wall("width", mark("Width there"), mark("The inside width so far down")),
)  # fmt: skip


class LevelsPart(QWidget):
    """A fold with the fields, and how much the walls take off at each level."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.form = Form(FIELDS, document)
        self.told = label("", "quiet")
        self.fold = Fold(tr("Water levels"), self.form, self.told)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.fold)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self.setVisible(now.bed is not None)
        if now.bed is None:
            return
        self.form.show_now(now)
        self.fold.set_note(_line(now, now.bed))
        told = _lean_words(now, now.bed)
        self.told.setText(told)
        self.told.setVisible(bool(told))


def _line(now: Now, bed: Bed) -> str:
    """Say between which levels the water stands; empty while nothing is typed."""
    unit, water = now.project.units, bed.water
    parts = [
        tr("{depth} deep", depth=short_length(water.depth.exact, unit)) if water.depth else "",
        tr("falls {low}", low=short_length(water.low.exact, unit)) if water.low.exact else "",
        tr("rises {high}", high=short_length(water.high.exact, unit)) if water.high.exact else "",
        tr("walls lean") if water.walls is not None else "",
    ]
    return ", ".join(filter(None, parts))


def _lean_words(now: Now, bed: Bed) -> str:
    """Say how much shorter and narrower the bed is at its levels, where its walls lean."""
    if bed.water.walls is None:
        return ""
    if not may_lean(bed.outline):
        return tr("For this shape two sizes are not enough: its walls count as plumb.")
    words = {
        "low": (mark("At low water {length} longer, {width} wider."),
                mark("At low water {length} shorter, {width} narrower.")),
        "high": (mark("At high water {length} longer, {width} wider."),
                 mark("At high water {length} shorter, {width} narrower.")),
    }  # fmt: skip
    lines = []
    try:
        for level, down in levels_of(bed.water).items():
            if level != "working":
                by = lean_at(bed.outline, bed.water.walls, down)
                less, (length, width) = max(by, key=abs) > 0, by
                lines.append(_signed_words(words[level][less], length, width, now, less=less))
    except OutlineError as error:
        return str(error)
    return " ".join(lines) or tr("Type how far the water falls and rises.")


def _signed_words(words: str, length: Fraction, width: Fraction, now: Now, *, less: bool) -> str:
    sign = 1 if less else -1
    unit = now.project.units
    return tr(
        words,
        length=format_length(sign * length, unit),
        width=format_length(sign * width, unit),
    )
