"""Pages of a comparison as it was worked out: choices side by side, how far lengths may go, curve.

Unlike the part of the cut sheet, which compares what is soon counted, this lays out what is known.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from geometry.compare.choices import ChoiceResult
from geometry.compare.comparison import Comparison
from geometry.compare.thresholds import fine_step
from geometry.drawing.compare_part import curve_row, threshold_table
from geometry.drawing.cut_sheet import CutSheetDocument
from geometry.drawing.figures import UNIT_WORDS, figure, length_text, weight_text
from geometry.drawing.flow import (
    Column,
    Part,
    Row,
    gap,
    heading,
    paginate,
    row_width,
    table,
    together,
    words,
)
from geometry.drawing.lettering import clipped
from geometry.drawing.paper import COMMON, Paper
from geometry.drawing.pattern_names import pattern_name, rows_name
from geometry.model.project import Project
from geometry.tongue import number, tr
from geometry.units import Unit, format_density

Compared = Sequence[tuple[str, Comparison]]
"""Comparisons with the names of their beds."""

_SMALL_MM: Final = 2.8
_MOST_ENDS: Final = 24
"""A curve of more steps has no room for its figures and is left out."""


def lay_comparison(project: Project, compared: Compared, paper: Paper = COMMON) -> CutSheetDocument:
    """Decide what is on which page; beds of which nothing is known are left out."""
    room = row_width(paper)
    rows: list[Row] = []
    for bed, comparison in compared:
        if comparison.results:
            own = _bed_rows(bed, comparison, project.units, room)
            rows += [*([gap(4)] if rows else []), *own]
    if not rows:
        rows = [words(tr("No bed is planted; there is nothing to compare."), room)]
    part = Part(
        tr("What if"),
        tr("{name}: other choices, and where plants are won or lost", name=clipped(project.name)),
        tuple(rows),
        bookmark=tr("What if"),
    )
    return CutSheetDocument(paper, ((part, paginate(part, paper)),))


def _bed_rows(bed: str, comparison: Comparison, unit: Unit, room: float) -> Iterator[Row]:
    yield heading(tr("{name}: choices side by side", name=clipped(bed)), room)
    planting = comparison.results[0].planting
    if planting.pins or planting.blanks:
        yield words(
            tr("Lengths and curve are counted without the holes placed or left out by hand."),
            room,
            height=_SMALL_MM,
        )
    yield words(
        tr("Spacing, edge and least foam in {unit}.", unit=tr(UNIT_WORDS[unit])),
        room,
        height=_SMALL_MM,
    )
    if not comparison.is_complete:
        yield words(tr("The comparison was not finished."), room, height=_SMALL_MM)
    yield from table(
        (
            Column(tr("choice"), 31),
            Column(tr("rows"), 42),
            Column(tr("spacing"), 24, "right"),
            Column(tr("edge"), 16, "right"),
            Column(tr("plants"), 16, "right"),
            Column("", 12, "right"),
            Column(tr("density"), 24, "right"),
            Column(tr("least foam"), 25, "right"),
        ),
        [
            _cells(result, comparison.results[0], is_now=not number_, unit=unit)
            for number_, result in enumerate(comparison.results)
        ],
    )
    yield from _outcome_rows(comparison.results, unit, room)
    if comparison.thresholds:
        yield gap(2)
        yield heading(tr("How far each length may go"))
        yield from together(threshold_table(comparison.thresholds, unit))
    own = comparison.series.get(planting.pattern, ())
    if 1 < len(own) <= _MOST_ENDS:
        yield gap(2)
        yield curve_row(own, planting.spacing.mm, unit, room, fine_step(unit))


def _outcome_rows(results: Sequence[ChoiceResult], unit: Unit, room: float) -> Iterator[Row]:
    """How leaves close over the water and how the heaviest raft rides, where that is known."""
    if all(result.growing is None and result.afloat is None for result in results):
        return
    yield gap(2)
    yield heading(tr("Leaves, and foam above the water"), room)
    yield words(
        tr(
            "Days count from planting onto the water; at 98 % of the water covered plants are best "
            "moved apart. Freeboard and weight are those of the heaviest raft at harvest."
        ),
        room,
        height=_SMALL_MM,
    )
    yield from table(
        (
            Column(tr("choice"), 41),
            Column(tr("spacing"), 24, "right"),
            Column(tr("leaves touch"), 26, "right"),
            Column(tr("covered at harvest"), 32, "right"),
            Column(tr("98 % covered"), 26, "right"),
            Column(tr("freeboard"), 22, "right"),
            Column(tr("to lift"), 19, "right"),
        ),
        [
            _outcome_cells(result, is_now=not number_, unit=unit)
            for number_, result in enumerate(results)
        ],
    )


def _outcome_cells(result: ChoiceResult, *, is_now: bool, unit: Unit) -> tuple[str, ...]:
    leaves, ride = result.growing, result.afloat
    days = ("", "", "")
    if leaves is not None:
        touch, move = (
            tr("never") if day is None else tr("day {day}", day=day)
            for day in (leaves.touch_day, leaves.respace_day)
        )
        share = leaves.at_harvest
        days = touch, "" if share is None else tr("{n} %", n=number(int(share * 100 + 1e-9))), move
    return (
        _name(result, is_now=is_now),
        figure(result.planting.spacing.exact, unit),
        *days,
        "" if ride is None else length_text(ride.harvest.floating.freeboard, unit),
        "" if ride is None else weight_text(ride.harvest.lift, unit),
    )


def _name(result: ChoiceResult, *, is_now: bool) -> str:
    own = tr("as it stands") if is_now else result.choice.name
    return own or pattern_name(result.planting.pattern)


def _cells(result: ChoiceResult, now: ChoiceResult, *, is_now: bool, unit: Unit) -> tuple[str, ...]:
    more = result.plants - now.plants
    foam = result.least_web_mm
    return (
        _name(result, is_now=is_now),
        rows_name(result.pattern, result.direction),
        figure(result.planting.spacing.exact, unit),
        figure(result.planting.edge_margin.exact, unit),
        number(result.plants),
        "" if is_now or not more else f"{more:+d}",
        format_density(result.density_per_m2, unit),
        "" if foam is None else figure(max(foam, 0.0), unit),
    )
