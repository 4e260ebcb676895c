"""How a command says where, on what paper, by what printer, which pages: text to values.

A bare number is millimetres. What cannot be read, or cannot be, is a GeometryError.
"""

from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Final

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
from geometry.drawing.printer import is_day
from geometry.errors import GeometryError
from geometry.flow.period import Period, day_fault
from geometry.tongue import tr
from geometry.units import Length, parse_length
from layout_gui.output.pictures import DPI

MOST_PAGES: Final = 1_000_000


def read_paper(text: str) -> Paper:
    """Read a paper's name, a roll such as roll or roll:610, or a size such as 610x1200."""
    if text in PAPERS:
        return PAPERS[text]
    name, colon, width = text.partition(":")
    if name == "roll":
        return roll_paper(_mm(width) if colon else ROLL_MM)
    sides = text.split("x")
    if len(sides) != 2 or not text.strip()[:1].isnumeric():
        raise GeometryError(
            tr(
                "Use {names}, a roll such as roll:610, or a size such as 610x1200.",
                names=", ".join(PAPERS),
            )
        )
    return own_paper(_mm(sides[0]), _mm(sides[1]))


def read_papers(text: str) -> tuple[Paper, ...]:
    """Read several papers, such as A4,Letter."""
    return tuple(read_paper(name.strip()) for name in text.split(","))


def read_folder(text: str) -> Path:
    """Read the name of a folder; an empty one is refused, not taken for the one in use."""
    if not text.strip():
        raise GeometryError(tr("Name a folder; a point is the one you are in."))
    return Path(text)


def read_length(text: str) -> Length:
    """Read a length."""
    return parse_length(text, "mm")


def read_lengths(text: str) -> tuple[Length, ...]:
    """Read one length or several, with commas between them; decimals have a point."""
    return tuple(parse_length(part, "mm") for part in text.split(","))


def read_day(text: str) -> str:
    """Read a day such as 2026-11-25."""
    if not is_day(text):
        raise GeometryError(tr("“{day}” is no day; write it as 2026-11-25.", day=text[:40]))
    return text


def read_date(text: str) -> date:
    """Read a day as a date."""
    day = date.fromisoformat(read_day(text))
    if found := day_fault(day):
        raise GeometryError("{} {}; {}.".format(tr("The day"), *found))
    return day


def read_weeks(text: str) -> int:
    """Read a number of weeks."""
    return Period(count=int(text) if text.isdecimal() and len(text) < 6 else 0).count


def read_border(text: str) -> float:
    """Read the white border."""
    return PageSetup(border_mm=_mm(text)).border_mm


def read_overlap(text: str) -> float:
    """Read the overlap of two pages."""
    return PageSetup(overlap_mm=_mm(text)).overlap_mm


def read_bars(text: str) -> tuple[float, float]:
    """Read what the bars measure across and along; return the factors that make it good."""
    bars = text.split(",")
    if len(bars) != 2:
        raise GeometryError(tr("Give both lengths, such as 99.6,100.2."))
    return correction(BAR_MM, _mm(bars[0])), correction(BAR_MM, _mm(bars[1]))


def read_pegs(text: str) -> tuple[float, float]:
    """Read how far the first hole of a perforated board is from its two edges."""
    places = text.split(",")
    if len(places) != 2:
        raise GeometryError(tr("Give both distances, such as 11/16 in,0.5 in."))
    found = _mm(places[0]), _mm(places[1])
    PageSetup(pegs=found)
    return found


def read_pages(text: str) -> frozenset[int]:
    """Read page numbers such as 1,3-5."""
    pages: set[int] = set()
    for part in text.replace("\N{EN DASH}", "-").split(","):
        first, _, last = part.partition("-")
        if not (first.strip().isdecimal() and (last or first).strip().isdecimal()):
            raise GeometryError(tr("Give page numbers such as 1,3-5."))
        span = range(int(first), int(last or first) + 1)
        if not span or span[0] < 1 or span[-1] > MOST_PAGES:
            raise GeometryError(tr("Give page numbers such as 1,3-5."))
        pages.update(span)
    return frozenset(pages)


def page_ranges(pages: Iterable[int]) -> str:
    """Write rising page numbers as ``read_pages`` reads them."""
    runs: list[tuple[int, int]] = []
    for page in pages:
        if runs and runs[-1][1] == page - 1:
            runs[-1] = runs[-1][0], page
        else:
            runs.append((page, page))
    return ", ".join(f"{one}" if one == last else f"{one}-{last}" for one, last in runs)


def read_dpi(text: str) -> int:
    """Read how many dots of a picture an inch takes."""
    least, most = DPI
    dots = int(text) if text.isdecimal() and len(text) < 6 else 0
    if not least <= dots <= most:
        raise GeometryError(
            tr("Give {least} to {most} dots per inch, such as 300.", least=least, most=most)
        )
    return dots


def _mm(text: str) -> float:
    return parse_length(text, "mm").mm
