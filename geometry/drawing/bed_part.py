"""The part of the cut sheet about one bed: its rafts in place, by name."""

from collections.abc import Iterator

import numpy as np

from geometry.drawing.bed_rows import bed_rows
from geometry.drawing.crop_marks import crop_words
from geometry.drawing.figures import by_text, figure, length_text
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_room, row_width, table, words
from geometry.drawing.lettering import clipped, name_list
from geometry.drawing.paper import Paper
from geometry.model.measure import bounds
from geometry.model.zone import Zone
from geometry.plan import BedPlan, Plan
from geometry.tongue import plural
from geometry.units import Unit

_MOST_RAFTS = 240


def bed_part(plan: Plan, bed: BedPlan, paper: Paper) -> Part:
    """Compose the part about one bed."""
    unit = plan.project.units
    room = row_width(paper)
    left, bottom, right, top = bounds(bed.layout.outline)
    inside = f"inside {by_text(right - left, top - bottom, unit)} {unit}"
    rows = [
        words(" ".join(_how_it_lies(bed, unit)), room),
        gap(2),
        *bed_rows(bed, unit, room, row_room(paper)),
        gap(1),
        *_obstacle_table(bed, unit),
        *_crop_table(bed, unit),
        *_raft_table(bed, unit, room),
    ]
    return Part(
        f"Bed {clipped(bed.bed.name)}",
        f"{plural(len(bed.rafts), 'raft')}, {plural(bed.plants, 'plant')}; {inside}; "
        f"{clipped(plan.project.name)}",
        tuple(rows),
        bookmark=f"Bed {clipped(bed.bed.name)}",
    )


def _how_it_lies(bed: BedPlan, unit: Unit) -> Iterator[str]:
    gaps = f"Gap to the wall {length_text(bed.bed.clearance.exact, unit)}"
    if len(bed.rafts) > 1:
        gaps += f", between rafts {length_text(bed.bed.joint_gap.exact, unit)}"
    yield (
        f"{gaps}. Figures run from the bed's datum corner, lower left, to the sides of the rafts. "
        "Lay each raft with its top face up."
    )
    if any(raft.turned for raft in bed.rafts):
        yield ("A raft marked ½ lies turned half round, its datum corner where the heavy angle is.")


def _obstacle_table(bed: BedPlan, unit: Unit) -> tuple[Row, ...]:
    obstacles = bed.bed.obstacles
    if not obstacles:
        return ()
    rows = table(
        (Column("obstacle", 70), Column(f"keeps rims away ({unit})", 60, "right")),
        [(obstacle.name, figure(obstacle.clearance.exact, unit)) for obstacle in obstacles],
    )
    return (*rows, gap())


def _crop_table(bed: BedPlan, unit: Unit) -> tuple[Row, ...]:
    """What grows where, with the saw for its holes; only where there is more than one kind."""
    if not bed.bed.zones and not bed.plugged:
        return ()
    counts = np.zeros(len(bed.plantings), np.int64)
    idle = counts.copy()
    for raft in bed.rafts:
        counts += raft.design.holes.count_by_planting(len(counts))
        idle += raft.design.holes.count_by_planting(len(counts), plugged=True)
    where = ["the bed" if not bed.bed.zones else "the rest", *map(_where, bed.bed.zones)]
    rows = table(
        (
            Column("planting", 44),
            Column("where", 50),
            Column("holes", 18, "right"),
            Column("plugged", 21, "right"),
            Column(f"spacing ({unit})", 32, "right"),
            Column("saw", 26, "right"),
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
    )
    return (heading("What grows where"), *rows, gap())


def _where(zone: Zone) -> str:
    return f"{zone.name}: {name_list(zone.rafts)}" if zone.rafts else f"{zone.name}, drawn dashed"


def _raft_table(bed: BedPlan, unit: Unit, room: float) -> tuple[Row, ...]:
    if len(bed.rafts) > _MOST_RAFTS:
        return (
            words(f"The {len(bed.rafts)} rafts are listed with their places in holes.csv.", room),
        )
    turned = any(raft.turned for raft in bed.rafts)
    rows = [
        (
            raft.name,
            raft.design.name,
            figure(raft.x, unit),
            figure(raft.y, unit),
            *(["half round" if raft.turned else ""] if turned else []),
        )
        for raft in bed.rafts
    ]
    columns = (
        Column("raft", 26),
        Column("made as", 60, keeps_end=True),
        Column(f"left side ({unit})", 36, "right"),
        Column(f"lower side ({unit})", 38, "right"),
        *([Column("turned", 24)] if turned else []),
    )
    return (heading("Rafts in the bed"), *table(columns, rows))
