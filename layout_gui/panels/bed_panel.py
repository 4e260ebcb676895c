"""The station Bed: the water as it measures, and what stands in it."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from geometry.errors import GeometryError
from geometry.model.as_built import remembered
from geometry.model.bed import Bed, Obstacle, Spot
from geometry.model.outlines import Disc, Outline
from geometry.model.project import Project
from geometry.tongue import mark, tr, tr_n
from geometry.units import Length, format_area
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.corners import Corners
from layout_gui.panels.form import Field, Form
from layout_gui.panels.levels_part import LevelsPart
from layout_gui.panels.now import Now
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.outlines import KIND_WORDS, outline_fields
from layout_gui.panels.parts import Column, ItemList, button, side_by_side
from layout_gui.panels.turning import turn_field
from layout_gui.panels.water_part import WaterPart
from layout_gui.panels.words import free_name, size_words
from layout_gui.project import edits, edits_things
from layout_gui.project.things import Thing


def _bed(now: Now) -> Bed:
    if now.bed is None:
        raise GeometryError(tr("There is no bed yet."))
    return now.bed


def _outline(now: Now) -> Outline | None:
    return now.bed.outline if now.bed else None


def _set_outline(now: Now, outline: Outline) -> Project:
    return edits_things.set_outline(now.project, _bed(now).name, outline)


def _picked_corner(now: Now) -> int | None:
    return now.thing.number if now.thing is not None and now.thing.kind == "corner" else None


def _area_line(now: Now) -> str:
    plan = now.bed_plan
    if plan is None:
        return ""
    return tr("{area} of water", area=format_area(plan.area_mm2, now.project.units))


_NAME = Field(
    "bed-name", mark("Name"), "text",
    read=lambda now: _bed(now).name,
    write=lambda now, name: edits.rename_bed(now.project, _bed(now).name, name),
    follows=_area_line,
)  # fmt: skip
_PROJECT = Field(
    "project-name",
    mark("Name"),
    "text",
    read=lambda now: now.project.name,
    write=lambda now, name: edits.rename_project(now.project, name),
    empty_means=mark("as its file"),
)
_CLEARANCE = Field(
    "clearance", mark("Gap at walls"), "length",
    read=lambda now: _bed(now).clearance,
    write=lambda now, gap: edits.set_bed(now.project, _bed(now).name, clearance=gap),
    hint=mark("Clearance between the rafts and the bed's wall, all round"),
)  # fmt: skip


class BedPanel(Column):
    """The list of beds, the measurements of the one being worked on, and its obstacles."""

    draw_wanted = Signal()
    said = Signal(str)
    """A sentence for the last line."""

    def __init__(
        self, document: Document, selection: Selection, parent: QWidget | None = None
    ) -> None:
        super().__init__(tr("Bed"), parent)
        self._document = document
        self._selection = selection
        self._now: Now | None = None
        self.beds = ItemList(
            mark("Beds"),
            (
                (mark("Add"), self._add_bed),
                (mark("Duplicate"), self._double_bed),
                (mark("Remove"), self._remove_bed),
            ),
        )
        self.beds.picked.connect(self._on_bed_picked)
        self.form = Form([_NAME, *outline_fields(_outline, _set_outline)], document)
        self.corners = Corners(
            _outline, _set_outline, document, mark("Corners of the bed"), picked=_picked_corner
        )
        self.corners.corner_picked.connect(
            lambda row: self._selection.set_thing(Thing("corner", row))
        )
        self.gap_form = Form([_CLEARANCE], document)
        self.project_form = Form([_PROJECT], document)
        self.obstacles = ItemList(
            mark("Obstacles"),
            (
                (mark("Add"), self._add_obstacle),
                (mark("Duplicate"), self._double_obstacle),
                (mark("Remove"), self._remove_obstacle),
            ),
        )
        self.obstacles.picked.connect(self._on_obstacle_picked)
        self.draw_button = button(tr("Draw on the bed…"), self.draw_wanted.emit, "link")
        self.draw_button.setToolTip(tr("Drag a rectangle over what stands in the water"))
        self.obstacle_form = Form(self._obstacle_fields(), document)
        self.obstacle_corners = Corners(
            self._shape, self._reshape, document, mark("Corners of the obstacle"), "obstacle-"
        )
        self.add(self.form)
        self.add(self.corners)
        self.add(self.gap_form)
        self.levels = LevelsPart(document)
        self.water = WaterPart(document)
        self.add(self.levels)
        self.add(self.water)
        self.add_heading(tr("Obstacles"))
        self.add(side_by_side(self.draw_button))
        self.add(self.obstacles)
        self.add(self.obstacle_form)
        self.add(self.obstacle_corners)
        self.add_heading(tr("The project"))
        self.add(self.project_form)
        self.add(self.beds)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        before = self._now.thing if self._now else None
        self._now = now
        bed = now.bed
        self.set_title(tr("Bed"), tr("Measured inside, at the waterline, with the bed full."))
        if bed is None:
            return
        names = [each.name for each in now.project.beds]
        self.beds.show_items(names, names.index(bed.name))
        self.beds.buttons["Remove"].setEnabled(len(names) > 1)
        for form in (
            self.form, self.corners, self.gap_form, self.levels, self.water, self.project_form,
        ):  # fmt: skip
            form.show_now(now)
        texts = [_obstacle_words(obstacle, now) for obstacle in bed.obstacles]
        picked = now.thing.number if now.thing and now.thing.kind == "obstacle" else -1
        self.obstacles.show_items(texts, picked if picked >= 0 else max(self.obstacles.row, 0))
        for name in ("Duplicate", "Remove"):
            self.obstacles.buttons[name].setEnabled(bool(texts))
        self._show_obstacle()
        if now.thing is not None and now.thing != before:
            self._bring_fields(now.thing)

    def _bring_fields(self, thing: Thing) -> None:
        if thing.kind == "obstacle":
            self.bring(self.obstacles, self.obstacle_form)
        else:
            self.bring(self.form if self.corners.isHidden() else self.corners)

    def _show_obstacle(self) -> None:
        if self._now is None:
            return
        self.obstacle_form.setVisible(self._obstacle(self._now) is not None)
        self.obstacle_corners.show_now(self._now)
        if self._obstacle(self._now) is not None:
            self.obstacle_form.show_now(self._now)

    def _on_obstacle_picked(self, row: int) -> None:
        self._show_obstacle()
        if row >= 0:
            self._selection.set_thing(Thing("obstacle", row))

    def _on_bed_picked(self, row: int) -> None:
        if self._now is not None and 0 <= row < len(self._now.project.beds):
            self._selection.set_bed(self._now.project.beds[row].name)

    def _add_bed(self) -> None:
        if self._now is None:
            return
        project, old = self._now.project, _bed(self._now)
        name = free_name(tr("Bed"), [bed.name for bed in project.beds])
        self._document.apply(
            tr("Add {name}", name=name),
            edits.add_bed(project, replace(old, name=name, obstacles=())),
        )
        self._selection.set_bed(name)

    def _double_bed(self) -> None:
        if self._now is None:
            return
        project, old = self._now.project, _bed(self._now)
        name = free_name(old.name, [bed.name for bed in project.beds])
        self._document.apply(
            tr("Duplicate {name}", name=old.name), edits.add_bed(project, replace(old, name=name))
        )
        self._selection.set_bed(name)
        if notes := remembered(project, old.name):
            self.said.emit(
                tr_n(
                    "The log has a note about {bed}: {note}",
                    "The log has {n} notes about {bed}, the last one: {note}",
                    len(notes),
                    bed=old.name,
                    note=notes[-1].splitlines()[0],
                )
            )

    def _remove_bed(self) -> None:
        if self._now is not None:
            name = _bed(self._now).name
            self._document.apply(
                tr("Remove {name}", name=name), edits.remove_bed(self._now.project, name)
            )

    def _add_obstacle(self) -> None:
        if self._now is None:
            return
        bed = _bed(self._now)
        sizes = [Length(size / 2) for size in outline_sizes(bed.outline)]
        name = free_name(tr("obstacle"), [obstacle.name for obstacle in bed.obstacles])
        made = Obstacle(name, Disc(Length.of(40)), Spot(sizes[0], sizes[-1]), None, Length.of(25))
        self._apply_obstacles(tr("Add {name}", name=name), (*bed.obstacles, made))
        self.obstacles.list.setCurrentRow(len(bed.obstacles))

    def _remove_obstacle(self) -> None:
        obstacle = self._obstacle(self._now) if self._now else None
        if self._now is None or obstacle is None:
            return
        thing, bed = Thing("obstacle", self.obstacles.row), _bed(self._now).name
        try:
            project = edits_things.remove_thing(self._now.project, bed, thing)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(tr("Remove {name}", name=obstacle.name), project)

    def _double_obstacle(self) -> None:
        """Put a copy beside the picked obstacle."""
        obstacle = self._obstacle(self._now) if self._now else None
        if self._now is None or obstacle is None:
            return
        thing = Thing("obstacle", self.obstacles.row)
        bed = _bed(self._now).name
        try:
            project, copy = edits_things.duplicate_beside(self._now.project, bed, thing)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(tr("Duplicate {thing}", thing=obstacle.name), project)
        self._selection.set_thing(copy)

    def _apply_obstacles(self, text: str, obstacles: tuple[Obstacle, ...]) -> None:
        if self._now is not None:
            bed = _bed(self._now).name
            self._document.apply(text, edits.set_bed(self._now.project, bed, obstacles=obstacles))

    def _obstacle(self, now: Now) -> Obstacle | None:
        row = self.obstacles.row
        obstacles = now.bed.obstacles if now.bed else ()
        return obstacles[row] if 0 <= row < len(obstacles) else None

    def _given(self, now: Now) -> Obstacle:
        obstacle = self._obstacle(now)
        if obstacle is None:
            raise GeometryError(tr("Choose an obstacle first."))
        return obstacle

    def _write_obstacle(self, now: Now, **changes: Any) -> Project:
        self._given(now)
        thing = Thing("obstacle", self.obstacles.row)
        return edits_things.set_standing(now.project, _bed(now).name, thing, **changes)

    def _shape(self, now: Now) -> Outline | None:
        obstacle = self._obstacle(now)
        return obstacle.shape if obstacle else None

    def _reshape(self, now: Now, made: Outline) -> Project:
        return self._write_obstacle(now, shape=made)

    def _obstacle_fields(self) -> list[Field]:
        return [
            Field(
                "obstacle-name", mark("Name"), "text",
                read=lambda now: self._given(now).name,
                write=lambda now, name: self._write_obstacle(now, name=name),
            ),
            *outline_fields(self._shape, self._reshape, "obstacle-"),
            Field(
                "obstacle-at", mark("Placed by"), "choice",
                read=lambda now: self._given(now).centre is not None,
                write=self._write_anchor,
                options=lambda _now: ((True, tr("its middle")), (False, tr("its lower left "
"corner"))),
            ),
            self._spot_field("x", mark("From the left")),
            self._spot_field("y", mark("From the bottom")),
            Field(
                "obstacle-clearance", mark("Keep away"), "length",
                read=lambda now: self._given(now).clearance,
                write=lambda now, gap: self._write_obstacle(now, clearance=gap),
                hint=mark("Clearance from the obstacle to the rim of any hole"),
            ),
            Field(
                "obstacle-above", mark("Above the water"), "length",
                read=lambda now: self._given(now).above,
                write=lambda now, above: self._write_obstacle(now, above=above),
                empty_means=mark("stands in it"),
                hint=mark("For a brace or a bar over the rafts: how far its lower side is above "
                "the working level"),
            ),
            turn_field("obstacle-", lambda _now: Thing("obstacle", self.obstacles.row)),
        ]  # fmt: skip

    def _write_anchor(self, now: Now, by_centre: object) -> Project:
        obstacle = self._given(now)
        spot = obstacle.centre or obstacle.corner
        return self._write_obstacle(
            now, centre=spot if by_centre else None, corner=None if by_centre else spot
        )

    def _spot_field(self, axis: str, words: str) -> Field:
        def spot(now: Now) -> Spot:
            obstacle = self._given(now)
            return obstacle.centre or obstacle.corner or Spot(Length.of(0), Length.of(0))

        def write(now: Now, value: object) -> Project:
            changes: dict[str, Any] = {axis: value}
            moved = replace(spot(now), **changes)
            is_centre = self._given(now).centre is not None
            return self._write_obstacle(now, **{"centre" if is_centre else "corner": moved})

        return Field(
            f"obstacle-{axis}", words, "length", lambda now: getattr(spot(now), axis), write
        )


def _obstacle_words(obstacle: Obstacle, now: Now) -> str:
    kind = tr(dict(KIND_WORDS)[type(obstacle.shape)])
    return (
        f"{obstacle.name}, {kind}, {size_words(outline_sizes(obstacle.shape), now.project.units)}"
    )
