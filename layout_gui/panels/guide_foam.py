"""The questions of the guide about what floats in the bed, foam and crop, and its last page."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Any, Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QGridLayout,
    QLabel,
    QListWidget,
    QWidget,
)

from geometry.beds.shapes import SHAPE_WORDS
from geometry.crops.table import Crop, all_crops
from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.tongue import mark, tr, tr_n
from geometry.units import Length, Unit, exact_text, format_density
from layout_gui.document.document import Document
from layout_gui.panels.form import Field, Form
from layout_gui.panels.guide_pages import Page
from layout_gui.panels.guide_talk import Talk
from layout_gui.panels.now import Now
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.parts import Column, button, label
from layout_gui.panels.station_facts import open_findings
from layout_gui.panels.words import exact_size_words, size_words
from layout_gui.project import edits
from layout_gui.project.first import (
    Question,
    first_planting,
    first_values,
    with_crop,
    with_foam,
)
from layout_gui.wording.plans import proof_words

_ROWS: Final = 5
_LARGE: Final = 2.6


class PickList(QListWidget):
    """A list to pick one thing from, by mouse or by arrow keys. ``chosen`` is only the grower's."""

    chosen = Signal(int)

    def __init__(self, title: str) -> None:
        super().__init__()
        self.setAccessibleName(title)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.currentRowChanged.connect(self.chosen)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows and letters pick; Enter and Escape are for the page."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape}:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def show_items(self, texts: Sequence[str], row: int) -> None:
        """Show these things with one of them picked."""
        self.blockSignals(True)
        if [self.item(at).text() for at in range(self.count())] != list(texts):
            self.clear()
            self.addItems(list(texts))
        self.setCurrentRow(row)
        self.blockSignals(False)
        heights = [self.sizeHintForRow(at) for at in range(min(self.count(), _ROWS))]
        self.setFixedHeight(sum(heights) + 2 * self.frameWidth() + 4)


class OfferPage(Page):
    """A question with an answer on offer, whose plan is shown before it is taken."""

    _offer: tuple[Project, Project] | None = None

    def proposed(self, now: Now) -> Project | None:
        """Return the project with what is on offer; None once the question is answered.

        While the project stays the same so does this one, and its plan is made only once.
        """
        if now.bed is None or self.is_answered(now):
            return None
        if self._offer is None or self._offer[0] is not now.project:
            self._offer = (now.project, self.offered(now, now.bed))
        return self._offer[1]

    def is_answered(self, now: Now) -> bool:
        """Tell whether the project has an answer already."""
        raise NotImplementedError

    def offered(self, now: Now, bed: Bed) -> Project:
        """Return the project with the answer that is offered first."""
        raise NotImplementedError


class FoamPage(OfferPage):
    """Which boards the rafts are cut from, and the gaps around them."""

    question = "foam"

    def __init__(self, document: Document, talk: Talk) -> None:
        super().__init__(tr("Foam"))
        self._document = document
        self._talk = talk
        self._now: Now | None = None
        self.set_title(
            tr("What foam can you buy?"),
            tr("Rafts come out of whole boards. Pick one, or type the size of yours."),
        )
        self.list = PickList(tr("Boards"))
        self.list.chosen.connect(self._on_chosen)
        self.form = Form(
            [
                self._sheet_field("length", mark("Board length")),
                self._sheet_field("width", mark("Board width")),
                self._sheet_field("thickness", mark("Thickness"), empty=mark("not known")),
                _gap_field("clearance", mark("Gap at walls")),
                _gap_field("joint_gap", mark("Gap between")),
            ],
            document,
        )
        self.result = label("", "heading")
        self.result.setObjectName("guide-rafts")
        for part in (self.list, self.result, self.form):
            self.add(part)

    def begin(self) -> None:
        """Go to the boards."""
        self.list.setFocus(Qt.FocusReason.TabFocusReason)

    def show_now(self, now: Now) -> None:
        """Show the board that is chosen, or the one offered first."""
        self._now = now
        if now.bed is None:
            return
        offered, sheet = self._offered(now), self._sheet(now)
        row = next((at for at, each in enumerate(offered) if _same(each, sheet)), len(offered))
        texts = [_sheet_words(each, now.project.units) for each in offered]
        self.list.show_items([*texts, tr("a size of your own")], row)
        self.form.show_now(now)
        self.result.setText(rafts_words(now))

    def answer(self, now: Now) -> str:
        """Cut the rafts out of the board that is shown."""
        if (wanted := self.proposed(now)) is not None:
            self._apply(wanted, self._sheet(now))
        return _refused(self.form)

    def is_answered(self, now: Now) -> bool:
        """Tell whether the project has a board."""
        return bool(now.project.sheets)

    def offered(self, now: Now, bed: Bed) -> Project:
        """Return the project with the board offered first."""
        return with_foam(now.project, bed, self._sheet(now))

    def _offered(self, now: Now) -> tuple[Sheet, ...]:
        sheets = first_values(now.project.units).sheets
        return tuple(replace(sheet, name=tr(sheet.name)) for sheet in sheets)

    def _sheet(self, now: Now) -> Sheet:
        return now.project.sheets[0] if now.project.sheets else self._offered(now)[0]

    def _on_chosen(self, row: int) -> None:
        if self._now is None or row < 0:
            return
        offered = self._offered(self._now)
        if row < len(offered):
            bed = _bed(self._now)
            self._apply(with_foam(self._now.project, bed, offered[row]), offered[row])
        else:
            self.form.editor("guide-board-length").setFocus()

    def _apply(self, project: Project, sheet: Sheet) -> None:
        words = tr("Foam: {sheet}", sheet=sheet.name)
        self._document.apply(words, project, merge_key="guide-foam")

    def _sheet_field(self, name: str, words: str, *, empty: str = "") -> Field:
        def write(now: Now, value: Length | None) -> Project:
            changes: dict[str, Any] = {name: value}
            sheet = replace(self._sheet(now), **changes)
            if name != "thickness":
                known = [each for each in self._offered(now) if _same(each, sheet)]
                sheet = replace(sheet, name=known[0].name if known else tr("board of your own"))
            return with_foam(now.project, _bed(now), sheet)

        return Field(
            f"guide-board-{name}",
            words,
            "length",
            read=lambda now: getattr(self._sheet(now), name),
            write=write,
            empty_means=empty,
        )


def _gap_field(name: str, words: str) -> Field:
    def write(now: Now, value: Length) -> Project:
        return edits.set_bed(now.project, _bed(now).name, **{name: value})

    return Field(
        f"guide-{name}",
        words,
        "length",
        read=lambda now: getattr(_bed(now), name),
        write=write,
    )


def rafts_words(now: Now) -> str:
    """Say which rafts the bed is split into and how many boards they need."""
    plan = now.bed_plan
    if plan is None:
        return ""
    if not plan.rafts:
        return tr("No raft fits with these gaps.")
    sizes = {(raft.design.shape.length, raft.design.shape.width) for raft in plan.rafts}
    unit = now.project.units
    if len(sizes) == 1:
        words = tr_n(
            "{n} raft of {size}", "{n} rafts of {size}", len(plan.rafts),
            size=exact_size_words(next(iter(sizes)), unit, decimals=1),
        )  # fmt: skip
    else:
        words = tr_n("{n} raft", "{n} rafts", len(plan.rafts))
    sheets = now.plan.cut.sheet_count
    if not sheets:
        return words
    boards = tr_n("{n} board", "{n} boards", sheets)
    return tr("{rafts}, out of {boards}", rafts=words, boards=boards)


class CropPage(OfferPage):
    """What grows in it, and how far apart."""

    question = "crop"

    def __init__(self, document: Document, talk: Talk) -> None:
        super().__init__(tr("Crop"))
        self._document = document
        self._talk = talk
        self._now: Now | None = None
        self.set_title(
            tr("What will grow in it?"),
            tr("Spacing and density are the published ones; yours may differ."),
        )
        self.list = PickList(tr("Crops"))
        self.list.chosen.connect(self._on_chosen)
        self.source = label("", "quiet")
        self.form = Form(
            [
                self._field("spacing", mark("Spacing"), tr("plant to plant, centre to centre")),
                self._field("hole_diameter", mark("Hole"), ""),
                self._field("edge_margin", mark("Edge to centre"), ""),
            ],
            document,
        )
        self.result = label("", "heading")
        self.result.setObjectName("guide-plants")
        for part in (self.list, self.result, self.source, self.form):
            self.add(part)

    def begin(self) -> None:
        """Go to the crops."""
        self.list.setFocus(Qt.FocusReason.TabFocusReason)

    def show_now(self, now: Now) -> None:
        """Show the crop of the bed, or the one offered first."""
        self._now = now
        if now.bed is None:
            return
        planting = self._planting(now)
        crops = all_crops(now.project.crops)
        names = [crop.name for crop in crops]
        row = names.index(planting.crop) if planting.crop in names else len(names)
        texts = [_crop_words(crop, now.project.units) for crop in crops]
        self.list.show_items([*texts, tr("another crop, at a spacing of your own")], row)
        crop = crops[row] if row < len(crops) else None
        chosen = f" ({tr(crop.chosen)})" if crop and crop.chosen else ""
        self.source.setText(f"{crop.source}{chosen}" if crop else "")
        self.source.setVisible(crop is not None)
        self.form.show_now(now)
        self.result.setText(plants_words(now))

    def answer(self, now: Now) -> str:
        """Plant the bed with the crop that is shown."""
        if (wanted := self.proposed(now)) is not None:
            self._apply(wanted, self._planting(now).crop)
        return _refused(self.form)

    def is_answered(self, now: Now) -> bool:
        """Tell whether the bed is planted."""
        return now.planting is not None

    def offered(self, now: Now, bed: Bed) -> Project:
        """Return the project with the crop offered first."""
        return with_crop(now.project, bed, self._planting(now).crop)

    def _planting(self, now: Now) -> Planting:
        crop = all_crops(now.project.crops)[0]
        return now.planting or first_planting(crop.name, now.project.units, now.project.crops)

    def _on_chosen(self, row: int) -> None:
        if self._now is None or row < 0:
            return
        crops = all_crops(self._now.project.crops)
        if row == len(crops):
            self.form.editor("guide-spacing").setFocus()
        crop = crops[row].name if row < len(crops) else ""
        self._apply(with_crop(self._now.project, _bed(self._now), crop), crop)

    def _apply(self, project: Project, crop: str) -> None:
        words = tr("Crop: {crop}", crop=tr(crop) or tr("another one"))
        self._document.apply(words, project, merge_key="guide-crop")

    def _field(self, name: str, words: str, follows: str) -> Field:
        def write(now: Now, value: Length) -> Project:
            project, bed = now.project, _bed(now)
            if bed.planting is None:
                project = with_crop(project, bed, self._planting(now).crop)
            return edits.set_planting(project, bed.name, **{name: value})

        return Field(
            f"guide-{name}",
            words,
            "length",
            read=lambda now: getattr(self._planting(now), name),
            write=write,
            follows=lambda _now: follows,
        )


def plants_words(now: Now) -> str:
    """Say how many plants the bed holds and how dense they stand."""
    plan = now.bed_plan
    if plan is None or plan.bed.planting is None:
        return ""
    plants = tr_n("{n} plant", "{n} plants", plan.plants)
    density = format_density(plan.density_per_m2, now.project.units)
    return tr("{plants}, {density}", plants=plants, density=density)


_ANSWERS: Final[dict[Question, str]] = {
    "shape": mark("Shape"),
    "inside": mark("Inside"),
    "levels": mark("Walls"),
    "foam": mark("Foam"),
    "crop": mark("Crop"),
}


class DonePage(Column):
    """The bed is full: how many plants, what was answered, what to do next."""

    look_wanted = Signal()
    make_wanted = Signal()
    findings_wanted = Signal()
    save_wanted = Signal()
    question_wanted = Signal(str)

    def __init__(self, document: Document, talk: Talk) -> None:
        super().__init__(tr("Done"))
        self._document = document
        self._talk = talk
        self.set_title(tr("The bed is full"), tr("Every number can still be changed."))
        self.count = label("")
        self.count.setObjectName("guide-count")
        self.density = label("", "quiet")
        self.look = button(tr("Look at the holes"), self.look_wanted.emit, "primary")
        self.make = button(tr("Make the templates"), self.make_wanted.emit)
        self.findings = button("", self.findings_wanted.emit)
        self.answers: dict[Question, QLabel] = {}
        self.save = button(tr("Save the project…"), self.save_wanted.emit)
        for part in (self.count, self.density, self.findings):
            self.add(part)
        self._next = (
            label(tr("What comes next"), "heading"),
            self.look,
            label(tr("Move, add and leave out holes, or compare other spacings."), "quiet"),
            self.make,
            label(tr("Paper at true size, cut sheets, and what to buy."), "quiet"),
        )
        for each in self._next:
            self.add(each)
        self.add(self.save)
        self.add_heading(tr("What you answered"))
        answers = QWidget()
        grid = QGridLayout(answers)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(0, 1)
        for at, (question, what) in enumerate(_ANSWERS.items()):
            said = label("")
            change = button(tr("Change"), partial(self.question_wanted.emit, question), "link")
            change.setAccessibleName(tr("Change: {what}", what=tr(what)))
            change.setObjectName(f"guide-change-{question}")
            grid.addWidget(said, at, 0)
            grid.addWidget(change, at, 1, Qt.AlignmentFlag.AlignTop)
            self.answers[question] = said
        self.add(answers)

    def begin(self) -> None:
        """Go to what comes next."""
        (self.look if self.look.isVisible() else self.save).setFocus(Qt.FocusReason.TabFocusReason)

    def show_now(self, now: Now) -> None:
        """Show the count in large type."""
        if now.bed is None:
            return
        for question, said in self.answers.items():
            answer = self._said(question, now)
            said.setText(tr("{what}: {answer}", what=tr(_ANSWERS[question]), answer=answer))
        plan = now.bed_plan
        is_known = plan is not None and plan.bed.planting is not None
        plants = plan.plants if plan is not None and is_known else 0
        self._title.setText(_done_words(plants) if is_known else tr("Working it out…"))
        font = self.font()
        font.setPointSizeF(font.pointSizeF() * _LARGE)
        font.setBold(True)
        self.count.setFont(font)
        self.count.setText(tr_n("{n} plant", "{n} plants", plants) if is_known else "")
        words = []
        if plan is not None and is_known:
            words = [format_density(plan.density_per_m2, unit) for unit in ("mm", "in")]
            words += [proof_words(plan.proof)] if plan.proof is not None else []
        self.density.setText(" · ".join(words))
        self.density.setVisible(plants > 0)
        open_ones = [each for each in open_findings(now) if each.severity != "note"]
        for part in self._next:
            part.setVisible(plants > 0)
        self.save.setVisible(self._document.path is None or self._document.is_modified)
        self.findings.setVisible(bool(open_ones))
        self.findings.setText(
            tr_n("{n} thing to settle first", "{n} things to settle first", len(open_ones))
        )

    def _said(self, question: Question, now: Now) -> str:
        bed, unit = _bed(now), now.project.units
        match question:
            case "shape":
                return tr(SHAPE_WORDS[self._talk.shape(now)])
            case "inside":
                outline = self._talk.outline(now) or bed.outline
                return size_words(outline_sizes(outline), unit)
            case "levels":
                return tr("leaning") if self._talk.lean(now) else tr("straight")
            case "foam":
                return now.project.sheets[0].name if now.project.sheets else tr("none yet")
            case "crop":
                planting = now.planting
                if planting is None:
                    return tr("none yet")
                spacing = exact_text(planting.spacing, unit)
                crop = tr(planting.crop) or tr("another one")
                return tr("{crop}, {spacing} apart", crop=crop, spacing=spacing)


def _done_words(plants: int) -> str:
    return tr("The bed is full") if plants else tr("No plant fits yet")


def _crop_words(crop: Crop, unit: Unit) -> str:
    spacing = tr("{spacing} apart", spacing=exact_text(crop.spacing, unit))
    if crop.density_per_m2 is None:
        return f"{tr(crop.name)}\n{spacing}"
    low, high = (format_density(each, unit) for each in crop.density_per_m2)
    density = low if low == high else tr("{low} to {high}", low=low.split()[0], high=high)
    return tr("{crop}\n{spacing}, {density}", crop=tr(crop.name), spacing=spacing, density=density)


def _sheet_words(sheet: Sheet, unit: Unit) -> str:
    sizes = [sheet.length.exact, sheet.width.exact]
    if sheet.thickness is not None:
        sizes.append(sheet.thickness.exact)
    return size_words(sizes, unit)


def _same(one: Sheet, other: Sheet) -> bool:
    return (one.length, one.width) == (other.length, other.width)


def _refused(form: Form) -> str:
    for row in form.rows.values():
        if row.note.property("refused") and not row.editor.isHidden():
            row.editor.setFocus()
            return row.note.text().removeprefix("! ")
    return ""


def _bed(now: Now) -> Bed:
    if now.bed is None:
        raise GeometryError(tr("There is no bed yet."))
    return now.bed
