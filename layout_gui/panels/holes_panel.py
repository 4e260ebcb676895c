"""The station Holes: crop, pattern and rules, and the holes that are selected."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from geometry.crops.table import CROPS, Crop, all_crops, find_crop
from geometry.errors import GeometryError
from geometry.holes.pairing import least_in_use
from geometry.holes.sites import Holes
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import (
    MM_PER,
    TOLERANCE_MM,
    Length,
    exact_text,
    format_density,
    format_length,
)
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection, by_raft
from layout_gui.panels.fields import MIXED
from layout_gui.panels.form import Field, Form, Options
from layout_gui.panels.now import Hole, Now
from layout_gui.panels.parts import Column, button, label, rule, side_by_side, stack
from layout_gui.panels.pots_part import PotsPart
from layout_gui.panels.wanted import WantedRow
from layout_gui.panels.words import (
    DIRECTION_WORDS,
    IN_USE_WORDS,
    JOINT_WORDS,
    counted,
    options_of,
    pattern_options,
)
from layout_gui.panels.zones_part import ZonesPart
from layout_gui.project import edits
from layout_gui.project.first import first_planting
from layout_gui.wording.lengths import step_words
from layout_gui.wording.plans import proof_sentence, winner_sentence

SAWS = tuple(Length(Fraction(n, 8) * MM_PER["in"]) for n in range(8, 33))
"""Hole saws come in steps of 1/8 in; common practice, no source."""


def _planted(now: Now) -> Planting:
    if now.planting is None:
        raise GeometryError(tr("There is nothing planted in this bed yet."))
    return now.planting


def _read(attribute: str) -> Callable[[Now], Any]:
    return lambda now: getattr(_planted(now), attribute)


def _write(attribute: str) -> Callable[[Now, Any], Project]:
    def write(now: Now, value: object) -> Project:
        changes: dict[str, Any] = {attribute: value}
        return edits.set_planting(now.project, _bed_name(now), **changes)

    return write


def _bed_name(now: Now) -> str:
    return now.bed.name if now.bed else ""


def crop_options(now: Now) -> Options:
    """Offer no crop, the grower's crops and those of the table, and the bed's if it is neither."""
    names = [crop.name for crop in all_crops(now.project.crops)]
    own = _planted(now).crop
    if own and own not in names:
        names.insert(0, own)
    return (("", tr("none chosen")), *((name, tr(name)) for name in names))


def _crop_line(now: Now) -> str:
    crop = find_crop(_planted(now).crop, now.project.crops)
    if crop is None or crop.density_per_m2 is None:
        return ""
    low, high = (format_density(value, now.project.units) for value in crop.density_per_m2)
    return (
        tr("published: {low}", low=low)
        if low == high
        else tr("published: {low} to {high}", low=low.split()[0], high=high)
    )


def _pattern_line(now: Now) -> str:
    return winner_sentence(now.bed_plan, now.project.units) if now.bed_plan else ""


def _pitch_line(now: Now) -> str:
    plan = now.bed_plan
    if plan is None or not plan.tried:
        return ""
    return tr("used: {pitch}", pitch=format_length(plan.tried[0].pitch_mm, now.project.units))


def _web_line(now: Now) -> str:
    plan = now.bed_plan
    if plan is None or plan.least_web_mm is None:
        return ""
    left = format_length(abs(plan.least_web_mm), now.project.units)
    return (
        tr("left now: {left}", left=left)
        if plan.least_web_mm >= 0
        else tr("rims overlap by {left}", left=left)
    )


def _in_use_line(now: Now) -> str:
    """Say how many holes are in use and how far apart they are on a raft."""
    plan = now.bed_plan
    if plan is None or not plan.plugged:
        return ""
    gaps = (
        least_in_use(design.holes) for design in plan.designs if design.holes.plugged is not None
    )
    least = min((gap for gap in gaps if gap is not None), default=None)
    used = plan.plants - plan.plugged
    if least is None:
        return tr("{used} in use now, {plugged} plugged", used=used, plugged=plan.plugged)
    return tr(
        "{used} in use now, {apart} apart, {plugged} plugged",
        used=used,
        apart=format_length(least, now.project.units),
        plugged=plan.plugged,
    )


def step_options(now: Now) -> Options:
    """Offer exact places, whole millimetres and sixteenths, the usual one of the units first."""
    steps = [Length.of("1 mm"), Length.of("1/16 in")]
    if now.project.units == "in":
        steps.reverse()
    own = _planted(now).round_to
    if own is not None and own not in steps:
        steps.append(own)
    return ((None, tr("exact")), *((step, step_words(step.mm)) for step in steps))


def _rounding_line(now: Now) -> str:
    """Say how many holes of the bed keep their exact places all the same."""
    plan = now.bed_plan
    if plan is None or _planted(now).round_to is None:
        return ""
    told = [finding for finding in plan.findings if finding.code == "rounding"]
    kept = sum(int(finding.subject) for finding in told)
    return tr("exact all the same: {kept}", kept=counted(kept, "hole")) if kept else ""


def _saw_line(now: Now) -> str:
    wanted = _planted(now).hole_diameter
    saw = min(SAWS, key=lambda size: abs(size.exact - wanted.exact))
    if saw.exact == wanted.exact or abs(saw.mm - wanted.mm) > 2:
        return ""
    return tr(
        "a {saw} saw gives {hole}", saw=exact_text(saw, "in"), hole=format_length(saw.exact, "mm")
    )


_RULES: tuple[Field, ...] = (
    Field(
        "crop", mark("Crop"), "choice", _read("crop"), _write("crop"),
        follows=_crop_line, options=crop_options,
    ),
    Field(
        "pattern", mark("Pattern"), "choice", _read("pattern"), _write("pattern"),
        follows=_pattern_line, options=lambda _now: pattern_options(),
    ),
    Field(
        "rows", mark("Rows run"), "choice", _read("rows"), _write("rows"),
        options=lambda _now: options_of(DIRECTION_WORDS),
        shown=lambda now: _planted(now).pattern != "rings",
    ),
    Field(
        "spacing", mark("Spacing"), "length", _read("spacing"), _write("spacing"),
        follows=_pitch_line,
    ),
    Field(
        "row_spacing", mark("Row spacing"), "length", _read("row_spacing"), _write("row_spacing"),
        shown=lambda now: _planted(now).pattern == "rectangular",
        empty_means=mark("as the spacing"),
    ),
    Field(
        "edge_margin", mark("Edge to centre"), "length",
        _read("edge_margin"), _write("edge_margin"),
        hint=mark("Least distance from the raft's edge to a hole's centre, as a tape measures it"),
    ),
    Field(
        "web", mark("Least foam"), "length", _read("web"), _write("web"), follows=_web_line,
        hint=mark("Least foam between a rim and the next rim or the raft's edge"),
    ),
    Field(
        "hole_diameter", mark("Hole"), "length", _read("hole_diameter"), _write("hole_diameter"),
        follows=_saw_line,
    ),
    Field(
        "joints", mark("Rafts"), "choice", _read("joints"), _write("joints"),
        options=lambda _now: options_of(JOINT_WORDS),
        shown=lambda now: now.bed_plan is not None and len(now.bed_plan.rafts) > 1,
    ),
    Field(
        "spread", mark("Spread out"), "switch", _read("spread"), _write("spread"),
        hint=mark("Open the pattern up as wide as the same count allows"),
    ),
    Field(
        "in_use", mark("In use"), "choice", _read("in_use"), _write("in_use"),
        follows=_in_use_line, options=lambda _now: options_of(IN_USE_WORDS),
        hint=mark("Drill for later and plug every second hole for now"),
    ),
    Field(
        "round_to", mark("Positions"), "choice", _read("round_to"), _write("round_to"),
        follows=_rounding_line, options=step_options,
        empty_means="exact",
        hint=mark("Places on whole steps of the tape, counted from the raft's datum corner"),
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Picked:
    """One selected hole as it lies in the plan, in raft coordinates."""

    raft: str
    name: str
    x: float
    y: float
    is_pinned: bool


@dataclass(frozen=True, slots=True)
class PickedOf:
    """The selected holes of one raft, by their places in the raft's holes."""

    raft: str
    holes: Holes
    rows: NDArray[np.int64]

    def __iter__(self) -> Iterator[Picked]:
        xy, pinned = self.holes.xy[self.rows].tolist(), self.holes.pinned[self.rows].tolist()
        for row, (x, y), is_pinned in zip(self.rows.tolist(), xy, pinned, strict=True):
            yield Picked(self.raft, self.holes.names[row], x, y, is_pinned)


def picked_of(now: Now) -> tuple[PickedOf, ...]:
    """Return the selected holes that the plan has, raft by raft; quick for very many."""
    wanted, bed_plan = by_raft(now.holes), now.bed_plan
    found: list[PickedOf] = []
    for raft in bed_plan.rafts if bed_plan is not None and wanted else ():
        chosen, own = wanted.get(raft.name), raft.design.holes
        if not chosen:
            continue
        rows = np.arange(len(own))
        if not chosen.issuperset(own.names):
            rows = np.flatnonzero([name in chosen for name in own.names])
        if len(rows):
            found.append(PickedOf(raft.name, own, rows))
    return tuple(found)


def picked_holes(now: Now) -> tuple[Picked, ...]:
    """Return the selected holes that the plan has, in the order of rafts and holes."""
    return tuple(chain.from_iterable(picked_of(now)))


def _shared(now: Now, axis: int) -> object:
    values = [each.holes.xy[each.rows, axis] for each in picked_of(now)]
    if not values:
        return None
    places = np.concatenate(values)
    if places.max() - places.min() > TOLERANCE_MM:
        return MIXED
    return Length.rounded(float(places[0]))


class HolesPanel(Column):
    """The rules of the planting; above them the selected holes, when there are any."""

    squeeze_wanted = Signal()

    def __init__(
        self,
        document: Document,
        selection: Selection | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(tr("Holes"), parent)
        self._document = document
        self.zones = ZonesPart(document, selection or Selection(self))
        self.pots = PotsPart(document)
        self._now: Now | None = None
        self._picked_title = label("", "heading")
        self.picked_form = Form(self._place_fields(), document)
        self.pin_button = button(tr("Pin here"), self._toggle_pin, "link")
        self.leave_button = button(tr("Leave out"), self._leave_out, "link")
        self._picked = stack(
            self._picked_title,
            self.picked_form,
            side_by_side(self.pin_button, self.leave_button),
            rule(),
        )
        self.plant_button = button(tr("Plant this bed"), self._plant_bed, "primary")
        self.spacing_button = button(tr("Use its spacing"), self._use_spacing, "link")
        self._source = label("", "quiet")
        self.squeeze_button = button(tr("Squeeze in more holes…"), self.squeeze_wanted.emit, "link")
        self.squeeze_button.setToolTip(
            tr("Search for free places that hold more holes than rows, on the selected raft")
        )
        self.wanted = WantedRow(document)
        self.form = Form(_RULES, document, beneath={"spacing": self.wanted})
        QWidget.setTabOrder(self.form.editor("spacing"), self.wanted.editor)
        self._proof = label("", "quiet")
        for part in (
            self._picked, self.plant_button, self.form, self._proof,
            side_by_side(self.squeeze_button), side_by_side(self.spacing_button), self._source,
            self.pots, self.zones,
        ):  # fmt: skip
            self.add(part)

    @property
    def picked_title(self) -> str:
        """Which holes are selected, in words."""
        return self._picked_title.text()

    @property
    def proof(self) -> str:
        """How far it is proved that no more plants fit."""
        return self._proof.text()

    @property
    def source(self) -> str:
        """Where the crop's spacing was published."""
        return self._source.text()

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        before = self._now.zone if self._now else ""
        self._now = now
        planting = now.planting
        self.plant_button.setVisible(planting is None and now.bed is not None)
        self.form.setVisible(planting is not None)
        self.squeeze_button.setVisible(planting is not None)
        self.zones.setVisible(planting is not None)
        self.pots.setVisible(planting is not None)
        proof = proof_sentence(now.bed_plan) if now.bed_plan and planting else ""
        self._proof.setText(proof)
        self._proof.setVisible(bool(proof))
        self._show_picked(now)
        self._show_crop(now)
        if planting is None:
            self.set_title(tr("Holes"), tr("Nothing is planted in this bed yet."))
            return
        rafts = now.bed_plan.rafts if now.bed_plan else ()
        words = f", {tr(JOINT_WORDS[planting.joints])}" if len(rafts) > 1 else ""
        self.set_title(tr("Holes"), f"{counted(len(rafts), 'raft')}{words}" if rafts else "")
        self.form.show_now(now)
        self.zones.show_now(now)
        self.pots.show_now(now)
        if now.zone and now.zone != before:
            self.bring(self.zones.items, self.zones.form)
        self.wanted.show_now(now)

    def _show_picked(self, now: Now) -> None:
        picked = picked_of(now)
        self._picked.setVisible(bool(picked))
        if not picked:
            return
        first, count = next(iter(picked[0])), sum(len(each.rows) for each in picked)
        one = tr("Hole {name} on raft {raft}", name=first.name, raft=first.raft)
        self._picked_title.setText(one if count == 1 else counted(count, "hole"))
        is_pinned = all(each.holes.pinned[each.rows].all() for each in picked)
        self.pin_button.setText(tr("Unpin") if is_pinned else tr("Pin here"))
        self.picked_form.show_now(now)

    def _show_crop(self, now: Now) -> None:
        crop = find_crop(now.planting.crop, now.project.crops) if now.planting else None
        own = now.planting.spacing if now.planting else None
        differs = crop is not None and crop.spacing != own
        self.spacing_button.setVisible(differs)
        self._source.setVisible(crop is not None)
        if crop is not None:
            spacing = exact_text(crop.spacing, now.project.units)
            self.spacing_button.setText(tr("Use its spacing, {spacing}", spacing=spacing))
            self._source.setText(_source_words(crop, spacing))

    def _place_fields(self) -> list[Field]:
        return [
            _place_field(0, "x", mark("From the left")),
            _place_field(1, "y", mark("From the bottom")),
        ]

    def _toggle_pin(self) -> None:
        if self._now is None or self._now.bed_plan is None:
            return
        picked = picked_holes(self._now)
        names = _names(picked)
        unpin = all(hole.is_pinned for hole in picked)
        edit = edits.unpin_holes if unpin else edits.pin_holes
        project = edit(self._now.project, self._now.bed_plan, names)
        words = mark("Unpin {holes}") if unpin else mark("Pin {holes}")
        self._document.apply(tr(words, holes=_which(picked)), project)

    def _leave_out(self) -> None:
        if self._now is None or self._now.bed_plan is None:
            return
        picked = picked_holes(self._now)
        project = edits.delete_holes(self._now.project, self._now.bed_plan, _names(picked))
        self._document.apply(tr("Leave out {holes}", holes=_which(picked)), project)

    def _plant_bed(self) -> None:
        if self._now is None:
            return
        project = self._now.project
        planting = first_planting(CROPS[0].name, project.units)
        self._document.apply(
            tr("Plant the bed"), edits.set_bed(project, _bed_name(self._now), planting=planting)
        )

    def _use_spacing(self) -> None:
        now = self._now
        crop = find_crop(now.planting.crop, now.project.crops) if now and now.planting else None
        if now is None or crop is None:
            return
        words = exact_text(crop.spacing, now.project.units)
        self._document.apply(
            tr("Spacing {words}", words=words), _write("spacing")(now, crop.spacing)
        )


def _place_field(axis: int, name: str, words: str) -> Field:
    def write(now: Now, value: Length) -> Project:
        return _moved(now, axis, value)

    return Field(
        f"hole-{name}",
        words,
        "length",
        read=lambda now: _shared(now, axis),
        write=write,
        hint=mark("From the raft's datum corner to the hole's centre"),
    )


def _moved(now: Now, axis: int, value: Length) -> Project:
    if now.bed_plan is None:
        raise GeometryError(tr("The holes are still being placed."))
    targets = {
        (hole.raft, hole.name): (value.mm, hole.y) if axis == 0 else (hole.x, value.mm)
        for hole in picked_holes(now)
    }
    return edits.move_holes(now.project, now.bed_plan, targets)


def _names(picked: tuple[Picked, ...]) -> list[Hole]:
    return [(hole.raft, hole.name) for hole in picked]


def _which(picked: tuple[Picked, ...]) -> str:
    return (
        tr("hole {name}", name=picked[0].name) if len(picked) == 1 else counted(len(picked), "hole")
    )


def _source_words(crop: Crop, spacing: str) -> str:
    words = f"{spacing}, {tr(crop.chosen)}" if crop.chosen else spacing
    return tr(
        "{name}: {spacing}. From {source}.",
        name=tr(crop.name),
        spacing=words,
        source=crop.source,
    )
