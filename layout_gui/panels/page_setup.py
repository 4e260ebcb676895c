"""The fields that say how pages are put on paper, and what the printer gets wrong."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from geometry.drawing.paper import (
    BAR_MM,
    PAPERS,
    ROLL_MM,
    PageSetup,
    Paper,
    correction,
    own_paper,
    roll_paper,
)
from geometry.drawing.printer import Printer, find_printer
from geometry.errors import GeometryError
from geometry.flow.period import Period
from geometry.tongue import mark, tr
from geometry.units import Length, Unit, both_units
from layout_gui.panels.fields import ChoiceField, LengthField
from layout_gui.panels.parts import button, label, side_by_side, stack
from layout_gui.panels.printer_part import PrinterPart, larger
from layout_gui.project.printer_file import PrinterFile

OWN: Final = "own"
ROLL: Final = "roll"

_Change = Callable[[PageSetup, float], PageSetup]


class _Measure(QWidget):
    """A length in true millimetres: its name, the field, and what follows from it."""

    meant = Signal(float)

    def __init__(self, name: str, words: str, tip: str) -> None:
        super().__init__()
        self.field = LengthField()
        self.field.setObjectName(name)
        self.field.setAccessibleName(words)
        self.field.setToolTip(tip)
        self._note = label("", "quiet")
        self._follows = ""
        title = QLabel(words)
        title.setWordWrap(True)
        title.setBuddy(self.field)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(2)
        for part in (title, self.field, self._note):
            box.addWidget(part)
        self.field.refused.connect(self.refuse)
        self.field.tried.connect(self._on_tried)
        self.field.reverted.connect(lambda: self.refuse(""))
        self.field.committed.connect(self._on_meant)
        self.field.stepped.connect(self._on_meant)

    def show_mm(self, value: float, follows: str = "") -> None:
        """Show a length, and beneath it what it means."""
        self._follows = follows
        self.field.show_value(Length.of(value))
        self.refuse("")

    def refuse(self, reason: str) -> None:
        """Say why a length cannot be; an empty reason brings back what it means."""
        self._note.setText(f"! {reason}" if reason else self._follows)
        self._note.setProperty("refused", bool(reason))
        self._note.setVisible(bool(reason or self._follows))
        self.field.setAccessibleDescription(self._note.text())
        self._note.style().unpolish(self._note)
        self._note.style().polish(self._note)

    def _on_tried(self, value: object) -> None:
        if isinstance(value, Length):
            self._note.setText(both_units(value))
            self.field.setAccessibleDescription(self._note.text())
            self._note.show()

    def _on_meant(self, value: object) -> None:
        if isinstance(value, Length):
            self.field.settle(value)
            self.meant.emit(value.mm)


class PageSetupPart(QObject):
    """Two groups of fields: the ``paper`` itself; printer, border, overlap and bars as ``details``.

    ``bars`` are the factors by the bars of a template; they count while no printer is chosen, and
    are kept meanwhile.
    """

    changed = Signal(object)
    """The PageSetup that is meant now."""

    def __init__(
        self,
        setup: PageSetup,
        parent: QObject | None = None,
        *,
        printers: PrinterFile | None = None,
        bars: tuple[float, float] | None = None,
    ) -> None:
        super().__init__(parent)
        self._setup = setup
        self._bars = bars or (setup.across, setup.along)
        self._sides: list[float] = []
        self.printer = PrinterPart(printers or PrinterFile(), setup)
        self.printer.chosen.connect(self._on_printer)
        self._measures: list[_Measure] = []
        self.choice = ChoiceField()
        self.choice.setAccessibleName(tr("Paper"))
        self.choice.setObjectName("paper")
        others = ((OWN, tr("own size")), (ROLL, tr("one long page from a roll")))
        self.choice.set_options(
            (*((key, tr(paper.name)) for key, paper in PAPERS.items()), *others)
        )
        self.choice.committed.connect(self._on_paper)
        title = QLabel(tr("Paper"))
        title.setBuddy(self.choice)
        self._size = (
            _Measure("paper-width", tr("Width of the paper"), tr("Across the way it is fed")),
            _Measure("paper-height", tr("Height of the paper"), tr("Along the way it is fed")),
        )
        for part in self._size:
            part.meant.connect(self._on_size)
        self._roll = _Measure(
            "roll-width",
            tr("Width of the roll"),
            tr("Usual are 610 mm (24 in) and 914 mm (36 in); ask the copy shop"),
        )
        self._roll.meant.connect(self._on_roll)
        self._border = self._measure(
            "border",
            tr("White border"),
            tr("What the printer leaves white, and a little more"),
            lambda setup, mm: replace(setup, border_mm=mm),
        )
        self._overlap = self._measure(
            "overlap",
            tr("Overlap of two pages"),
            tr("What both of them show: the glue flap"),
            lambda setup, mm: replace(setup, overlap_mm=mm),
        )
        self._across = self._measure(
            "bar-across",
            tr("100 mm across come out as"),
            tr("Measure the lying bar of the first page after printing it at 100 %"),
            lambda setup, mm: replace(setup, across=_factor(setup.across, mm)),
        )
        self._along = self._measure(
            "bar-along",
            tr("100 mm along come out as"),
            tr("Measure the standing bar of the first page after printing it at 100 %"),
            lambda setup, mm: replace(setup, along=_factor(setup.along, mm)),
        )
        self._correction = label("", "quiet")
        self._forget = button(tr("Forget the correction"), self._on_forget, "link")
        self.paper = stack(title, self.choice, *self._size, self._roll)
        self.details = stack(
            self.printer, self._border, self._overlap, self._across, self._along, self._correction,
            side_by_side(self._forget),
        )  # fmt: skip
        self._show()

    @property
    def setup(self) -> PageSetup:
        """How pages are put on paper now."""
        return self._setup

    @property
    def texts(self) -> tuple[str, ...]:
        """What to keep the setup by, the bars included that do not count now."""
        return setup_texts(self._setup, self._bars)

    @property
    def said(self) -> str:
        """What is made good for the printer, in words."""
        return self._correction.text()

    def set_unit(self, unit: Unit) -> None:
        """Show and read lengths in this unit from now on."""
        self.printer.set_unit(unit)
        for part in (*self._size, self._roll, *self._measures):
            part.field.set_unit(unit)

    def set_pegs(self, pegs: tuple[float, float] | None) -> None:
        """Take what was measured of a perforated board."""
        self._become(replace(self._setup, pegs=pegs))

    def set_period(self, period: Period) -> None:
        """Tell of other weeks from now on."""
        self._become(replace(self._setup, period=period))

    def _measure(self, name: str, words: str, tip: str, change: _Change) -> _Measure:
        part = _Measure(name, words, tip)
        part.meant.connect(partial(self._on_meant, part, change))
        self._measures.append(part)
        return part

    def _on_meant(self, part: _Measure, change: _Change, mm: float) -> None:
        try:
            self._become(change(self._setup, mm))
        except GeometryError as error:
            part.refuse(str(error))

    def _on_paper(self, key: object) -> None:
        paper = PAPERS.get(str(key))
        if key == ROLL:
            paper = roll_paper(self._setup.paper.roll_mm or ROLL_MM)
        elif paper is None:
            old = self._setup.paper
            paper = own_paper(old.width_mm, old.height_mm)
        self._put_on(paper)

    def _on_roll(self, mm: float) -> None:
        try:
            self._put_on(roll_paper(mm))
        except GeometryError as error:
            self._roll.refuse(str(error))

    def _on_size(self, _mm: float) -> None:
        values = [part.field.value() for part in self._size]
        sides = [value.mm for value in values if isinstance(value, Length)]
        try:
            paper = own_paper(*sides)
        except GeometryError as error:
            self._size[0].refuse(str(error))
            return
        self._sides = sides
        self._put_on(paper)

    def _put_on(self, paper: Paper) -> None:
        """Use another paper; a printer may have been measured with that one too.

        Bars that were measured on sheets do not hold for a plotter.
        """
        setup = replace(self._setup, paper=paper)
        if paper.roll_mm is not None and self._setup.paper.roll_mm is None:
            self._become(replace(setup, across=1.0, along=1.0, stamp=None))
            return
        if paper.roll_mm is None and self._setup.paper.roll_mm is not None:
            across, along = self._bars
            setup = replace(setup, across=across, along=along)
        printer = self.printer.for_paper(paper)
        self._become(printer.on(setup) if printer is not None else setup)

    def _on_printer(self, printer: Printer | None) -> None:
        if printer is not None:
            same = printer.on(self._setup, self._setup.border_mm)
            self._become(same if same == self._setup else printer.on(self._setup))
            return
        across, along = self._bars
        self._become(replace(self._setup, across=across, along=along, stamp=None))

    def _on_forget(self) -> None:
        self._become(replace(self._setup, across=1.0, along=1.0))

    def _become(self, setup: PageSetup) -> None:
        is_other = setup != self._setup
        self._setup = setup
        if setup.stamp is None and setup.paper.roll_mm is None:
            self._bars = (setup.across, setup.along)
        self._show()
        if is_other:
            self.changed.emit(setup)

    def _show(self) -> None:
        setup = self._setup
        key = paper_key(setup.paper)
        self.choice.show_value(key)
        upright = [setup.paper.width_mm, setup.paper.height_mm]
        # Fields that changed places under the hand would take the next number for the wrong side.
        sides = self._sides if sorted(self._sides) == upright else upright
        follows = ("", tr(_TURNED) if sides != upright else "")
        for part, side, words in zip(self._size, sides, follows, strict=True):
            part.setVisible(key == OWN)
            part.show_mm(side, words)
        self._roll.setVisible(key == ROLL)
        self._roll.show_mm(setup.paper.roll_mm or ROLL_MM)
        is_narrow = setup.border_mm < 7 and setup.stamp is None
        self._border.show_mm(setup.border_mm, tr(_NARROW_BORDER) if is_narrow else "")
        self._overlap.show_mm(setup.overlap_mm)
        self._across.show_mm(BAR_MM)
        self._along.show_mm(BAR_MM)
        self._correction.setText(_correction_words(setup))
        by_bars = setup.stamp is None
        for bar in (self._across, self._along, self._correction):
            bar.setVisible(by_bars)
        self._forget.setVisible(by_bars and setup.is_corrected)
        self.printer.show_setup(setup)


_TURNED: Final = mark("Put it in upright, the shorter side across: pages are turned for that.")
_NARROW_BORDER: Final = mark("Many printers leave more white than that.")


def paper_key(paper: Paper) -> str:
    """Return by what name a paper is remembered."""
    if paper.roll_mm is not None:
        return ROLL
    return next((key for key, known in PAPERS.items() if known == paper), OWN)


def read_setup(texts: Sequence[str], printers: Sequence[Printer] = ()) -> PageSetup:
    """Return what ``setup_texts`` was made of; what was kept wrong counts as not kept.

    A printer that is not known any more leaves what the bars have told.
    """
    try:
        width, height, border, overlap, across, along = map(float, texts[1:7])
        if texts[0] == ROLL:
            # what is kept of a roll is its width, and bars that were measured on sheets
            return PageSetup(roll_paper(width), border, overlap)
        paper = PAPERS.get(texts[0]) or own_paper(width, height)
        setup = PageSetup(paper, border, overlap, across, along, pegs=_pegs_of(texts[8:]))
    except (GeometryError, IndexError, ValueError):
        return PageSetup()
    name = texts[7] if len(texts) > 7 else ""
    printer = find_printer(printers, name, paper)
    return setup if printer is None else printer.on(setup, border)


def kept_bars(texts: Sequence[str]) -> tuple[float, float]:
    """Return the factors by the bars that ``setup_texts`` has kept, whatever the paper is."""
    try:
        kept = PageSetup(across=float(texts[5]), along=float(texts[6]))
    except (GeometryError, IndexError, ValueError):
        return 1.0, 1.0
    return kept.across, kept.along


def setup_texts(setup: PageSetup, bars: tuple[float, float] | None = None) -> tuple[str, ...]:
    """Return the setup in words to keep it by, with the factors of the bars and the printer."""
    paper = setup.paper
    figures = (
        paper.roll_mm or paper.width_mm, paper.height_mm, setup.border_mm, setup.overlap_mm,
        *(bars or (setup.across, setup.along)),
    )  # fmt: skip
    printer = setup.stamp.printer if setup.stamp else ""
    rest = (printer, *map(repr, setup.pegs)) if setup.pegs is not None else (printer,)
    return (paper_key(paper), *map(repr, figures), *(rest if any(rest) else ()))


def _pegs_of(texts: Sequence[str]) -> tuple[float, float] | None:
    """Return what was measured of a perforated board, if anything was."""
    return (float(texts[0]), float(texts[1])) if len(texts) > 1 else None


def _factor(before: float, measured_mm: float) -> float:
    """Correct once more what was printed with a correction already."""
    return correction(BAR_MM * before, measured_mm)


def _correction_words(setup: PageSetup) -> str:
    if not setup.is_corrected:
        return tr("Printed as it is. Type what you measured if the bars are not true.")
    return tr(
        "Templates are sent {across} across and {along} along. "
        "Print the first page again: its bars must be true now.",
        across=larger(setup.across),
        along=larger(setup.along),
    )
