"""The first pages of the cut sheet: what is made, out of what, and what to mind."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import astuple
from math import ceil

from geometry.cutting.plan import CutPlan
from geometry.drawing.cautions import CAUTIONS
from geometry.drawing.figures import by_text, diameter_text, figure, length_text
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_width, table, words
from geometry.drawing.lettering import clipped, name_list
from geometry.drawing.paper import Paper
from geometry.drawing.pattern_names import direction_name, pattern_name, rows_name
from geometry.drawing.text_width import missing_characters
from geometry.holes.place import Tried
from geometry.model.project import Details
from geometry.model.sheet import Sheet
from geometry.plan import BedPlan, Plan
from geometry.tongue import listed, number, plural, signed, tr, tr_n
from geometry.units import Unit, format_area, format_density

_TEXT_MM = 3.4
_CAUTION_MM = 3.7

"""What to mind at the bench and at the bed: head words and a short paragraph each."""


def overview_part(plan: Plan, paper: Paper) -> Part:
    """Compose the part that counts everything: beds, raft designs, sheets, patterns tried."""
    room = row_width(paper)
    rafts = sum(len(bed.rafts) for bed in plan.beds)
    counts = [
        plural(plan.plants, "plant"),
        plural(rafts, "raft"),
        tr_n("{n} sheet of foam", "{n} sheets of foam", plan.cut.sheet_count)
        if plan.cut.sheets
        else "",
    ]
    return Part(
        tr("Cut sheet: {name}", name=clipped(plan.project.name)),
        listed(text for text in counts if text),
        tuple(_overview_rows(plan, room)),
        bookmark=tr("Overview"),
    )


def cautions_part(plan: Plan, paper: Paper) -> Part:
    """Compose the cautions."""
    room = row_width(paper)
    rows: list[Row] = []
    for head, text in CAUTIONS:
        rows += [heading(tr(head)), words(tr(text), room, height=_CAUTION_MM), gap(0.8)]
    return Part(
        tr("Cautions"),
        tr("{name}: read before the first cut", name=clipped(plan.project.name)),
        tuple(rows),
        tr("Cautions"),
    )


def _details_rows(details: Details, room: float) -> Iterator[Row]:
    lines = [
        tr("Revision {revision}", revision=details.revision) if details.revision else "",
        tr("Of {date}", date=details.date) if details.date else "",
        tr("Drawn up by {author}", author=details.author) if details.author else "",
        *details.notes.splitlines(),
    ]
    told = [text for text in lines if text.strip()]
    for text in told:
        yield words(text, room, height=_TEXT_MM)
    if told:
        yield gap()


def _overview_rows(plan: Plan, room: float) -> Iterator[Row]:
    unit = plan.project.units
    yield from _details_rows(plan.project.details, room)
    yield heading(tr("Beds"))
    yield from table(
        (
            Column(tr("bed"), 46),
            Column(tr("rafts"), 15, "right"),
            Column(tr("plants"), 19, "right"),
            Column(tr("ceiling"), 19, "right"),
            Column(tr("density"), 31, "right"),
            Column(tr("water"), 28, "right"),
            Column(tr("open water"), 30, "right"),
        ),
        [_bed_cells(bed, unit) for bed in plan.beds],
    )
    yield words(
        f"{_ceiling_words(plan)} {tr('Open water is the share that no raft covers.')}",
        room,
        height=2.8,
    )
    yield gap()
    yield from _crop_rows(plan, room)
    yield from _design_rows(plan, unit, room)
    yield from _sheet_rows(plan, unit, room)
    yield from _tried_rows(plan, unit, room)
    yield from _finding_rows(plan, room)
    lacking = missing_characters(_names(plan))
    if lacking:
        text = tr(
            "Shown as □, because no font here has them: {characters}.",
            characters=", ".join(lacking).lower(),
        )
        yield words(text, room, height=2.8)


def _crop_rows(plan: Plan, room: float) -> Iterator[Row]:
    """Count the plants of each crop, where a bed has several or some holes are plugged."""
    several = any(len(bed.crops) > 1 or bed.plugged for bed in plan.beds)
    if not several:
        return
    yield heading(tr("Crops"))
    yield from table(
        (
            Column(tr("bed"), 46),
            Column(tr("crop"), 60),
            Column(tr("holes"), 22, "right"),
            Column(tr("in use now"), 30, "right"),
            Column(tr("plugged"), 30, "right"),
        ),
        [
            (
                bed.bed.name,
                tr(crop.crop) or tr("no crop named"),
                f"{crop.plants}",
                f"{crop.plants - crop.plugged}",
                f"{crop.plugged}",
            )
            for bed in plan.beds
            for crop in bed.crops
        ],
        room=room,
    )
    yield gap()


def _ceiling_words(plan: Plan) -> str:
    """Say what the ceiling is, and whether it is reached."""
    proofs = [bed.proof for bed in plan.beds if bed.proof is not None]
    said = (
        tr(
            "The ceiling is a proved bound: no arrangement on rafts all alike can hold more plants "
            "in that bed."
        )
        if proofs and all(proof.alike for proof in proofs)
        else tr("The ceiling is a proved bound: no arrangement can hold more plants in that bed.")
    )
    full = sum(proof.kind == "full" for proof in proofs)
    if not full:
        return said
    if full == len(plan.beds):
        return f"{said} {tr('It is reached.')}"
    return f"{said} {tr('It is reached in {full} of the beds.', full=full)}"


def _bed_cells(bed: BedPlan, unit: Unit) -> tuple[str, ...]:
    return (
        bed.bed.name,
        f"{len(bed.rafts)}",
        f"{bed.plants}",
        "" if bed.ceiling is None else f"{bed.ceiling}",
        format_density(bed.density_per_m2, unit),
        format_area(bed.area_mm2, unit),
        signed(f"{bed.open_water_share:.1%}"),
    )


def _design_rows(plan: Plan, unit: Unit, room: float) -> Iterator[Row]:
    cells = []
    for bed in plan.beds:
        for design in bed.designs:
            names = [raft.name for raft in bed.rafts if raft.design.name == design.name]
            shape, holes = design.shape, design.holes
            cells.append(
                (
                    design.name,
                    f"{len(names)}",
                    by_text(shape.length, shape.width, unit),
                    f"{len(holes)}",
                    _hole_sizes(holes.diameters.tolist(), unit),
                    name_list(names),
                )
            )
    yield heading(tr("Rafts to make"))
    yield from table(
        (
            Column(tr("raft design"), 44, keeps_end=True),
            Column(tr("times"), 13, "right"),
            Column(tr("size ({unit})", unit=unit), 42, "right"),
            Column(tr("holes"), 14, "right"),
            Column(tr("hole size"), 35),
            Column(tr("rafts"), 42),
        ),
        cells,
        room=room,
    )
    yield gap()


def _hole_sizes(diameters: list[float], unit: Unit) -> str:
    return ", ".join(diameter_text(size, unit) for size in sorted(set(diameters)))


def _sheet_rows(plan: Plan, unit: Unit, room: float) -> Iterator[Row]:
    if not plan.project.sheets:
        return
    yield heading(tr("Foam to buy or to take from stock"))
    counts: Counter[Sheet] = Counter()
    for cut in plan.cut.sheets:
        counts[cut.sheet] += cut.copies
    priced = any(sheet.price is not None for sheet in counts)
    yield from table(
        (
            Column(tr("sheet"), 66),
            Column(tr("sheets"), 18, "right"),
            Column("", 24),
            Column(tr("size ({unit})", unit=unit), 44, "right"),
            Column(tr("each") if priced else "", 18, "right"),
            Column(tr("together") if priced else "", 20, "right"),
        ),
        [_sheet_cells(sheet, count, unit) for sheet, count in counts.items()],
    )
    if plan.cut.sheets:
        yield words(f"{_cut_words(plan.cut)}.", room)
    for design, count in plan.cut.unplaced:
        yield words(
            tr(
                "No sheet on hand holds {count} of {design}.",
                count=plural(count, "raft"),
                design=design,
            ),
            room,
        )
    yield gap()


def _sheet_cells(sheet: Sheet, count: int, unit: Unit) -> tuple[str, ...]:
    price = None if sheet.offcut else sheet.price
    return (
        sheet.name,
        f"{count}",
        tr("on hand") if sheet.offcut else "",
        by_text(sheet.length.exact, sheet.width.exact, unit),
        "" if price is None else number(float(price), 2),
        "" if price is None else number(float(price * count), 2),
    )


def _cut_words(cut: CutPlan) -> str:
    """Say how much foam the plan takes and what is proved about it."""
    count = cut.bought_count
    costs = cut.aim == "cost" and cut.cost is not None
    words_now = plural(count, "sheet") if count else tr("Nothing is bought")
    if cut.cost:
        words_now = tr("{sheets} for {cost}", sheets=words_now, cost=number(float(cut.cost), 2))
    if not count or cut.bound is None:
        proof = ""
    elif cut.proved:
        proof = tr("no plan costs less") if costs else tr("no plan needs fewer")
    elif costs:
        proof = tr(
            "between {bound} and {cost} has to be spent",
            bound=number(float(cut.bound), 2),
            cost=number(float(cut.cost or 0), 2),
        )
    else:
        proof = tr(
            "between {bound} and {count} sheets are needed", bound=ceil(cut.bound), count=count
        )
    waste = tr("{share} of the foam becomes no raft", share=f"{cut.waste_share:.0%}")
    return "; ".join(filter(None, (words_now, proof, waste)))


def _tried_rows(plan: Plan, unit: Unit, room: float) -> Iterator[Row]:
    for bed in plan.beds:
        planting = bed.bed.planting
        if planting is None or not bed.tried:
            continue
        yield heading(
            tr("Patterns tried in {name}, the one that is used first", name=clipped(bed.bed.name)),
            room,
        )
        yield words(
            tr(
                "{crop} at {spacing} or more from each other; pitch and row gap are as "
                "used after the pattern was spread.",
                crop=tr(planting.crop) or tr("Plants"),
                spacing=length_text(planting.spacing.exact, unit),
            ),
            room,
            height=2.8,
        )
        yield from table(
            (
                Column(tr("pattern"), 40),
                Column(tr("rows"), 26),
                Column(tr("plants"), 22, "right"),
                Column(tr("pitch ({unit})", unit=unit), 30, "right"),
                Column(tr("row gap ({unit})", unit=unit), 32, "right"),
            ),
            [
                (
                    pattern_name(tried.pattern),
                    direction_name(tried.direction),
                    f"{tried.plants}",
                    figure(tried.pitch_mm, unit),
                    figure(tried.row_gap_mm, unit),
                )
                for tried in better_ways(bed)
            ],
        )
        yield from _zone_rows(bed, unit, room)
        yield gap()


def better_ways(bed: BedPlan) -> tuple[Tried, ...]:
    """Each pattern that was tried in the way in which it holds most, the winner first."""
    best: dict[str, Tried] = {}
    for tried in bed.tried:
        best.setdefault(tried.pattern, tried)
    return tuple(best.values())


def _zone_rows(bed: BedPlan, unit: Unit, room: float) -> Iterator[Row]:
    """Say what pattern each zone got."""
    for zone, planting, tried in zip(
        bed.bed.zones, bed.plantings[1:], bed.by_planting[1:], strict=False
    ):
        if tried is not None:
            yield words(
                tr(
                    "Zone {name}: {crop}, {rows}, {plants}, pitch {pitch}, row gap "
                    "{row_gap}; unlike crops keep the mean of their spacings.",
                    name=clipped(zone.name),
                    crop=tr(planting.crop) or tr("plants"),
                    rows=rows_name(tried.pattern, tried.direction),
                    plants=plural(tried.plants, "plant"),
                    pitch=length_text(tried.pitch_mm, unit),
                    row_gap=length_text(tried.row_gap_mm, unit),
                ),
                room,
                height=2.8,
            )


def _finding_rows(plan: Plan, room: float) -> Iterator[Row]:
    problems = sum(finding.severity == "problem" for finding in plan.findings)
    if problems:
        yield heading(tr("Before you cut"))
        yield words(
            tr(
                "The program found {problems} in this plan. Look at the findings before "
                "the first cut.",
                problems=plural(problems, "problem"),
            ),
            room,
        )


def _names(plan: Plan) -> str:
    names = [plan.project.name, *astuple(plan.project.details)]
    for bed in plan.beds:
        names.append(bed.bed.name)
        names += [obstacle.name for obstacle in bed.bed.obstacles]
        names += [planting.crop for planting in bed.plantings]
        names += [zone.name for zone in bed.bed.zones]
    return " ".join([*names, *(cut.sheet.name for cut in plan.cut.sheets)])
