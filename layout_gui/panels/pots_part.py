"""The pots of a project, how the chosen one sits in its hole, and which saw to drill it with."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from geometry.afloat.saws import SawFit, saw_text
from geometry.afloat.starting_pots import STARTING_POTS
from geometry.drawing.seat_words import SEAT_WORDS, seat_words
from geometry.errors import GeometryError
from geometry.model.pot import Pot
from geometry.tongue import mark, tr, tr_n
from geometry.units import TOLERANCE_MM, Length, exact_text, format_length
from layout_gui.document.document import Document
from layout_gui.panels.form import Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Fold, ItemList, button, label, side_by_side
from layout_gui.panels.pot_fields import pot_fields, use_fields
from layout_gui.panels.seat_picture import InHole, SeatPicture, in_hole, saw_fits, thickness_of
from layout_gui.project import edits_pots


class PotsPart(QWidget):
    """A fold: the pots, the one of the bed or zone in its hole, and what each saw would do."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._now: Now | None = None
        self.use = Form(use_fields(), document)
        self.words = label("", "")
        self.picture = SeatPicture()
        self.saws = SawTable(self._drill)
        self.items = ItemList(mark("Pots"), ((mark("Remove"), self._remove),))
        self.items.picked.connect(self._on_picked)
        self.starts = [
            button(tr(pot.name), partial(self._add, pot), "link") for pot in STARTING_POTS
        ]
        self.form = Form(pot_fields(self._given), document)
        self.fold = Fold(
            tr("Pot"),
            self.words,
            self.picture,
            self.saws,
            self.use,
            self.items,
            self.form,
            label(tr("Add one, to be measured (common practice, no source):"), "quiet"),
            side_by_side(*self.starts),
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 10, 0, 0)
        box.addWidget(self.fold)

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        self._now = now
        held = in_hole(now)
        self.fold.set_note(_note(held))
        self.use.show_now(now)
        self.words.setText(_sentence(now, held) if held else "")
        self.words.setVisible(held is not None)
        self.picture.show_seat(held, thickness_of(now))
        self.saws.show_fits(now, held)
        self.saws.setVisible(held is not None)
        names = [pot.name for pot in now.project.pots]
        row = names.index(held.pot.name) if held and self.items.row < 0 else max(self.items.row, 0)
        self.items.show_items([_item_words(now, name) for name in names], row)
        self.items.setVisible(bool(names))
        self._show_pot()

    def _show_pot(self) -> None:
        if self._now is None:
            return
        is_there = self._given(self._now) is not None
        self.form.setVisible(is_there)
        if is_there:
            self.form.show_now(self._now)

    def _on_picked(self, _row: int) -> None:
        self._show_pot()

    def _given(self, now: Now) -> Pot | None:
        pots, row = now.project.pots, self.items.row
        return pots[row] if 0 <= row < len(pots) else None

    def _add(self, start: Pot) -> None:
        now = self._now
        if now is None:
            return
        named = replace(start, name=tr(start.name))
        project, name = edits_pots.add_pot(now.project, named, now.bed.name if now.bed else "")
        self.items.show_items([pot.name for pot in project.pots], len(project.pots) - 1)
        self._document.apply(tr("Add pot {name}", name=name), project)

    def _remove(self) -> None:
        pot = self._given(self._now) if self._now else None
        if self._now is None or pot is None:
            return
        uses = len(edits_pots.uses_of(self._now.project, pot.name))
        words = tr("Remove pot {name}", name=pot.name)
        if uses:
            words = tr_n(
                "Remove pot {name}, named in {n} place", "Remove pot {name}, named in {n} places",
                uses, name=pot.name,
            )  # fmt: skip
        self._document.apply(words, edits_pots.remove_pot(self._now.project, pot.name))

    def _drill(self, saw: Length) -> None:
        now, held = self._now, in_hole(self._now) if self._now else None
        if now is None or now.bed is None or held is None:
            return
        try:
            project = edits_pots.drill(now.project, now.bed.name, held.zone, saw)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        size = exact_text(saw, now.project.units)
        self._document.apply(tr("Drill with {saw}", saw=size), project)


def _note(held: InHole | None) -> str:
    if held is None:
        return ""
    return tr("{pot}: {seat}", pot=held.pot.name, seat=tr(SEAT_WORDS[held.seated.seat]))


def _sentence(now: Now, held: InHole) -> str:
    unit = now.project.units
    hole = format_length(held.hole, unit)
    told = tr("A hole of {hole} for {pot}: {seat}.", hole=hole, pot=held.pot.name,
              seat=seat_words(held.seated))  # fmt: skip
    return tr("In the zone “{zone}”: {told}", zone=held.zone, told=told) if held.zone else told


def _item_words(now: Now, name: str) -> str:
    uses = len(edits_pots.uses_of(now.project, name))
    if not uses:
        return tr("{name}, not used", name=name)
    return tr_n("{name}, in {n} place", "{name}, in {n} places", uses, name=name)


class SawTable(QWidget):
    """A row for each saw: its size, what it does, and a button to drill with it."""

    def __init__(self, drill: Callable[[Length], object]) -> None:
        super().__init__()
        self._drill = drill
        self._fits: tuple[object, ...] = ()
        self.rows: list[tuple[str, str]] = []
        """What each row says: the size of the saw, and what it does."""
        self.buttons: list[QWidget] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 2, 0, 6)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(0, 1)

    def show_fits(self, now: Now, held: InHole | None) -> None:
        """Show the saws for another pot, hole or choice of saws; quick while they stay."""
        fits = saw_fits(now, held) if held else ()
        shown = (fits, held and held.planting.hole_diameter, now.project.units)
        if shown == self._fits:
            return
        self._fits = shown
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self.rows, self.buttons = [], []
        for fit in fits:
            self._add_row(fit, now, held)

    def _add_row(self, fit: SawFit, now: Now, held: InHole | None) -> None:
        is_now = held is not None and (
            abs(fit.saw.mm - held.planting.hole_diameter.mm) <= TOLERANCE_MM
        )
        size = saw_text(fit.saw, now.project.units)
        words = seat_words(fit.seated)
        if not fit.is_own:
            words = tr("{words}; not among your saws", words=words)
        if is_now:
            words = tr("{words}; drilled now", words=words)
        at = 2 * len(self.rows)
        self.rows.append((size, words))
        self._grid.addWidget(label(size, "heading"), at, 0)
        self._grid.addWidget(label(words, "quiet"), at + 1, 0, 1, 2)
        if not is_now:
            press = button(tr("Drill with this saw"), lambda: self._drill(fit.saw), "link")
            press.setAccessibleName(tr("Drill with {saw}", saw=size))
            self._grid.addWidget(press, at, 1)
            self.buttons.append(press)
