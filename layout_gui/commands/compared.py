"""What the comparison of a bed says, as it stands in JSON."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from geometry.afloat.riding import Afloat
from geometry.compare.courses import Course, course_of
from geometry.compare.growing import Growing
from geometry.compare.thresholds import Threshold, thresholds
from geometry.compare.want import Found
from geometry.flow.room import Room
from geometry.model.bed import Bed
from geometry.model.project import Project
from layout_gui.wording.joints import joint_sentence, split_shift_sentence

Shifts = dict[Bed, dict[str, Any] | None]


def choices_node(project: Project, bed: Bed) -> list[dict[str, Any]]:
    """Say what each choice of a bed gives, the bed as it stands first."""
    from geometry.compare.choices import compare_choices
    from geometry.compare.yields import grams_at_choices

    results = compare_choices(project, bed)
    course = course_of(project, bed.planting) if bed.planting is not None else None
    return [
        {
            "name": result.choice.name,
            "pattern": result.planting.pattern,
            "rows": result.planting.rows,
            "spacing_mm": result.planting.spacing.mm,
            "row_spacing_mm": result.planting.row_spacing and result.planting.row_spacing.mm,
            "edge_margin_mm": result.planting.edge_margin.mm,
            "wanted": result.wanted,
            "plants": result.plants,
            "density_per_m2": result.density_per_m2,
            "ceiling": result.ceiling,
            "share_of_ceiling": result.share_of_ceiling,
            "least_web_mm": result.least_web_mm,
            "won": {
                "pattern": result.pattern,
                "rows": result.direction,
                "pitch_mm": result.pitch_mm,
                "row_gap_mm": result.row_gap_mm,
            },
            "problems": result.problems,
            "published_plant_g": published,
            "own_plant_g": own,
            "leaves": _leaves(result.growing, course),
            "afloat": _afloat(result.afloat),
            "most_a_week": _most_a_week(project, bed, result.rooms),
        }
        for result, (published, own) in zip(
            results, grams_at_choices(project, bed, results), strict=True
        )
    ]


def _afloat(found: Afloat | None) -> dict[str, float] | None:
    """Say how the heaviest raft rides at the harvest; None where that is not known."""
    if found is None:
        return None
    at = found.harvest
    return {
        "draft_mm": round(at.floating.draft, 6),
        "freeboard_mm": round(at.floating.freeboard, 6),
        "lift_kg": round(at.lift, 6),
    }


def _most_a_week(project: Project, bed: Bed, offered: Sequence[Room]) -> float | None:
    """Say what runs that float in this bed alone bring a week; None without such runs."""
    from geometry.running import most_a_week

    most = most_a_week(project.runs, bed.name, offered)
    return None if most is None else round(float(most), 6)


def _leaves(found: Growing | None, course: Course | None) -> dict[str, Any] | None:
    """Say when leaves touch, what they cover, when plants are best moved apart, and by what."""
    if found is None or course is None:
        return None
    return {
        "touch_day": found.touch_day,
        "respace_day": found.respace_day,
        "harvest_day": found.harvest_day,
        "cover_at_harvest": found.at_harvest,
        "known_days": [found.first, found.last],
        "measured": course.measured is not None,
        "assumed": list(course.assumed),
    }


def thresholds_of(project: Project, bed: Bed) -> Sequence[Threshold]:
    """Find the thresholds of a bed as it stands."""
    return thresholds(bed, project.units)


def threshold_node(threshold: Threshold) -> dict[str, Any]:
    """Say up to where a length changes nothing, and where it gains plants."""
    return {
        "length": threshold.knob,
        "now_mm": float(threshold.now),
        "plants": threshold.plants,
        "same_up_to_mm": _mm(threshold.same_up_to),
        "more_at_mm": _mm(threshold.more_at),
        "more_plants": None if threshold.more_at is None else threshold.more_plants,
        "step_mm": float(threshold.step),
    }


def _mm(exact: Fraction | None) -> float | None:
    return None if exact is None else float(exact)


def wanted_node(found: Found) -> dict[str, Any]:
    """Say what the widest spacing for the wanted plants gives."""
    return {
        "plants": found.wanted,
        "spacing_mm": _mm(found.spacing),
        "gives": {
            "plants": found.counted.plants,
            "density_per_m2": found.density_per_m2,
            "pattern": found.counted.pattern,
            "rows": found.counted.direction,
        },
    }


def joint_counts_node(bed: Bed) -> dict[str, Any] | None:
    """What the bed holds under both rules that heed joints; None without joints."""
    from geometry.compare.joint_rules import joint_counts

    counts = joint_counts(bed)
    if counts is None:
        return None
    return {
        "rule": counts.rule,
        "interchangeable": counts.interchangeable,
        "bed_wide": counts.bed_wide,
        "cost": counts.cost,
        "text": joint_sentence(counts),
    }


def split_shift_node(project: Project, bed: Bed, alike: Shifts) -> dict[str, Any] | None:
    """The best shift of the joints of a split; None without joints.

    Beds that differ in nothing but their names are searched once: ``alike`` holds what is known.
    """
    nameless = replace(bed, name="")
    if nameless not in alike:
        alike[nameless] = _found_shift(project, bed)
    return alike[nameless]


def _found_shift(project: Project, bed: Bed) -> dict[str, Any] | None:
    from geometry.compare.split_shift import best_split_shift

    shift = best_split_shift(project, bed)
    if shift is None:
        return None
    return {
        "shift_along_mm": shift.along.mm,
        "shift_across_mm": shift.across.mm,
        "shift_along_now_mm": shift.along_now.mm,
        "shift_across_now_mm": shift.across_now.mm,
        "plants": shift.plants,
        "plants_now": shift.plants_now,
        "gain": shift.gain,
        "raft_designs": shift.designs,
        "raft_designs_now": shift.designs_now,
        "sheets": shift.sheets,
        "sheets_now": shift.sheets_now,
        "exact": shift.exact,
        "text": split_shift_sentence(shift, project.units),
    }
