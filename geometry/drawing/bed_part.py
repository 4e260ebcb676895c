"""The part of the cut sheet about one bed: its rafts in place, by name."""

from collections.abc import Iterator

import numpy as np

from geometry.drawing.afloat_rows import afloat_rows
from geometry.drawing.bed import obstacle_loops
from geometry.drawing.bed_rows import bed_rows
from geometry.drawing.crop_marks import crop_words
from geometry.drawing.figures import UNIT_WORDS, by_text, figure, length_text
from geometry.drawing.fit_figures import fit_in, fit_lines
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_room, row_width, table, words
from geometry.drawing.lettering import clipped, name_list
from geometry.drawing.paper import Paper
from geometry.drawing.water_figures import fact_rows, volumes_in
from geometry.model.measure import bounds
from geometry.model.zone import Zone
from geometry.plan import BedPlan, Plan
from geometry.tongue import plural, tr
from geometry.units import Unit

_MOST_RAFTS = 240
_WORDS_MM = 3.8
_TABLE_MM = 4.0


def bed_part(plan: Plan, bed: BedPlan, paper: Paper) -> Part:
    """Compose the part about one bed."""
    unit = plan.project.units
    room = row_width(paper)
    left, bottom, right, top = bounds(bed.layout.outline)
    inside = tr("inside {size} {unit}", size=by_text(right - left, top - bottom, unit), unit=unit)
    rows = [
        words(" ".join(_how_it_lies(bed, unit)), room, height=_WORDS_MM),
        gap(2),
        *bed_rows(bed, unit, room, row_room(paper)),
        gap(1),
        *_obstacle_table(bed, unit),
        *_crop_table(bed, unit, room),
        *_fit(plan, bed, room),
        *_water(plan, bed, room),
        *afloat_rows(plan, bed, room),
        *_raft_table(bed, unit, room),
    ]
    return Part(
        tr("Bed {name}", name=clipped(bed.bed.name)),
        tr(
            "{rafts}, {plants}; {inside}; {project}",
            rafts=plural(len(bed.rafts), "raft"),
            plants=plural(bed.plants, "plant"),
            inside=inside,
            project=clipped(plan.project.name),
        ),
        tuple(rows),
        bookmark=tr("Bed {name}", name=clipped(bed.bed.name)),
    )


def _how_it_lies(bed: BedPlan, unit: Unit) -> Iterator[str]:
    wall = length_text(bed.bed.clearance.exact, unit)
    if len(bed.rafts) > 1:
        joint = length_text(bed.bed.joint_gap.exact, unit)
        yield tr("Gap to the wall {wall}, between rafts {joint}.", wall=wall, joint=joint)
    else:
        yield tr("Gap to the wall {wall}.", wall=wall)
    yield tr(
        "Figures run from the bed's datum corner, lower left, to the sides of the rafts. "
        "Lay each raft with its top face up."
    )
    if any(raft.turned for raft in bed.rafts):
        yield tr(
            "A raft marked ½ lies turned half round, its datum corner where the heavy angle is."
        )


def _obstacle_table(bed: BedPlan, unit: Unit) -> tuple[Row, ...]:
    """Say where each obstacle lies, by the number that it has in the drawing."""
    obstacles = list(obstacle_loops(bed.bed))
    if not obstacles:
        return ()
    boxes = [bounds(loop) for _, loop in obstacles]
    rows = table(
        (
            Column(tr("obstacle"), 58),
            Column(tr("left side"), 28, "right"),
            Column(tr("lower side"), 30, "right"),
            Column(tr("size"), 38, "right"),
            Column(tr("rims keep off"), 36, "right"),
        ),
        [
            (
                f"{number}  {obstacle.name}",
                figure(left, unit),
                figure(bottom, unit),
                by_text(right - left, top - bottom, unit),
                figure(obstacle.clearance.exact, unit),
            )
            for number, ((obstacle, _), (left, bottom, right, top)) in enumerate(
                zip(obstacles, boxes, strict=True), start=1
            )
        ],
        height=_TABLE_MM,
    )
    return (heading(tr("Obstacles, in {unit}", unit=tr(UNIT_WORDS[unit]))), *rows, gap())


def _crop_table(bed: BedPlan, unit: Unit, room: float) -> tuple[Row, ...]:
    """What grows where, with the saw for its holes; only where there is more than one kind."""
    if not bed.bed.zones and not bed.plugged:
        return ()
    counts = np.zeros(len(bed.plantings), np.int64)
    idle = counts.copy()
    for raft in bed.rafts:
        counts += raft.design.holes.count_by_planting(len(counts))
        idle += raft.design.holes.count_by_planting(len(counts), plugged=True)
    where = [tr("the bed") if not bed.bed.zones else tr("the rest"), *map(_where, bed.bed.zones)]
    rows = table(
        (
            Column(tr("planting"), 44),
            Column(tr("where"), 50),
            Column(tr("holes"), 18, "right"),
            Column(tr("plugged"), 21, "right"),
            Column(tr("spacing ({unit})", unit=unit), 32, "right"),
            Column(tr("saw"), 26, "right"),
        ),
        [
            (
                crop_words(planting, number),
                where[number],
                f"{count}",
                f"{plugged}" if plugged else "",
                figure(planting.spacing.exact, unit),
                figure(planting.hole_diameter.exact, unit),
            )
            for number, (planting, count, plugged) in enumerate(
                zip(bed.plantings, counts.tolist(), idle.tolist(), strict=True)
            )
        ],
        room=room,
    )
    return (heading(tr("What grows where")), *rows, gap())


def _fit(plan: Plan, bed: BedPlan, room: float) -> tuple[Row, ...]:
    """A line for each level of the water, where the grower gave more than the gaps; lifting."""
    fit = fit_in(plan, bed)
    if fit is None:
        return ()
    rows = [words(text, room, height=_WORDS_MM) for text in fit_lines(plan, bed)]
    return (heading(tr("Room of the rafts")), *rows, gap(1.5)) if rows else ()


def _water(plan: Plan, bed: BedPlan, room: float) -> tuple[Row, ...]:
    """Say how much water the bed holds; nothing while its depth is not known."""
    facts = tuple(fact_rows(plan, bed, room)) if volumes_in(plan, bed) is not None else ()
    return (heading(tr("Water")), *facts) if facts else ()


def _where(zone: Zone) -> str:
    return (
        f"{zone.name}: {name_list(zone.rafts)}"
        if zone.rafts
        else tr("{name}, drawn dashed", name=zone.name)
    )


def _raft_table(bed: BedPlan, unit: Unit, room: float) -> tuple[Row, ...]:
    if len(bed.rafts) > _MOST_RAFTS:
        return (
            words(
                tr(
                    "The {count} rafts are listed with their places in holes.csv.",
                    count=len(bed.rafts),
                ),
                room,
            ),
        )
    turned = any(raft.turned for raft in bed.rafts)
    rows = [
        (
            raft.name,
            raft.design.name,
            figure(raft.x, unit),
            figure(raft.y, unit),
            *([tr("half round") if raft.turned else ""] if turned else []),
        )
        for raft in bed.rafts
    ]
    columns = (
        Column(tr("raft"), 24),
        Column(tr("made as"), 62, keeps_end=True),
        Column(tr("left side ({unit})", unit=unit), 36, "right"),
        Column(tr("lower side ({unit})", unit=unit), 40, "right"),
        *([Column(tr("turned"), 28)] if turned else []),
    )
    return (heading(tr("Rafts in the bed")), *table(columns, rows, height=_TABLE_MM))
