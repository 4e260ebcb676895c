"""The zones of a bed: a list, and the fields of the one that is picked."""

import re
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from geometry.crops.table import all_crops, find_crop
from geometry.errors import GeometryError
from geometry.model.outlines import Outline, Rectangle
from geometry.model.project import Project
from geometry.model.zone import Zone
from geometry.tongue import mark, tr
from geometry.units import ZERO, Length
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.corners import Corners
from layout_gui.panels.form import Field, Form, Options
from layout_gui.panels.now import Now
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.outlines import outline_fields
from layout_gui.panels.parts import ItemList, button, label, side_by_side
from layout_gui.panels.pot_fields import pot_options
from layout_gui.panels.turning import turn_field
from layout_gui.panels.words import (
    DIRECTION_WORDS,
    IN_USE_WORDS,
    counted,
    options_of,
    pattern_options,
)
from layout_gui.project import edits, edits_things
from layout_gui.project.things import Thing
from layout_gui.wording.plans import pattern_words

AS_THE_BED = mark("as the bed")


class ZonesPart(QWidget):
    """Zones are added by typed sizes, drawn on the bed, or made of whole rafts."""

    draw_wanted = Signal()

    def __init__(self, document: Document, selection: Selection) -> None:
        super().__init__()
        self._document = document
        self._selection = selection
        self._now: Now | None = None
        self.items = ItemList(
            mark("Zones"),
            (
                (mark("Add"), self._add),
                (mark("Duplicate"), self._double),
                (mark("Remove"), self._remove),
            ),
        )
        self.items.picked.connect(self._on_picked)
        self.draw_button = button(tr("Draw on the bed…"), self.draw_wanted.emit, "link")
        self.draw_button.setToolTip(tr("Drag a rectangle over what is planted otherwise"))
        self.raft_button = button(tr("Another crop on a raft"), self._add_rafts, "link")
        self.raft_button.setToolTip(tr("Plant the selected rafts, or the first one, otherwise"))
        self.form = Form(self._fields(), document)
        self.corners = Corners(
            self._shape, self._reshape, document, mark("Corners of the zone"), "zone-"
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 10, 0, 0)
        box.setSpacing(6)
        for part in (
            label(tr("Zones"), "heading"),
            label(tr("Areas or whole rafts with another crop, pattern or hole."), "quiet"),
            side_by_side(self.draw_button),
            side_by_side(self.raft_button),
            self.items,
            self.form,
            self.corners,
        ):
            box.addWidget(part)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        zones = now.bed.zones if now.bed else ()
        names = [zone.name for zone in zones]
        row = names.index(now.zone) if now.zone in names else max(self.items.row, 0)
        self.items.show_items([_zone_words(number, now) for number in range(len(zones))], row)
        for name in ("Duplicate", "Remove"):
            self.items.buttons[name].setEnabled(bool(zones))
        self._show_zone()

    def _show_zone(self) -> None:
        if self._now is None:
            return
        has_zone = self._zone(self._now) is not None
        self.form.setVisible(has_zone)
        self.corners.show_now(self._now)
        if has_zone:
            self.form.show_now(self._now)

    def _on_picked(self, row: int) -> None:
        zones = self._now.bed.zones if self._now and self._now.bed else ()
        if 0 <= row < len(zones):
            self._selection.set_zone(zones[row].name)
        self._show_zone()

    def _add(self) -> None:
        """Add a zone over the middle of the bed, to be given its size."""
        if self._now is None or self._now.bed is None:
            return
        bed = self._now.bed
        sizes = [size / 3 for size in outline_sizes(bed.outline)]
        length, width = (Length.rounded(float(size)) for size in (sizes[0], sizes[-1]))
        self._apply(edits.fresh_zone(bed, shape=Rectangle(length, width), corner=(length, width)))

    def _add_rafts(self) -> None:
        if self._now is None or self._now.bed is None or self._now.bed_plan is None:
            return
        names = [raft.name for raft in self._now.bed_plan.rafts]
        chosen = [name for name in names if name in self._now.rafts] or names[:1]
        if chosen:
            self._apply(edits.fresh_zone(self._now.bed, rafts=tuple(chosen)))

    def _apply(self, zone: Zone) -> None:
        if self._now is None or self._now.bed is None:
            return
        try:
            project = edits.add_zone(self._now.project, self._now.bed.name, zone)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(tr("Add zone {name}", name=zone.name), project)
        self._selection.set_zone(zone.name)

    def _remove(self) -> None:
        zone = self._zone(self._now) if self._now else None
        if self._now is None or self._now.bed is None or zone is None:
            return
        project = edits.remove_zone(self._now.project, self._now.bed.name, zone.name)
        self._document.apply(tr("Remove zone {name}", name=zone.name), project)

    def _double(self) -> None:
        """Put a copy beside the picked zone."""
        now, zone = self._now, self._zone(self._now) if self._now else None
        if now is None or now.bed is None or zone is None:
            return
        thing = Thing("zone", zone.name)
        try:
            project, copy = edits_things.duplicate_beside(now.project, now.bed.name, thing)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(tr("Duplicate zone {name}", name=zone.name), project)
        self._selection.set_thing(copy)

    def _zone(self, now: Now) -> Zone | None:
        zones, row = now.bed.zones if now.bed else (), self.items.row
        return zones[row] if 0 <= row < len(zones) else None

    def _thing(self, now: Now) -> Thing | None:
        zone = self._zone(now)
        return Thing("zone", zone.name) if zone is not None else None

    def _given(self, now: Now) -> Zone:
        zone = self._zone(now)
        if zone is None:
            raise GeometryError(tr("Choose a zone first."))
        return zone

    def _write(self, now: Now, **changes: Any) -> Project:
        bed = now.bed.name if now.bed else ""
        return edits.set_zone(now.project, bed, self._given(now).name, **changes)

    def _shape(self, now: Now) -> Outline | None:
        zone = self._zone(now)
        return zone.shape if zone else None

    def _reshape(self, now: Now, made: Outline) -> Project:
        return self._write(now, shape=made)

    def _fields(self) -> list[Field]:
        return [
            Field(
                "zone-name", mark("Name"), "text",
                read=lambda now: self._given(now).name,
                write=lambda now, name: self._write(now, name=name),
                follows=self._plants_line,
            ),
            Field(
                "zone-rafts", mark("Rafts"), "text",
                read=lambda now: ", ".join(self._given(now).rafts),
                write=lambda now, text: self._write(now, rafts=_raft_names(text)),
                shown=lambda now: self._shape(now) is None,
                hint=mark("Names of whole rafts, with a comma between"),
            ),
            *outline_fields(self._shape, self._reshape, "zone-"),
            Field(
                "zone-at", mark("Placed by"), "choice",
                read=lambda now: self._given(now).centre is not None,
                write=self._write_anchor,
                options=lambda _now: ((True, tr("its middle")), (False, tr("its lower left "
"corner"))),
                shown=lambda now: self._shape(now) is not None,
            ),
            self._spot_field(0, "x", mark("From the left")),
            self._spot_field(1, "y", mark("From the bottom")),
            turn_field("zone-", self._thing),
            Field(
                "zone-crop", mark("Crop"), "choice",
                read=lambda now: self._given(now).rules.crop,
                write=self._write_crop,
                options=self._crop_options,
                empty_means=AS_THE_BED,
            ),
            self._rule("pattern", mark("Pattern"), "choice",
                       lambda _now: ((None, tr(AS_THE_BED)), *pattern_options())),
            self._rule("rows", mark("Rows run"), "choice",
                       lambda _now: ((None, tr(AS_THE_BED)), *options_of(DIRECTION_WORDS)),
                       shown=lambda now: self._given(now).rules.pattern != "rings"),
            self._rule("spacing", mark("Spacing"), "length"),
            self._rule("row_spacing", mark("Row spacing"), "length",
                       shown=lambda now: self._given(now).rules.pattern == "rectangular"),
            self._rule("hole_diameter", mark("Hole"), "length"),
            self._rule("pot", mark("Pot"), "choice",
                       lambda now: ((None, tr(AS_THE_BED)), *pot_options(now))),
            self._rule("edge_margin", mark("Edge to centre"), "length"),
            self._rule("web", mark("Least foam"), "length"),
            self._rule("spread", mark("Spread out"), "choice",
                       lambda _now: ((None, tr(AS_THE_BED)), (True, tr("on")), (False, tr("off")))),
            self._rule("in_use", mark("In use"), "choice",
                       lambda _now: ((None, tr(AS_THE_BED)), *options_of(IN_USE_WORDS))),
        ]  # fmt: skip

    def _rule(
        self,
        name: str,
        words: str,
        kind: Any,
        options: Callable[[Now], Options] = lambda _now: (),
        shown: Callable[[Now], bool] = lambda _now: True,
    ) -> Field:
        return Field(
            f"zone-{name}",
            words,
            kind,
            read=lambda now: getattr(self._given(now).rules, name),
            write=lambda now, value: self._write(now, **{name: value}),
            options=options,
            shown=shown,
            empty_means=AS_THE_BED,
        )

    def _write_crop(self, now: Now, value: object) -> Project:
        """Another crop brings its own spacing, where one is known."""
        crop = find_crop(value, now.project.crops) if isinstance(value, str) else None
        changes: dict[str, Any] = {"crop": value}
        if crop is not None:
            changes["spacing"] = crop.spacing
        return self._write(now, **changes)

    def _crop_options(self, now: Now) -> Options:
        names = [crop.name for crop in all_crops(now.project.crops)]
        own = self._given(now).rules.crop
        if own and own not in names:
            names.insert(0, own)
        return ((None, tr(AS_THE_BED)), *((name, tr(name)) for name in names))

    def _plants_line(self, now: Now) -> str:
        plan = now.bed_plan
        at = self.items.row + 1
        if plan is None or at >= len(plan.by_planting):
            return ""
        tried = plan.by_planting[at]
        return pattern_words(tried, now.project.units) if tried else tr("no hole fits")

    def _write_anchor(self, now: Now, by_centre: object) -> Project:
        zone = self._given(now)
        spot = zone.centre or zone.corner
        return self._write(
            now, centre=spot if by_centre else None, corner=None if by_centre else spot
        )

    def _spot_field(self, axis: int, name: str, words: str) -> Field:
        def spot(now: Now) -> tuple[Length, Length]:
            zone = self._given(now)
            return zone.centre or zone.corner or (ZERO, ZERO)

        def write(now: Now, value: Length) -> Project:
            moved = tuple(value if axis == at else old for at, old in enumerate(spot(now)))
            is_centre = self._given(now).centre is not None
            return self._write(now, **{"centre" if is_centre else "corner": moved})

        return Field(
            f"zone-{name}",
            words,
            "length",
            read=lambda now: spot(now)[axis],
            write=write,
            shown=lambda now: self._shape(now) is not None,
            hint=mark("From the bed's datum corner, lower left"),
        )


def _raft_names(text: str) -> tuple[str, ...]:
    names = tuple(dict.fromkeys(filter(None, re.split(r"[,;\s]+", text))))
    if not names:
        raise GeometryError(tr("Name one raft or more, such as R1, R2."))
    return names


def _zone_words(number: int, now: Now) -> str:
    """Say a zone's name, its crop and its plants."""
    bed, plan = now.bed, now.bed_plan
    if bed is None or bed.planting is None:
        return ""
    zone = bed.zones[number]
    parts = [zone.name, tr(zone.rules.crop or AS_THE_BED)]
    if plan is not None and number + 1 < len(plan.by_planting):
        tried = plan.by_planting[number + 1]
        parts.append(counted(tried.plants if tried else 0, "plant"))
    return ", ".join(parts)
