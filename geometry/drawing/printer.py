"""What a printer gets wrong: read off its printed page, judged, and made good.

A printer is measured by two lines as long as its paper allows (``printer_page``). A rule is read to
0.3 mm at best, so the longer the line, the less an error of reading matters.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal

from geometry.drawing.paper import (
    BORDERS_MM,
    FACTORS,
    PageSetup,
    Paper,
    PrinterStamp,
    is_same_size,
    serves,
)
from geometry.errors import GeometryError
from geometry.tongue import mark, number, tr
from geometry.units import Length, Unit, format_length

Way = Literal["across", "along"]

LINE_BORDER_MM: Final = 12
"""The lines of the printer page end so far from the edges of the paper, or a little farther."""

TICKS_MM: Final = (2, 4, 6, 8, 10, 12)
"""How far from an edge the ticks stand that tell what a printer leaves white."""

READING_MM: Final = Fraction(3, 10)
"""How closely a steel rule is read at best (common practice, no source)."""

LONGEST_NAME: Final = 40
"""Signs that a printer's name, or the note about it, may have."""

_LEAST, _MOST = (Fraction(repr(factor)) for factor in FACTORS)

# What a page that was made to fit measures, as a share of itself: between what the drivers tried
# for this program made of it (96.0 % and 97.3 %), and as much to either side as borders differ.
_FITTED: Final = (Fraction(955, 1000), Fraction(978, 1000))
_ALIKE: Final = Fraction(3, 1000)

_WAYS: Final[dict[Way, str]] = {
    "across": mark("The line across"),
    "along": mark("The line along"),
}
_DAYS: Final = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def line_mm(paper: Paper, way: Way) -> int:
    """Return how long a line of the printer page is: whole millimetres, easy to compare."""
    side = paper.width_mm if way == "across" else paper.height_mm
    return int(side + 1e-6) - 2 * LINE_BORDER_MM


def meant_words(paper: Paper, way: Way, unit: Unit) -> str:
    """Say how long a line is meant to be, for a grower in inches in inches too."""
    length = line_mm(paper, way)
    text = tr("{mm} mm", mm=number(length))
    return text if unit != "in" else f"{text} = {format_length(length, 'in')}"


@dataclass(frozen=True, slots=True)
class MeasuredLine:
    """A line of the printer page: how long it is meant to be, and how long it came out.

    Raises:
        GeometryError: No printer is so wrong; the sentence says what to do.
    """

    way: Way
    nominal: Fraction
    measured: Fraction

    def __post_init__(self) -> None:
        if self.measured <= 0:
            raise GeometryError(
                tr("{line} must be longer than nothing: type what the rule shows.", line=self._name)
            )
        if not Fraction(1, 2) < self.share < 2:
            raise GeometryError(
                tr(
                    "{line} is meant to be {nominal} mm: look at the unit of what was typed.",
                    line=self._name,
                    nominal=number(float(self.nominal)),
                )
            )
        if not _LEAST <= self.factor <= _MOST:
            raise GeometryError(
                tr(
                    "{line} came out at {share} %. This looks like page scaling: set 100 % "
                    "(actual size) and print again, on the paper that the page is made for.",
                    line=self._name,
                    share=number(float(self.share * 100), 1),
                )
            )

    @property
    def share(self) -> Fraction:
        """What came out of what was meant."""
        return self.measured / self.nominal

    @property
    def factor(self) -> Fraction:
        """By what to stretch so that the line comes out true."""
        return self.nominal / self.measured

    @property
    def reading_percent(self) -> float:
        """How wrong the rule itself may be, in per cent of the line."""
        return float(READING_MM / self.nominal * 100)

    @property
    def is_true(self) -> bool:
        """Whether it is off by no more than a rule can tell."""
        return abs(self.measured - self.nominal) <= READING_MM

    def words(self, *, corrects_all: bool = False) -> str:
        """Say how it came out, what is done about it, and how closely a rule can tell."""
        values = {
            "line": self._name,
            "nominal": number(float(self.nominal)),
            "measured": number(float(self.measured), 2),
            "larger": number(float(self.factor - 1) * 100, 2),
            "smaller": number(float(1 - self.factor) * 100, 2),
            "reading": number(self.reading_percent, 2),
        }
        if self.measured == self.nominal:
            return tr("{line}: {nominal} mm came out true.", **values)
        if self.is_true and not corrects_all:
            return tr(
                "{line}: {nominal} mm came out as {measured} mm. A rule shows 0.3 mm at best, "
                "{reading} % of it: it counts as true.",
                **values,
            )
        if self.factor > 1:
            return tr(
                "{line}: {nominal} mm came out as {measured} mm and is sent {larger} % larger. A "
                "rule shows 0.3 mm at best, {reading} % of it.",
                **values,
            )
        return tr(
            "{line}: {nominal} mm came out as {measured} mm and is sent {smaller} % smaller. A "
            "rule shows 0.3 mm at best, {reading} % of it.",
            **values,
        )

    @property
    def _name(self) -> str:
        return tr(_WAYS[self.way])


def measured_line(paper: Paper, way: Way, measured: Length) -> MeasuredLine:
    """Return a line of a paper's printer page as it came out.

    Raises:
        GeometryError: No printer is so wrong; the sentence says what to do.
    """
    return MeasuredLine(way, Fraction(line_mm(paper, way)), measured.exact)


def fit_hint(across: MeasuredLine, along: MeasuredLine) -> str:
    """Say so where both lines look like a page that was made to fit; empty otherwise."""
    least, most = _FITTED
    is_fitted = all(least <= line.share <= most for line in (across, along))
    if not is_fitted or abs(across.share - along.share) > _ALIKE:
        return ""
    return tr(
        "Both lines are {percent} % short alike, as on a page that was made to fit the paper: set "
        "100 % (actual size), print the page again and measure that.",
        percent=number(float(1 - (across.share + along.share) / 2) * 100, 1),
    )


def white_border(edges: Sequence[Length]) -> float:
    """Return what a printer leaves white, in mm: the largest of its edges.

    Raises:
        GeometryError: A figure is no border, or more than a template can bear.
    """
    if not edges or min(edge.exact for edge in edges) < 0:
        raise GeometryError(tr("Type the number of the first whole tick, from 2 to 12 mm."))
    largest = max(edge.exact for edge in edges)
    if largest > LINE_BORDER_MM:
        raise GeometryError(
            tr(
                "A template leaves {most} mm white at the most. Does the page lie straight, is it "
                "printed at 100 %, is it the right paper?",
                most=number(LINE_BORDER_MM),
            )
        )
    return float(largest)


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer as it was measured with one paper.

    What is sent to it is ``across`` and ``along`` times as large; it leaves ``border_mm`` white.
    ``day`` is when that was measured, as 2026-11-25, empty if nobody knows. ``note`` says which
    tray, or whatever else is worth knowing.

    Raises:
        GeometryError: A name that is none, a day that is none, or figures out of their bounds.
    """

    name: str
    paper: Paper
    across: float = 1.0
    along: float = 1.0
    border_mm: float = BORDERS_MM[0]
    day: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        check_name(self.name)
        if not is_short(self.note):
            raise GeometryError(
                tr("A note has {most} signs at the most, on one line.", most=LONGEST_NAME)
            )
        if self.day and not is_day(self.day):
            raise GeometryError(
                tr("“{day}” is no day; write it as 2026-11-25.", day=self.day[:LONGEST_NAME])
            )
        white_border((Length.of(self.border_mm),))
        PageSetup(across=self.across, along=self.along)

    @property
    def stamp(self) -> PrinterStamp:
        """What every page says of it."""
        return PrinterStamp(self.name, self.paper, self.day)

    @property
    def border(self) -> float:
        """The narrowest white border, in mm, that a template may have on it."""
        return max(BORDERS_MM[0], self.border_mm)

    def on(self, setup: PageSetup, border_mm: float | None = None) -> PageSetup:
        """Return a setup for this printer, with its own border unless another is wanted."""
        return replace(
            setup,
            border_mm=self.border if border_mm is None else border_mm,
            across=self.across,
            along=self.along,
            stamp=self.stamp,
        )


def judged_printer(
    name: str,
    across: MeasuredLine,
    along: MeasuredLine,
    paper: Paper,
    edges: Sequence[Length],
    *,
    day: str,
    note: str = "",
    corrects_all: bool = False,
) -> Printer:
    """Return the printer that two measured lines and the ticks at its edges tell of.

    A line that is off by no more than a rule can tell is left as it is, unless ``corrects_all``.

    Raises:
        GeometryError: Something cannot be; the sentence says what.
    """
    across_factor, along_factor = (
        1.0 if line.is_true and not corrects_all else round(float(line.factor), 6)
        for line in (across, along)
    )
    return Printer(
        name.strip(), paper, across_factor, along_factor, white_border(edges), day, note.strip()
    )


def find_printer(printers: Sequence[Printer], name: str, paper: Paper) -> Printer | None:
    """Return the printer of that name for this paper, else as measured last with another paper."""
    named = [printer for printer in printers if printer.name == name]
    fitting = [printer for printer in named if is_same_size(printer.paper, paper)]
    serving = [printer for printer in named if serves(printer.paper, paper)]
    return max(fitting or serving or named, key=lambda printer: printer.day, default=None)


def doubts(printer: Printer, setup: PageSetup, today: str) -> tuple[str, ...]:
    """Say what speaks against using a printer's measures for a setup on this day."""
    return tuple(_doubts(printer, setup, today))


def _doubts(printer: Printer, setup: PageSetup, today: str) -> Iterator[str]:
    if not serves(printer.paper, setup.paper):
        yield tr(
            "{printer} was measured with {other}, not with {paper}: measure it with this paper "
            "too.",
            printer=printer.name,
            other=printer.paper.said,
            paper=setup.paper.said,
        )
    if setup.border_mm < printer.border_mm:
        yield tr(
            "{printer} leaves {white} mm white, the border is {border} mm: what stands there is "
            "lost.",
            printer=printer.name,
            white=number(printer.border_mm),
            border=number(setup.border_mm),
        )
    if not printer.day:
        yield tr(
            "Nobody noted when {printer} was measured: measure it again.", printer=printer.name
        )
    elif is_over_a_year(printer.day, today):
        yield tr(
            "{printer} was measured {day}, more than a year ago: measure it again.",
            printer=printer.name,
            day=printer.day,
        )


def check_name(name: str) -> None:
    """Refuse what is no name for a printer.

    Raises:
        GeometryError: It is empty, too long, or no single line.
    """
    if not name.strip() or not is_short(name):
        raise GeometryError(
            tr(
                "Give the printer a name of {most} signs at the most, on one line.",
                most=LONGEST_NAME,
            )
        )


def is_short(text: str) -> bool:
    """Tell whether a text is one line that a page has room for."""
    return len(text) <= LONGEST_NAME and (text.isprintable() or not text)


def is_day(text: str) -> bool:
    """Tell whether a text is a day as 2026-11-25."""
    found = re.fullmatch(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", text)
    if found is None:
        return False
    month, day = int(found[2]), int(found[3])
    return 1 <= month <= len(_DAYS) and 1 <= day <= _DAYS[month - 1]


def is_over_a_year(day: str, today: str) -> bool:
    """Tell whether a year and more went by; both days are written as 2026-11-25."""
    return today > f"{int(day[:4]) + 1:04}{day[4:]}"
