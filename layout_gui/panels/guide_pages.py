"""The questions of the guide about the bed itself: its shape, its inside, its walls."""

from collections.abc import Sequence
from functools import partial
from typing import Any, Final

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QWidget

from geometry.beds.levels import inside_at, may_lean, narrowing, top_sizes
from geometry.beds.outline import exact_box, skew_mm
from geometry.beds.shapes import (
    AGAIN,
    LEAN,
    LEAN_WORDS,
    MEASURE_WORDS,
    NEEDED,
    SHAPE_WORDS,
    SHAPES,
    ShapeName,
)
from geometry.errors import GeometryError
from geometry.model.outlines import Disc, Measured, Outline
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import Length, Unit, format_area, format_length
from layout_gui.document.document import Document
from layout_gui.panels.corners import Corners
from layout_gui.panels.fields import ChoiceField, LengthField
from layout_gui.panels.form import Field, Form
from layout_gui.panels.guide_talk import Lean, Talk
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, button, label, side_by_side
from layout_gui.panels.shape_picture import ShapePicture, ShapeTile
from layout_gui.panels.start import UNIT_WORDS
from layout_gui.panels.words import TIMES, exact_size_words
from layout_gui.project.edits_water import set_water
from layout_gui.project.first import Question, is_usual, outline_of, values_of
from layout_gui.screen.theme import Theme

_GROUPS: Final = (("length", "length-2"), ("width", "width-2", "width-3"))
_HALVES: Final = {"diagonal-1": "diagonal-2", "diagonal-2": "diagonal-1"}


class Page(Column):
    """One question. ``answer`` puts what it shows into the project, unless something is wrong."""

    question: Question

    def begin(self) -> None:
        """Put the keyboard where the answer goes."""
        raise NotImplementedError

    def answer(self, now: Now) -> str:
        """Make the answer the project's, as one step; return what stands in the way, or nothing."""
        raise NotImplementedError

    def follows(self, now: Now) -> str:  # noqa: ARG002 - what follows is the page's to say
        """Say what follows from the answers, where the page does not say it itself."""
        return ""


class ShapePage(Page):
    """Which shape the bed has, and in which unit it is measured."""

    question = "shape"
    picked = Signal(str)
    unit_chosen = Signal(object)
    measuring_wanted = Signal(str)
    """The shape whose measuring page is to be printed."""

    def __init__(self, document: Document, talk: Talk, theme: Theme) -> None:
        super().__init__(tr("Shape"))
        self._document = document
        self._talk = talk
        self.set_title(
            tr("What shape is the water?"),
            tr("Seen from above. Pick the nearest; obstacles in it come later."),
        )
        tiles = QWidget()
        tiles.setAccessibleName(tr("Shape of the bed"))
        grid = QGridLayout(tiles)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(6)
        self._group = QButtonGroup(self)
        self.tiles: dict[ShapeName, ShapeTile] = {}
        for at, shape in enumerate(SHAPES):
            tile = ShapeTile(shape, theme, tiles)
            tile.toggled.connect(partial(self._on_toggled, shape))
            self._group.addButton(tile)
            grid.addWidget(tile, at // 2, at % 2)
            self.tiles[shape] = tile
        self.unit = ChoiceField()
        self.unit.set_options([(unit, tr(words)) for unit, words in UNIT_WORDS])
        self.unit.setAccessibleName(tr("Measured in"))
        self.unit.setObjectName("guide-unit")
        self.unit.committed.connect(self.unit_chosen)
        words = QLabel(tr("Measured in"))
        words.setBuddy(self.unit)
        self.measuring = button(
            tr("Print a measuring page…"),
            lambda: self.measuring_wanted.emit(self.shape),
            "link",
        )
        self.measuring.setToolTip(tr("To fill in by hand beside the water"))
        self.add(tiles)
        self.add(words)
        self.add(self.unit)
        self.add(side_by_side(self.measuring))

    @property
    def shape(self) -> ShapeName:
        """The shape that is picked."""
        return next(shape for shape, tile in self.tiles.items() if tile.isChecked())

    def begin(self) -> None:
        """Go to the picked shape."""
        self.tiles[self.shape].setFocus(Qt.FocusReason.TabFocusReason)

    def show_now(self, now: Now) -> None:
        """Show the shape of the bed, unless another one is just being picked."""
        if not any(tile.hasFocus() for tile in self.tiles.values()):
            self.tiles[self._talk.shape(now)].setChecked(True)
        self.unit.show_value(self._talk.units(now))

    def answer(self, now: Now) -> str:
        """Give the bed the picked shape."""
        shape = self.shape
        if now.bed is not None and self._talk.shape(now) == shape:
            return ""
        self._talk.pick(shape)
        words = tr("Shape: {shape}", shape=tr(SHAPE_WORDS[shape]))
        self._document.apply(words, self._talk.shaped(now))
        return ""

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        for tile in self.tiles.values():
            tile.set_theme(theme)

    def _on_toggled(self, shape: ShapeName, on: bool) -> None:  # noqa: FBT001 - a Qt slot
        if on:
            self.picked.emit(shape)


class InsidePage(Page):
    """How large the bed is inside: every measure of its shape, on a rectangle several times."""

    question = "inside"

    def __init__(self, document: Document, talk: Talk, theme: Theme) -> None:
        super().__init__(tr("Inside"))
        self._talk = talk
        self._now: Now | None = None
        self._half: dict[str, Length | None] = {}
        self.picture = ShapePicture(theme)
        names = dict.fromkeys([name for needed in NEEDED.values() for name in needed])
        self.form = Form([self._field(name) for name in names], document)
        self._again = label(
            tr("Measured again elsewhere? The least counts, for a raft must fit everywhere."),
            "quiet",
        )
        self.again_form = Form([self._field(name) for name in AGAIN], document)
        self.corners = Corners(
            talk.outline, talk.measured, document, tr("Corners of the bed"), "guide-"
        )
        for part in (self.picture, self.form, self.corners, self._again, self.again_form):
            self.add(part)
        for form in (self.form, self.again_form):
            for name, row in form.rows.items():
                row.editor.installEventFilter(self)
                if isinstance(row.editor, LengthField) and name.removeprefix("guide-") in _HALVES:
                    row.editor.committed.connect(partial(self._keep_half, name))

    def begin(self) -> None:
        """Go to the first measure."""
        shown = [row.editor for row in self.form.rows.values() if not row.editor.isHidden()]
        first = shown[0] if shown else self.corners.items.list
        first.setFocus(Qt.FocusReason.TabFocusReason)

    def show_now(self, now: Now) -> None:
        """Show the measures of the bed and which of them decide."""
        self._now = now
        outline = self._talk.outline(now)
        if outline is None:
            return
        shape = self._talk.shape(now)
        if shape != "rectangle" or (isinstance(outline, Measured) and outline.diagonals):
            self._half = {}
        self.set_title(tr("How large is it inside?"), _how_to_measure(shape))
        known = frozenset(name for name, value in self._values(now).items() if value is not None)
        self.picture.show_shape(shape, known)
        for form in (self.form, self.again_form):
            form.show_now(now)
        self.corners.show_now(now)
        self.corners.setVisible(shape == "free")
        self._again.setVisible(shape == "rectangle")
        self.again_form.setVisible(shape == "rectangle")
        self.form.setVisible(shape != "free")
        self.picture.setVisible(shape != "free")

    def follows(self, now: Now) -> str:
        """Say what the measures come to."""
        outline = self._talk.outline(now)
        words, is_fault = inside_words(outline, now) if outline else ("", False)
        return "" if is_fault else words

    def answer(self, now: Now) -> str:
        """Say what is refused; the measures are in the project already."""
        outline = self._talk.outline(now)
        for form in (self.form, self.again_form):
            for row in form.rows.values():
                if row.note.property("refused") and not row.editor.isHidden():
                    row.editor.setFocus()
                    return row.note.text().removeprefix("! ")
        words, is_fault = inside_words(outline, now) if outline else ("", False)
        return words if is_fault else ""

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self.picture.set_theme(theme)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Light the line of the measure that is being typed."""
        if event.type() == QEvent.Type.FocusIn:
            self.picture.light(watched.objectName().removeprefix("guide-"))
        return super().eventFilter(watched, event)

    def _values(self, now: Now) -> dict[str, Length | None]:
        outline = self._talk.outline(now)
        if outline is None:
            return {}
        values = values_of(self._talk.shape(now), outline)
        missing = {name: value for name, value in self._half.items() if not values.get(name)}
        return values | missing if "diagonal-1" in values else values

    def _field(self, name: str) -> Field:
        def write(now: Now, value: Length | None) -> Project:
            values = {**self._values(now), name: value}
            return self._talk.measured(now, outline_of(self._talk.shape(now), values))

        return Field(
            f"guide-{name}",
            MEASURE_WORDS[name],
            "length",
            read=lambda now: self._values(now).get(name),
            write=write,
            follows=lambda now: self._follows(now, name),
            shown=lambda now: name in self._values(now),
            empty_means=mark("not measured") if name in AGAIN else "",
        )

    def _follows(self, now: Now, name: str) -> str:
        values, unit = self._values(now), now.project.units
        if name in _HALVES:
            other = values.get(_HALVES[name])
            is_alone = values.get(name) is not None and other is None
            return tr("the other one is needed too") if is_alone else ""
        for group in _GROUPS:
            sizes = [value.exact for each in group if (value := values.get(each)) is not None]
            value = values.get(name)
            if name not in group or value is None or len(sizes) < 2:
                continue
            over = value.exact - min(sizes)
            if over:
                return tr("{over} more", over=format_length(over, unit))
            return tr("the least")
        return ""

    def _keep_half(self, name: str, value: object) -> None:
        """Keep one diagonal until the other one is typed."""
        self._half[name.removeprefix("guide-")] = value if isinstance(value, Length) else None
        if self._now is not None:
            self.show_now(self._now)


def _how_to_measure(shape: ShapeName) -> str:
    if shape == "free":
        return tr(
            "Go round the bed. Measure every corner from the same wall on the left and the same"
            " wall at the bottom, inside, at the waterline."
        )
    return tr("Measure the water, not the frame: inside, at the waterline, with the bed full.")


def inside_words(outline: Outline, now: Now) -> tuple[str, bool]:
    """Say what the measures come to, and whether they cannot be."""
    unit = now.project.units
    try:
        length, width = exact_box(outline)
    except GeometryError as error:
        return f"! {error}", True
    if is_usual(outline):
        return tr("A usual size, until yours is typed."), False
    area = now.bed_plan.area_mm2 if now.bed_plan else 0.0
    if not isinstance(outline, Measured):
        return tr("{area} of water.", area=format_area(area, unit)), False
    words = [tr("Rafts are made for {sizes}.", sizes=_sizes((length, width), unit))]
    skew = skew_mm(outline)
    if skew:
        words.append(
            tr(
                "Like measures differ by up to {skew}.",
                skew=format_length(skew, unit),
            )
        )
    lean = top_sizes(outline)[0] - length
    if lean:
        words.append(
            tr(
                "By the diagonals the ends lean by {lean}, taken off the length.",
                lean=format_length(lean, unit),
            )
        )
    return " ".join(words), False


class LevelsPage(Page):
    """Whether the walls lean, and then what is left at the highest and the lowest water."""

    question = "levels"

    def __init__(self, document: Document, talk: Talk) -> None:
        super().__init__(tr("Walls"))
        self._document = document
        self._talk = talk
        self._now: Now | None = None
        self._lean: Lean | None = None
        self.set_title(
            tr("Do the walls lean?"),
            tr("Water falls between fillings. A raft must float free at its lowest, too."),
        )
        self.walls = ChoiceField()
        self.walls.set_options(
            [
                (False, tr("straight")),
                (True, tr("leaning")),
            ]
        )
        self.walls.setAccessibleName(tr("Walls"))
        self.walls.setObjectName("guide-walls")
        self.walls.committed.connect(self._on_walls)
        words = QLabel(tr("Walls"))
        words.setBuddy(self.walls)
        self.form = Form([self._field(name) for name in LEAN], document)
        self.floor = Form([_FLOOR], document)
        self._note = label("", "quiet")
        self.reckoning = label("")
        self.reckoning.setObjectName("guide-reckoning")
        for part in (words, self.walls, self._note, self.form, self.reckoning, self.floor):
            self.add(part)
        for name, row in self.form.rows.items():
            if isinstance(row.editor, LengthField):
                row.editor.committed.connect(partial(self._keep, name))
                row.editor.stepped.connect(partial(self._keep, name))

    def begin(self) -> None:
        """Go to the walls."""
        self.walls.setFocus(Qt.FocusReason.TabFocusReason)

    def show_now(self, now: Now) -> None:
        """Show how the walls lean and what that comes to."""
        self._now = now
        outline = self._talk.outline(now)
        if outline is None:
            return
        self._lean = self._talk.lean(now) or self._lean
        can = may_lean(outline)
        if not can:
            self._lean = None
        self._note.setVisible(not can)
        self._note.setText(
            tr("For this shape give all measures as they are at the lowest water: go back.")
        )
        self.walls.setEnabled(can)
        self.walls.show_value(self._lean is not None)
        self.form.setVisible(self._lean is not None)
        self.form.show_now(now)
        # Where walls lean, the level that rafts are made for need not be the one measured from.
        self.floor.setVisible(self._lean is None)
        self.floor.show_now(now)
        words, is_fault = self._words(now, outline)
        if words and words != self.reckoning.text():
            # It is what the page is for; its room is known once it is laid out.
            QTimer.singleShot(0, self, lambda: self.ensureWidgetVisible(self.reckoning, 0, 8))
        self.reckoning.setText(words)
        self.reckoning.setProperty("refused", is_fault)
        _polish(self.reckoning)

    def forget(self) -> None:
        """Forget a second measuring that is not complete."""
        self._lean = None

    def answer(self, now: Now) -> str:
        """Say what is missing; what is complete is in the project already."""
        for row in (*self.form.rows.values(), *self.floor.rows.values()):
            if row.editor.isVisibleTo(self) and row.note.property("refused"):
                row.editor.setFocus()
                return row.note.text().removeprefix("! ")
        lean = self._lean
        if lean is None:
            return ""
        missing = [name for name in LEAN if self._is_shown(now, name) and self._value(name) is None]
        if not missing:
            return ""
        self.form.editor(f"guide-lean-{missing[0]}").setFocus()
        return tr("Still missing: {what}.", what=tr(LEAN_WORDS[missing[0]][0]))

    def _value(self, name: str) -> Length | None:
        value: Length | None = getattr(self._lean, name) if self._lean else None
        return value

    def _is_shown(self, now: Now, name: str) -> bool:
        outline = self._talk.outline(now)
        return self._lean is not None and not (
            name == "length" and outline is not None and _is_round(outline)
        )

    def _field(self, name: str) -> Field:
        words, follows = LEAN_WORDS[name]

        def write(now: Now, value: Length | None) -> Project:
            if value is not None and name != "highest" and value.exact < 0:
                raise GeometryError(tr("A length below zero cannot be measured."))
            return self._talk.leaned(now, self._with(now, name, value))

        return Field(
            f"guide-lean-{name}",
            words,
            "length",
            read=lambda _now: self._value(name),
            write=write,
            follows=lambda _now: tr(follows) if follows else "",
            shown=lambda now: self._is_shown(now, name),
            empty_means=mark("not measured"),
        )

    def _with(self, now: Now, name: str, value: Length | None) -> Lean:
        values: dict[str, Any] = {each: self._value(each) for each in LEAN}
        values[name] = value
        outline = self._talk.outline(now)
        if outline is not None and _is_round(outline):
            values["length"] = values["width"]
        return Lean(**values)

    def _keep(self, name: str, value: object) -> None:
        if self._now is None or self._lean is None:
            return
        length = value if isinstance(value, Length) else None
        self._lean = self._with(self._now, name.removeprefix("guide-lean-"), length)
        self.show_now(self._now)

    def _on_walls(self, lean: object) -> None:
        if self._now is None:
            return
        self._lean = Lean() if lean else None
        if self._lean is None and self._talk.lean(self._now) is not None:
            project = self._talk.leaned(self._now, None)
            self._document.apply(tr("Walls stand straight"), project)
        self.show_now(self._now)
        if self._lean is not None:
            self.form.editor("guide-lean-depth").setFocus()

    def _words(self, now: Now, outline: Outline) -> tuple[str, bool]:
        lean = self._lean
        if lean is None or lean.walls is None or not lean.levels:
            return "", False
        try:
            return lean_words(outline, lean, now.project.units), False
        except GeometryError as error:
            return f"! {error}", True


_FLOOR: Final = Field(
    "guide-floor",
    mark("Depth"),
    "length",
    read=lambda now: now.bed.water.depth if now.bed else None,
    write=lambda now, value: set_water(now.project, now.bed.name if now.bed else "", depth=value),
    follows=lambda _now: tr("from the face of the water down to the floor"),
    empty_means=mark("not measured"),
    hint=mark("For how much water the bed holds and what touches its floor; it can wait"),
)


def lean_words(outline: Outline, lean: Lean, unit: Unit) -> str:
    """Write down how the inside at the highest and at the lowest water is reckoned.

    Raises:
        GeometryError: The measures cannot be right.
    """
    if lean.walls is None:
        return ""
    tops, walls = top_sizes(outline), lean.walls
    lines = []
    for words, level in zip(
        (mark("At the highest water"), mark("At the lowest water")), lean.levels, strict=True
    ):
        by = narrowing(outline, walls, level)
        sizes = [top - less for top, less in zip(tops, by, strict=True)]
        lines.append(f"{tr(words)}: {_sizes(sizes[-1:] if _is_round(outline) else sizes, unit)}")
    lowest = lean.levels[-1]
    lines.append(
        tr(
            "Reckoned so: {top} - ({top} - {there}) {times} {down} / {depth} = {left}",
            top=format_length(tops[1], unit),
            there=format_length(walls.width.exact, unit),
            times=TIMES,
            down=format_length(lowest.exact, unit),
            depth=format_length(walls.depth.exact, unit),
            left=format_length(tops[1] - narrowing(outline, walls, lowest)[1], unit),
        )
    )
    box = exact_box(inside_at(outline, walls, lean.levels))
    least = _sizes(box[-1:] if _is_round(outline) else box, unit)
    lines.append(tr("Rafts are made for the least, {sizes}.", sizes=least))
    return "\n".join(lines)


def _sizes(sizes: Sequence[Any], unit: Unit) -> str:
    return exact_size_words(sizes, unit, decimals=1)


def _is_round(outline: Outline) -> bool:
    return isinstance(outline, Disc)


def _polish(widget: QWidget) -> None:
    widget.style().unpolish(widget)
    widget.style().polish(widget)
