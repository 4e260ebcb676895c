"""The station Rafts: how the bed is split, out of which sheets, and how they are cut."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any, Final, Literal

from PySide6.QtWidgets import QWidget

from geometry.errors import GeometryError
from geometry.model.bed import Bed, Fit, One, RaftRule, Split
from geometry.model.project import Project
from geometry.model.sheet import Score, Sheet
from geometry.tongue import mark, signed, tr, tr_n
from geometry.units import Length, Unit
from layout_gui.document.cut_search import CutSearch
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.afloat_part import AfloatPart
from layout_gui.panels.as_built_part import AsBuiltPart
from layout_gui.panels.cut_status import CutStatus
from layout_gui.panels.form import Field, Form, Kind
from layout_gui.panels.joints_offer import JointsOffer
from layout_gui.panels.joints_part import JointsPart
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, ItemList, label
from layout_gui.panels.room_part import RoomPart
from layout_gui.panels.words import exact_size_words, free_name, options_of, size_words
from layout_gui.project import edits

_RULE_WORDS: Final = (
    (Split, mark("into equal parts")),
    (Fit, mark("none larger than")),
    (One, mark("not at all")),
)
_FIRST_SHEET: Final = {
    "in": Sheet(mark("board 8 x 4 ft"), Length.of("96 in"), Length.of("48 in"), Length.of("2 in")),
    "mm": Sheet(mark("board 1250 x 600"), Length.of(1250), Length.of(600), Length.of(50)),
}
_FIRST_OFFCUT: Final = {
    "in": Sheet(mark("offcut"), Length.of("24 in"), Length.of("24 in"), quantity=1, offcut=True),
    "mm": Sheet(mark("offcut"), Length.of(600), Length.of(600), quantity=1, offcut=True),
}
_TOLERANCE_HINT: Final = mark(
    "How much a side may be missing; rafts are planned for the smallest sheet"
)


def _bed(now: Now) -> Bed:
    if now.bed is None:
        raise GeometryError(tr("There is no bed yet."))
    return now.bed


def _set(now: Now, **changes: Any) -> Project:
    return edits.set_bed(now.project, _bed(now).name, **changes)


def rule_of_kind(now: Now, kind: type[RaftRule]) -> RaftRule:
    """Return a rule of another kind that leaves the rafts as they are as far as it can."""
    rafts = now.bed_plan.rafts if now.bed_plan else ()
    if kind is Split:
        layout = now.bed_plan.layout.rafts if now.bed_plan else ()
        columns = max((raft.column for raft in layout), default=0) + 1
        rows = max((raft.row for raft in layout), default=0) + 1
        return Split(columns, rows)
    if kind is Fit and rafts:
        shapes = [raft.design.shape for raft in rafts]
        return Fit(
            Length(max(shape.length for shape in shapes)),
            Length(max(shape.width for shape in shapes)),
        )
    return One() if kind is One else Fit(Length.of(1200), Length.of(600))


def _part_field(name: str, words: str, kind: type[Split | Fit]) -> Field:
    def write(now: Now, value: object) -> Project:
        changes: dict[str, Any] = {name: value}
        return _set(now, rafts=replace(_bed(now).rafts, **changes))

    return Field(
        f"raft-{name}", words, "count" if kind is Split else "length",
        read=lambda now: getattr(_bed(now).rafts, name),
        write=write,
        shown=lambda now: isinstance(_bed(now).rafts, kind),
        most=1000,
    )  # fmt: skip


_SHIFT_WORDS: Final = {"along": mark("Joints moved along"), "across": mark("Joints moved across")}
_SCORE_WORDS: Final = {
    "along": mark("Scored along, every"),
    "across": mark("Scored across, every"),
}
_SCORE_HINTS: Final = {
    "along": mark("Lines pressed into the sheet along its length, this far apart"),
    "across": mark("Lines pressed into the sheet across its length, this far apart"),
}


def _shift_field(way: Literal["along", "across"]) -> Field:
    def write(now: Now, value: object) -> Project:
        changes: dict[str, Any] = {f"shift_{way}": value}
        return _set(now, rafts=replace(_bed(now).rafts, **changes))

    def shown(now: Now) -> bool:
        rule = _bed(now).rafts
        return isinstance(rule, Split) and getattr(rule, way) > 1

    return Field(
        f"raft-shift_{way}", _SHIFT_WORDS[way], "length",
        read=lambda now: getattr(_bed(now).rafts, f"shift_{way}"),
        write=write,
        shown=shown,
        hint=mark("The first rafts grow by so much and the last ones shrink; "
        "with a minus the other way about"),
    )  # fmt: skip


_SPLIT: Final = (
    Field(
        "raft-rule", mark("Split"), "choice",
        read=lambda now: type(_bed(now).rafts),
        write=lambda now, kind: _set(now, rafts=rule_of_kind(now, kind)),
        options=lambda _now: options_of(dict(_RULE_WORDS)),
    ),
    _part_field("along", mark("Along the bed"), Split),
    _part_field("across", mark("Across the bed"), Split),
    _shift_field("along"),
    _shift_field("across"),
    _part_field("length", mark("Largest length"), Fit),
    _part_field("width", mark("Largest width"), Fit),
    Field(
        "joint_gap", mark("Gap between"), "length",
        read=lambda now: _bed(now).joint_gap,
        write=lambda now, gap: _set(now, joint_gap=gap),
        hint=mark("Joint gap between two neighbouring rafts"),
    ),
)  # fmt: skip


def _cutting(name: str) -> tuple[Callable[[Now], object], Callable[[Now, object], Project]]:
    def write(now: Now, value: object) -> Project:
        changes: dict[str, Any] = {name: value}
        return edits.set_cutting(now.project, replace(now.project.cutting, **changes))

    return lambda now: getattr(now.project.cutting, name), write


_AIM_WORDS: Final = (("cost", mark("what the sheets cost")), ("sheets", mark("how many sheets")))


def _aim_needs(now: Now) -> str:
    """Say why the cost does not count, where it is asked for and does not."""
    bought = [sheet for sheet in now.project.sheets if not sheet.offcut]
    missing = [sheet.name for sheet in bought if sheet.price is None]
    if now.project.cutting.aim == "cost" and len(bought) > 1 and missing:
        return tr("counts sheets until “{missing}” has its price", missing=missing[0])
    return ""


_CUTTING: Final = (
    Field(
        "kerf", mark("Kerf"), "length", *_cutting("kerf"),
        hint=mark("Width the blade takes away; 0 for a knife"),
    ),
    Field(
        "trim", mark("Trim"), "length", *_cutting("trim"),
        hint=mark("Strip cut off each sheet edge first, taken off the smallest sheet"),
    ),
    Field(
        "turn", mark("May be turned"), "switch", *_cutting("turn"),
        hint=mark("A raft may lie across the sheet"),
    ),
    Field(
        "aim", mark("Keep low"), "choice", *_cutting("aim"),
        follows=_aim_needs,
        options=lambda _now: options_of(dict(_AIM_WORDS)),
        hint=mark("What the cut plan keeps as low as it can"),
    ),
    Field(
        "keep_offcut", mark("Keep offcuts from"), "length", *_cutting("keep_offcut"),
        hint=mark("A leftover with both sides this long is worth keeping"),
    ),
    Field(
        "saw_depth", mark("Hole saw reaches"), "length", *_cutting("saw_depth"),
        empty_means=mark("not measured"),
        hint=mark("How deep the hole saw cuts from one face; the cut sheet says by it when to turn "
        "the raft over"),
    ),
)  # fmt: skip


class RaftsPanel(Column):
    """The split, what it results in, the sheets and the cutting."""

    def __init__(
        self,
        document: Document,
        search: CutSearch,
        parent: QWidget | None = None,
        selection: Selection | None = None,
    ) -> None:
        super().__init__(tr("Rafts"), parent)
        self._document = document
        self._now: Now | None = None
        self.form = Form(_SPLIT, document)
        self._result = label("", "quiet")
        self.joints_part = JointsPart(document, selection or Selection(self))
        self.joints = JointsOffer(document)
        self.afloat = AfloatPart(document)
        self.sheets = ItemList(
            mark("Sheets"),
            (
                (mark("Add"), self._add),
                (mark("Add offcut"), self._add_offcut),
                (mark("Duplicate"), self._double),
                (mark("Remove"), self._remove),
            ),
        )
        self.sheets.picked.connect(lambda _row: self._show_sheet())
        self.sheet_form = Form(self._sheet_fields(), document)
        self.cutting_form = Form(_CUTTING, document)
        self.status = CutStatus(search)
        self.as_built = AsBuiltPart(document)
        self.add(self.form)
        self.add(self._result)
        self.add(self.joints_part)
        self.add(self.joints)
        self.add(self.afloat)
        self.room = RoomPart(document)
        self.add(self.room)
        self.add(self.as_built)
        self.add_heading(tr("Sheets of foam"))
        self.add(self.status)
        self.add(self.sheets)
        self.add(self.sheet_form)
        self.add_heading(tr("Cutting"))
        self.add(self.cutting_form)

    @property
    def result(self) -> str:
        """What the split comes to, in words."""
        return self._result.text()

    @property
    def cut(self) -> str:
        """What the cutting comes to, in words."""
        return self.status.words

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        before = self._now.thing if self._now else None
        self._now = now
        self.set_title(tr("Rafts"), _sizes_line(now))
        if now.bed is None:
            return
        self.form.show_now(now)
        self._result.setText(_cover_line(now))
        self.joints_part.show_now(now)
        if now.thing is not None and now.thing != before:
            self.bring(self.joints_part)
        self.joints.show_now(now)
        self.afloat.show_now(now)
        self.room.show_now(now)
        self.as_built.show_now(now)
        unit = now.project.units
        texts = [_sheet_words(sheet, unit) for sheet in now.project.sheets]
        self.sheets.show_items(texts, max(self.sheets.row, 0))
        for name in ("Duplicate", "Remove"):
            self.sheets.buttons[name].setEnabled(bool(texts))
        self.status.show_plan(now.plan)
        self._show_sheet()
        self.cutting_form.show_now(now)

    def _show_sheet(self) -> None:
        if self._now is None:
            return
        has_sheet = self._sheet(self._now) is not None
        self.sheet_form.setVisible(has_sheet)
        if has_sheet:
            self.sheet_form.show_now(self._now)

    def _sheet(self, now: Now) -> Sheet | None:
        row = self.sheets.row
        return now.project.sheets[row] if 0 <= row < len(now.project.sheets) else None

    def _given(self, now: Now) -> Sheet:
        sheet = self._sheet(now)
        if sheet is None:
            raise GeometryError(tr("Choose a sheet first."))
        return sheet

    def _sheet_fields(self) -> list[Field]:
        rows: tuple[tuple[str, str, Kind, str, str], ...] = (
            ("name", mark("Name"), "text", "", ""),
            ("length", mark("Length"), "length", "", ""),
            ("width", mark("Width"), "length", "", ""),
            ("tolerance", mark("May be short by"), "length", "", _TOLERANCE_HINT),
            ("thickness", mark("Thickness"), "length", mark("not known"), ""),
            (
                "offcut",
                mark("An offcut on hand"),
                "switch",
                "",
                mark("Used first, and costs nothing"),
            ),
            (
                "density",
                mark("Weighs, kg/m³"),
                "number",
                mark("not known"),
                mark("Density of the dry foam; the cut sheet tells by it what a raft weighs"),
            ),
            ("price", mark("Price each"), "number", mark("not known"), ""),
            ("quantity", mark("On hand"), "count", mark("as needed"), ""),
        )
        fields = [self._sheet_field(*row) for row in rows]
        return [*fields, self._score_field("across"), self._score_field("along")]

    def _score_field(self, way: Literal["across", "along"]) -> Field:
        def read(now: Now) -> Length | None:
            score = self._given(now).score
            return None if score is None else getattr(score, way)

        def write(now: Now, gap: Length | None) -> Project:
            changes: dict[str, Any] = {way: gap}
            score = replace(self._given(now).score or Score(), **changes)
            return self._write(now, "score", score if score.across or score.along else None)

        return Field(
            f"sheet-score-{way}",
            _SCORE_WORDS[way],
            "length",
            read=read,
            write=write,
            empty_means=mark("not scored"),
            hint=_SCORE_HINTS[way],
        )

    def _sheet_field(self, name: str, words: str, kind: Kind, empty: str, hint: str) -> Field:
        def write(now: Now, value: object) -> Project:
            return self._write(now, name, value)

        return Field(
            f"sheet-{name}",
            words,
            kind,
            read=lambda now: getattr(self._given(now), name),
            write=write,
            shown=lambda now: name != "price" or not self._given(now).offcut,
            empty_means=empty,
            hint=hint,
        )

    def _write(self, now: Now, name: str, value: object) -> Project:
        old = self._given(now)
        changes: dict[str, Any] = {name: value}
        made = replace(old, **changes)
        if made.offcut and made.quantity is None:
            made = replace(made, quantity=1)
        return edits.set_sheets(
            now.project, tuple(made if sheet is old else sheet for sheet in now.project.sheets)
        )

    def _add(self) -> None:
        if self._now is not None:
            unit = "in" if self._now.project.units == "in" else "mm"
            self._put(_in_words(_FIRST_SHEET[unit]), mark("Add {name}"))

    def _add_offcut(self) -> None:
        if self._now is not None:
            unit = "in" if self._now.project.units == "in" else "mm"
            self._put(_in_words(_FIRST_OFFCUT[unit]), mark("Add {name}"))

    def _double(self) -> None:
        if self._now is not None:
            self._put(self._given(self._now), mark("Duplicate {name}"))

    def _put(self, sheet: Sheet, words: str) -> None:
        if self._now is None:
            return
        sheets = self._now.project.sheets
        made = replace(sheet, name=free_name(sheet.name, [each.name for each in sheets]))
        project = edits.set_sheets(self._now.project, (*sheets, made))
        self._document.apply(tr(words, name=sheet.name), project)
        self.sheets.list.setCurrentRow(len(sheets))

    def _remove(self) -> None:
        if self._now is None:
            return
        gone = self._given(self._now)
        kept = tuple(sheet for sheet in self._now.project.sheets if sheet is not gone)
        self._document.apply(
            tr("Remove {name}", name=gone.name), edits.set_sheets(self._now.project, kept)
        )


def _in_words(sheet: Sheet) -> Sheet:
    return replace(sheet, name=tr(sheet.name))


def _sheet_words(sheet: Sheet, unit: Unit) -> str:
    words = f"{sheet.name}, {size_words((sheet.length.exact, sheet.width.exact), unit)}"
    return tr("{sheet}, on hand", sheet=words) if sheet.offcut else words


def _sizes_line(now: Now) -> str:
    rafts = now.bed_plan.rafts if now.bed_plan else ()
    counts: dict[tuple[Fraction, Fraction], int] = {}
    for raft in rafts:
        size = (raft.design.shape.length, raft.design.shape.width)
        counts[size] = counts.get(size, 0) + 1
    parts = [
        tr(
            "{n} of {size}",
            n=n,
            size=exact_size_words(size, now.project.units),
        )
        for size, n in counts.items()
    ]
    if len(parts) <= 3:
        return ", ".join(parts)
    more = len(parts) - 3
    return tr_n(
        "{sizes} and {n} more size",
        "{sizes} and {n} more sizes",
        more,
        sizes=", ".join(parts[:3]),
    )


def _cover_line(now: Now) -> str:
    plan = now.bed_plan
    if plan is None or not plan.rafts:
        return tr("No raft fits this bed with these gaps.")
    share = signed(f"{plan.open_water_share:.1%}")
    return tr("{share} of the water stays open to the light.", share=share)
