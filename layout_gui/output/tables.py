"""The hole table and the summary: plain text that other programs read."""

import csv
import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from fractions import Fraction
from typing import TextIO

import numpy as np
from numpy.typing import NDArray

from geometry.afloat.riding import Afloat, lift_of
from geometry.checks.floats import weakest_of
from geometry.checks.levels import widest_opening
from geometry.compare.choices import ChoiceResult
from geometry.compare.comparison import Comparison
from geometry.compare.growing import Growing
from geometry.compare.yields import grams_at_choices
from geometry.cutting.cuts import kept_offcuts
from geometry.drawing.stamp import design_code
from geometry.drawing.text_width import harmless
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft, Plan, RaftDesign
from geometry.units import MM_PER
from layout_gui.output.pot_summary import pot_summary
from layout_gui.output.run_table import runs_summary

HEADER = (
    "bed",
    "raft",
    "hole",
    "crop",
    "x_mm",
    "y_mm",
    "diameter_mm",
    "bed_x_mm",
    "bed_y_mm",
)
"""The columns of ``holes.csv``, in order."""

_FORMULA_SIGNS = tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20")
_SQUARE_FEET_PER_M2 = 1e6 / float(MM_PER["ft"]) ** 2


def write_holes(plan: Plan, stream: TextIO) -> Iterator[int]:
    """Write one row for every hole of every placed raft; yield the rows written, raft by raft.

    Nothing is written unless the result is consumed. Places are in millimetres with three to six
    decimals. A name that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(HEADER)
    written = 0
    for bed in plan.beds:
        crops = [plain(planting.crop) for planting in bed.plantings]
        columns = {id(design): _design_columns(design) for design in bed.designs}
        for raft in bed.rafts:
            names, xs, ys, diameters, numbers = columns[id(raft.design)]
            bed_x, bed_y = _bed_columns(raft)
            count = len(names)
            table.writerows(
                zip(
                    [plain(bed.bed.name)] * count,
                    [plain(raft.name)] * count,
                    names,
                    [crops[number] for number in numbers],
                    xs,
                    ys,
                    diameters,
                    bed_x,
                    bed_y,
                    strict=True,
                )
            )
            written += count
            yield written


def summary_json(plan: Plan) -> str:
    """Write the counts and densities of all beds and the totals, as JSON."""
    summary = {
        "project": plan.project.name,
        **{key: text for key, text in asdict(plan.project.details).items() if text},
        "beds": [_bed_summary(bed, plan) for bed in plan.beds],
        "total": {
            "plants": plan.plants,
            "rafts": sum(len(bed.rafts) for bed in plan.beds),
            "raft_designs": sum(len(bed.designs) for bed in plan.beds),
            "sheets": plan.cut.sheet_count,
            **_cut_summary(plan),
            "findings": len(plan.findings),
            "problems": sum(finding.severity == "problem" for finding in plan.findings),
        },
        **runs_summary(plan),
    }
    return json.dumps(summary, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _cut_summary(plan: Plan) -> dict[str, object]:
    """Say how good the cut plan is; money and sheets as plain numbers, areas in m²."""
    cut = plan.cut
    rafts = sum((each.raft_area * each.copies for each in cut.sheets), Fraction(0))
    waste = sum((each.waste_area * each.copies for each in cut.sheets), Fraction(0))
    return {
        "sheets_bought": cut.bought_count,
        "offcuts_used": cut.sheet_count - cut.bought_count,
        "cost": None if cut.cost is None else float(cut.cost),
        "aim": cut.aim,
        "bound": None if cut.bound is None else float(cut.bound),
        "proved": cut.proved,
        "rafts_without_sheet": sum(count for _, count in cut.unplaced),
        "raft_area_cut_m2": round(float(rafts) / 1e6, 9),
        "waste_area_m2": round(float(waste) / 1e6, 9),
        "waste_share": round(cut.waste_share, 9),
        "offcuts": [
            {
                "length_mm": round(float(long), 6),
                "width_mm": round(float(short), 6),
                "count": count,
            }
            for long, short, count in kept_offcuts(cut, plan.project.cutting)
        ],
    }


CHOICES_HEADER = (
    "bed",
    "choice",
    "kept",
    "pattern",
    "rows",
    "spacing_mm",
    "row_spacing_mm",
    "edge_margin_mm",
    "wanted_plants",
    "plants",
    "more_than_now",
    "density_per_m2",
    "density_per_ft2",
    "ceiling",
    "share_of_ceiling",
    "least_foam_mm",
    "foam_more_than_now_mm",
    "won_pattern",
    "won_rows",
    "pitch_mm",
    "row_gap_mm",
    "problems",
    "leaves_touch_day",
    "respace_day",
    "harvest_day",
    "cover_at_harvest",
    "freeboard_mm",
    "lift_kg",
    "published_plant_g",
    "own_plant_g",
)
"""The columns of an exported comparison, in order."""


def write_choices(
    project: Project, compared: Sequence[tuple[str, Comparison]], stream: TextIO
) -> None:
    """Write one row for every choice of every bed, the bed as it stands first (``now``).

    Lengths in millimetres, with the decimal point whatever the language; a cell is empty where
    there is nothing to say. What a plant weighs is told only within the densities that were tried,
    as published and by the grower's own batches.
    """
    rows = csv.writer(stream, lineterminator="\n")
    rows.writerow(CHOICES_HEADER)
    beds = {bed.name: bed for bed in project.beds}
    for bed, comparison in compared:
        weighed = grams_at_choices(project, beds[bed], comparison.results)
        for place, (result, grams) in enumerate(zip(comparison.results, weighed, strict=True)):
            row = _choice_row(bed, result, comparison.results[0], is_now=not place)
            rows.writerow((*row, *("" if each is None else _decimal(each) for each in grams)))


def _choice_row(
    bed: str, result: ChoiceResult, now: ChoiceResult, *, is_now: bool
) -> tuple[object, ...]:
    planting, foam = result.planting, result.least_web_mm
    both = foam is not None and now.least_web_mm is not None
    row_spacing = planting.row_spacing
    return (
        plain(bed),
        "now" if is_now else plain(result.choice.name),
        "yes" if result.choice.name else "no",
        planting.pattern,
        planting.rows,
        _decimal(planting.spacing.mm),
        "" if row_spacing is None else _decimal(row_spacing.mm),
        _decimal(planting.edge_margin.mm),
        "" if result.wanted is None else result.wanted,
        result.plants,
        result.plants - now.plants,
        _decimal(result.density_per_m2),
        _decimal(result.density_per_m2 / _SQUARE_FEET_PER_M2),
        "" if result.ceiling is None else result.ceiling,
        "" if result.share_of_ceiling is None else _decimal(result.share_of_ceiling),
        "" if foam is None else _decimal(foam),
        _decimal((foam or 0.0) - (now.least_web_mm or 0.0)) if both else "",
        result.pattern,
        result.direction,
        _decimal(result.pitch_mm),
        _decimal(result.row_gap_mm),
        result.problems,
        *_leaves(result.growing),
        *_afloat_cells(result.afloat),
    )


def _afloat_cells(found: Afloat | None) -> tuple[str, str]:
    if found is None:
        return "", ""
    return _decimal(found.harvest.floating.freeboard), _decimal(found.harvest.lift)


def _leaves(found: Growing | None) -> tuple[object, ...]:
    if found is None:
        return "", "", "", ""
    days = (found.touch_day, found.respace_day, found.harvest_day)
    share = found.at_harvest
    told = ("" if day is None else day for day in days)
    return *told, "" if share is None else _decimal(share)


def _decimal(value: float) -> str:
    text = f"{round(value, 6) + 0.0:.6f}".rstrip("0")
    return f"{text}0" if text.endswith(".") else text


def plain(name: str) -> str:
    """Return a name as a spreadsheet will show it and never run it, nor read on backwards."""
    shown = "\t".join(map(harmless, name.split("\t")))
    is_order = name.startswith(_FORMULA_SIGNS) or shown.lstrip().startswith(_FORMULA_SIGNS)
    return f"'{shown}" if is_order else shown


def _bed_summary(bed: BedPlan, plan: Plan) -> dict[str, object]:
    revision = plan.project.details.revision
    best = bed.tried[0] if bed.tried else None
    return {
        "name": bed.bed.name,
        "plants": bed.plants,
        "rafts": len(bed.rafts),
        "codes": {design.name: design_code(design, revision) for design in bed.designs},
        "density_per_m2": round(bed.density_per_m2, 9),
        "density_per_ft2": round(bed.density_per_m2 / _SQUARE_FEET_PER_M2, 9),
        "ceiling": bed.ceiling,
        "proof": _proof(bed),
        "open_water_share": round(bed.open_water_share, 9),
        "water_area_m2": round(bed.area_mm2 / 1e6, 9),
        "raft_area_m2": round(bed.raft_area_mm2 / 1e6, 9),
        "crops": [{"crop": crop.crop, "plants": crop.plants} for crop in bed.crops],
        "in_use": bed.plants - bed.plugged,
        "plugged": bed.plugged,
        "pattern": best and best.pattern,
        "rows": best and best.direction,
        "pitch_mm": best and round(best.pitch_mm, 6),
        "row_gap_mm": best and round(best.row_gap_mm, 6),
        "least_web_mm": None if bed.least_web_mm is None else round(bed.least_web_mm, 6),
        **_water_summary(bed, plan),
        **_afloat_summary(bed, plan),
        **_fit_summary(bed, plan),
        "pots": pot_summary(bed, plan),
        "findings": len(bed.findings),
    }


def _water_summary(bed: BedPlan, plan: Plan) -> dict[str, object]:
    """Say how much water a bed holds; null as long as its depth is not known."""
    looked = plan.water_of(bed.bed.name)
    volumes = looked.volumes if looked is not None else None
    if volumes is None:
        keys = ("litres", "litres_low", "litres_high", "metered_litres", "litres_per_site")
        return dict.fromkeys((*keys, "water_kg"))
    return {
        "litres": round(volumes.working, 6),
        "litres_low": round(volumes.low, 6),
        "litres_high": round(volumes.high, 6),
        "metered_litres": None if volumes.metered is None else round(volumes.metered, 6),
        "litres_per_site": round(volumes.fill / bed.plants, 6) if bed.plants else None,
        "water_kg": round(volumes.kilograms, 6),
    }


def _afloat_summary(bed: BedPlan, plan: Plan) -> dict[str, object]:
    """Say how the worst raft of a bed rides; null while the thickness of its foam is not known.

    Draft, freeboard and lift at the harvest, ``immersion_mm`` of the driest pots on the day of
    planting, ``tilt`` in mm by the metre with one half picked.
    """
    looked = plan.water_of(bed.bed.name)
    rafts = tuple(looked.rafts.values()) if looked is not None else ()
    ridden = [raft.afloat for raft in rafts if raft.afloat is not None]
    lines = [weakest_of(raft.design, looked.surroundings) for raft in rafts] if looked else []
    keys = ("draft_mm", "freeboard_mm", "immersion_mm", "tilt", "lift_kg", "lift_class")
    found: dict[str, object] = dict.fromkeys(keys)
    if ridden:
        limits = plan.project.limits
        kg = max(each.harvest.lift for each in ridden)
        under = (each.least_immersion for each in ridden)
        dry = min((each for each in under if each is not None), default=None)
        found = {
            "draft_mm": round(max(each.harvest.floating.draft for each in ridden), 6),
            "freeboard_mm": round(min(each.harvest.floating.freeboard for each in ridden), 6),
            "immersion_mm": None if dry is None else round(dry, 6),
            "tilt": round(max(abs(each.tilt.slope) for each in ridden), 6),
            "lift_kg": round(kg, 6),
            "lift_class": lift_of(kg, float(limits.lift_one), float(limits.lift_two)),
        }
    sound = min((line.sound for line in lines if line is not None), default=None)
    return {**found, "weakest_line": None if sound is None else round(sound, 9)}


def _fit_summary(bed: BedPlan, plan: Plan) -> dict[str, object]:
    """Say how much room rafts have at each level, and where water lies open to light.

    Room is given for the largest rafts and for rafts as they are cut; ``level_mm`` is above the
    working level.
    """
    looked = plan.water_of(bed.bed.name)
    widest = widest_opening(looked.fit) if looked is not None else None
    if looked is None or widest is None:
        return {"widest_gap_mm": None, "open_water_parts": None, "levels": []}
    light = looked.fit.light
    parts = {
        "wall": light.wall,
        "joints": light.joints,
        "loose_holes": light.loose,
        "plugged_holes": light.plugged,
        "open": light.open,
    }
    return {
        "widest_gap_mm": round(widest.mm, 6),
        "edge_seal": light.sealed,
        "open_water_parts": {
            name: {"area_m2": round(mm2 / 1e6, 9), "share": round(light.share(mm2), 9)}
            for name, mm2 in parts.items()
        },
        "levels": [
            {
                "level": each.level,
                "level_mm": round(0.0 - float(each.down), 6),
                "along_mm": [round(float(mm), 6) for mm in (each.along.least, each.along.most)],
                "across_mm": [round(float(mm), 6) for mm in (each.across.least, each.across.most)],
                "wall_mm": None if each.near is None else round(each.near.away, 6),
                "open_water_share": round(light.at(each.water_mm2), 9),
            }
            for each in looked.fit.levels
        ],
    }


def _proof(bed: BedPlan) -> dict[str, object] | None:
    """What is proved of the plants: see ``geometry.holes.proof``; the record is no proof."""
    proof = bed.proof
    if proof is None:
        return None
    return {
        "kind": proof.kind,
        "short_of_ceiling": proof.ceiling - bed.plants,
        "no_more_in": list(proof.families),
        "rows": proof.direction,
        "rafts_alike": proof.alike,
        "best_known": proof.record,
    }


Column = list[str]


def _design_columns(design: RaftDesign) -> tuple[Column, Column, Column, Column, list[int]]:
    holes = design.holes
    return (
        [plain(name) for name in holes.names],
        _numbers(holes.xy[:, 0]),
        _numbers(holes.xy[:, 1]),
        _numbers(holes.diameters),
        holes.numbers.tolist(),
    )


def _bed_columns(raft: PlacedRaft) -> tuple[Column, Column]:
    xy = raft.design.holes.xy
    shape = raft.design.shape
    if raft.turned:
        xy = (float(shape.length), float(shape.width)) - xy
    return _numbers(xy[:, 0] + raft.x), _numbers(xy[:, 1] + raft.y)


def _numbers(values: NDArray[np.float64]) -> Column:
    rounded = np.round(values, 6) + 0.0  # no minus before a zero
    texts = [f"{value:.6f}" for value in rounded.tolist()]
    return [text[:-3] if text.endswith("000") else text.rstrip("0") for text in texts]
