"""The test coupon: three holes of neighbouring sizes at true size, to be drilled in an offcut."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from geometry.afloat.pots import Pot
from geometry.afloat.saws import USUAL_SAWS, SawFit, best_saw, fit_of, neighbours, saw_text
from geometry.drawing.check_figures import FOUR_INCHES_MM, bar_name, inch_bar, metric_bar
from geometry.drawing.flow import Part, Row, heading, paginate, part_page, row_width, words
from geometry.drawing.lettering import clipped, fitting_height, line, paragraph
from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, frame, stroke
from geometry.drawing.paper import Page, PageSetup, Picture
from geometry.drawing.raft import pilot_mark
from geometry.drawing.seat_rows import Potted, own_saw, potted_in
from geometry.drawing.seat_words import seat_words
from geometry.drawing.styles import Style
from geometry.drawing.template_set import PRINT_WORDS
from geometry.model.curves import Point
from geometry.plan import Plan
from geometry.tongue import mark, tr
from geometry.units import Length, Unit

_TITLE_MM: Final = 5.0
_HEAD_MM: Final = 3.4
_TEXT_MM: Final = 3.1
_ROW_MM: Final = 9.0
_TICK_MM: Final = 4.5
_SIDE_MM: Final = 8.0
_FOOT_MM: Final = 9.0
_WEB_MM: Final = 15.0
"""Foam that is left between the holes of a coupon, and round them (common practice, no source)."""

_LETTERS: Final = ("a", "b", "c")
_STEPS: Final = (
    mark(
        "Take an offcut of the foam that the rafts are cut from, as thick. Lay this page on it and "
        "prick the centres."
    ),
    mark(
        "Drill each hole with the saw named at it, in the way the rafts are to be drilled. Mask "
        "and eye protection on, the offcut clamped, no gloves near a spinning saw, away from the "
        "water."
    ),
    mark(
        "Push a pot into one after the other, wet and as heavy as it will be, and shake it a "
        "little. Drops through, wobbles, light shows past it: the hole is too wide. Stands above "
        "the foam: too narrow. Right is the hole where the whole rim lies on the foam and which "
        "lets the pot out by hand."
    ),
    mark(
        "Measure the holes too. What they are wider than the saw belongs to Holes, Pot, “Holes "
        "come out wider by”."
    ),
)


@dataclass(frozen=True, slots=True)
class Trial:
    """One hole of a coupon: its letter, and what the saw is expected to do."""

    letter: str
    fit: SawFit


@dataclass(frozen=True, slots=True)
class Coupon:
    """The holes to try for one pot, the smallest first, and where the pot is wanted."""

    pot: str
    measured: Pot
    trials: tuple[Trial, ...]
    wanted: Length


@dataclass(frozen=True, slots=True)
class CouponDocument:
    """A page for each pot and hole of a plan, more where the holes are too wide for one page."""

    plan: Plan
    setup: PageSetup
    sheets: tuple[tuple[Coupon, tuple[tuple[Trial, Point], ...]], ...]

    @property
    def total(self) -> int:
        """How many pages there are."""
        return len(self.sheets) or 1

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another; with ``only``, those of these numbers, from 1."""
        if not self.sheets:
            if only is None or 1 in only:
                yield _no_pot(self.plan, self.setup)
            return
        for number, (coupon, holes) in enumerate(self.sheets, start=1):
            if only is None or number in only:
                yield _page(self, coupon, holes, number)


def lay_coupon(plan: Plan, setup: PageSetup) -> CouponDocument:
    """Decide which holes are tried for the pots of a plan, and on which page."""
    sheets = [
        (coupon, holes)
        for coupon in coupons_of(plan)
        for holes in _laid(coupon, _room(setup, coupon, plan.project.units))
    ]
    return CouponDocument(plan, setup, tuple(sheets))


def coupons_of(plan: Plan) -> tuple[Coupon, ...]:
    """Return one coupon for each pot and hole that the plan has."""
    found: dict[tuple[str, Length], Coupon] = {}
    for potted in potted_in(plan):
        coupon = _coupon(plan, potted)
        found.setdefault((coupon.pot, coupon.wanted), coupon)
    return tuple(found.values())


def _coupon(plan: Plan, potted: Potted) -> Coupon:
    """Try the saw wanted, the next smaller and the next larger one.

    Wanted is the saw of the holes as they are planned; one that suits, if the pot sits badly.
    """
    supplies, wobble = plan.project.supplies, plan.project.allowances.wobble.mm
    hole = potted.planting.hole_diameter
    wanted = own_saw(plan, hole) or hole
    if not potted.seated.is_good:
        best = best_saw(potted.pot, supplies.saws, wobble)
        wanted = best.saw if best is not None else wanted
    sizes = [size for size in neighbours(wanted, supplies.saws) if size is not None]
    trials = tuple(
        Trial(letter, fit_of(potted.pot, size, wobble, is_own=size in supplies.saws))
        for letter, size in zip(_LETTERS, sizes, strict=False)
    )
    return Coupon(potted.name, potted.pot, trials, wanted)


def _room(setup: PageSetup, coupon: Coupon, unit: Unit) -> Box:
    """The part of a page below its words in which the holes may lie."""
    border = setup.border
    _, low = _words(setup, coupon, unit)
    return Box(border + _SIDE_MM, border + _FOOT_MM, setup.width_mm - border, low - 3.0)


def _laid(coupon: Coupon, room: Box) -> Iterator[tuple[tuple[Trial, Point], ...]]:
    """Lay the holes in a row, or two above one, or each on a page of its own."""
    trials = coupon.trials
    for places in (_in_a_row(trials, room), _in_two_rows(trials, room)):
        if places is not None:
            yield tuple(zip(trials, places, strict=True))
            return
    for trial in trials:
        if trial.fit.saw.mm <= min(room.width, room.height):
            yield ((trial, _middle(room)),)


def _in_a_row(trials: Sequence[Trial], room: Box) -> tuple[Point, ...] | None:
    sizes = [trial.fit.saw.mm for trial in trials]
    wide = sum(sizes) + _WEB_MM * (len(sizes) + 1)
    high = max(sizes) + 2 * _WEB_MM
    if wide > room.width or high > room.height:
        return None
    at = (room.left + room.right - wide) / 2 + _WEB_MM + sizes[0] / 2
    places = [at]
    for one, other in pairwise(sizes):
        at += (one + other) / 2 + _WEB_MM
        places.append(at)
    y = room.top - high / 2
    return tuple(Point(x, y) for x in places)


def _in_two_rows(trials: Sequence[Trial], room: Box) -> tuple[Point, ...] | None:
    sizes = [trial.fit.saw.mm for trial in trials]
    if len(sizes) < 3:
        return None
    upper = _in_a_row(trials[:2], room)
    lower = _in_a_row(trials[2:], room)
    high = max(sizes[:2]) + sizes[2] + 3 * _WEB_MM
    if upper is None or lower is None or high > room.height:
        return None
    y = room.top - max(sizes[:2]) - 2 * _WEB_MM - sizes[2] / 2
    return (*upper, Point(lower[0].x, y))


def _middle(room: Box) -> Point:
    return Point((room.left + room.right) / 2, (room.bottom + room.top) / 2)


def _page(
    document: CouponDocument,
    coupon: Coupon,
    holes: Sequence[tuple[Trial, Point]],
    number: int,
) -> Page:
    setup, unit = document.setup, document.plan.project.units
    head, _ = _words(setup, coupon, unit)
    title = tr("Test coupon: {pot}", pot=clipped(coupon.pot))
    border = setup.border
    pages = tr("page {number} of {total}", number=number, total=document.total)
    name = clipped(document.plan.project.name)
    marks = (
        *head,
        line(setup.width_mm - border, border + 2, f"{name}, {pages}", 2.6, anchor="right",
             room=(setup.width_mm - FOUR_INCHES_MM) / 2 - border - 4),
    )  # fmt: skip
    return Page(
        setup.width_mm,
        setup.height_mm,
        tr("{title}, page {number}", title=title, number=number),
        (
            Picture(
                Drawing((
                    Group("head", marks),
                    Group("check-bars", tuple(_bars(setup, unit))),
                    Group("coupon", tuple(_holes(holes))),
                ))
            ),
        ),
        bookmark=title,
        stretch=(setup.across, setup.along),
    )  # fmt: skip


def _holes(holes: Sequence[tuple[Trial, Point]]) -> Iterator[Mark]:
    """Draw the offcut and the holes in it, each with its letter and its centre."""
    reach = [(at, trial.fit.saw.mm / 2 + _WEB_MM) for trial, at in holes]
    yield frame(
        Box(
            min(at.x - by for at, by in reach), min(at.y - by for at, by in reach),
            max(at.x + by for at, by in reach), max(at.y + by for at, by in reach),
        ),
        Style.RAFT,
    )  # fmt: skip
    for trial, at in holes:
        radius = trial.fit.saw.mm / 2
        yield Circle(at, radius, Style.HOLE)
        yield from pilot_mark(at, radius)
        yield line(at.x - radius, at.y + radius + 1.5, trial.letter, 6.0, style=Style.TITLE)


def _words(setup: PageSetup, coupon: Coupon, unit: Unit) -> tuple[tuple[Mark, ...], float]:
    """Write what the page is for, what to do, and what is expected of each hole."""
    border = setup.border
    left, room = border, setup.width_mm - 2 * border
    top = setup.height_mm - border
    title = tr("Test coupon: {pot}", pot=clipped(coupon.pot))
    drawn: list[Mark] = []
    size = fitting_height(title, _TITLE_MM, room, bold=True)
    drawn.append(line(left, top - _TITLE_MM, title, size, style=Style.TITLE, room=room))
    at = top - _TITLE_MM - 2.0
    lines, at = paragraph(left, at, f"{setup.words} {tr(PRINT_WORDS)}.", _TEXT_MM, room)
    drawn += lines
    at -= 1.5
    for number, text in enumerate(_STEPS, start=1):
        drawn.append(line(left, at - _TEXT_MM, f"{number}", _HEAD_MM, style=Style.TITLE))
        lines, at = paragraph(left + 6.0, at, tr(text), _TEXT_MM, room - 6.0)
        drawn += lines
        at -= 0.8
    at -= 1.0
    for trial in coupon.trials:
        drawn += _trial_row(trial, coupon, unit, left, at, room)
        at -= _ROW_MM
    return tuple(drawn), at


def _trial_row(
    trial: Trial, coupon: Coupon, unit: Unit, left: float, top: float, room: float
) -> Iterator[Mark]:
    """Write a saw, whose it is, what is expected, and a box to tick for the one that suits."""
    fit = trial.fit
    size = saw_text(fit.saw, unit)
    whose = tr("as planned")
    if fit.is_own:
        whose = tr("yours")
    elif fit.saw in USUAL_SAWS:
        whose = tr("a usual size, from memory")
    if fit.saw == coupon.wanted:
        whose = tr("the one wanted; {whose}", whose=whose)
    low = top - _HEAD_MM - 0.6
    yield frame(Box(left + room - _TICK_MM, low - 1.0, left + room, low - 1.0 + _TICK_MM),
                Style.FRAME)  # fmt: skip
    yield line(left, low - 2.2, trial.letter, 5.0, style=Style.TITLE)
    wide = room - _TICK_MM - 10.0
    head = tr("Saw of {saw} ({whose})", saw=size, whose=whose)
    yield line(left + 6.0, low, head, fitting_height(head, _HEAD_MM, wide, bold=True),
               style=Style.TITLE, room=wide)  # fmt: skip
    expected = tr("expected: {seat}", seat=seat_words(fit.seated))
    yield line(left + 6.0, low - 4.2, expected, _TEXT_MM, room=wide)
    yield stroke(Point(left, low - 5.4), Point(left + room, low - 5.4), Style.RULE)


def _bars(setup: PageSetup, unit: Unit) -> Iterator[Mark]:
    """Draw a bar each way in the grower's unit."""
    bar, name, length = (
        (inch_bar, "4 in", FOUR_INCHES_MM) if unit == "in" else (metric_bar, "100 mm", 100.0)
    )
    border = setup.border
    for start, upright in (
        (Point((setup.width_mm - length) / 2, border + 4), False),
        (Point(border + 3, border + 12), True),
    ):
        yield from bar(start, upright=upright)
        yield bar_name(start, name, upright=upright)


def _no_pot(plan: Plan, setup: PageSetup) -> Page:
    """Say what to do where no pot is named."""
    paper = setup.true
    room = row_width(paper)
    rows: tuple[Row, ...] = (
        heading(tr("No pot is named yet"), room),
        words(
            tr(
                "A coupon tries three neighbouring saws in an offcut, before a raft is drilled. "
                "Measure a pot at Holes, under Pot, and name it for a bed or a zone."
            ),
            room,
        ),
    )
    title = tr("Test coupon")
    part = Part(title, clipped(plan.project.name), rows, title)
    page = part_page(part, paginate(part, paper)[0], paper, place=0, number=1, total=1)
    return replace(page, stretch=(setup.across, setup.along))
