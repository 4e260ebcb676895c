"""Edits, each from a project to the next, by what the model says of pins, blanks and homes."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from geometry import plan as plan_module
from geometry.checks.finding import (
    Cure,
    DropHandEdit,
    Finding,
    LeaveOut,
    MoveHole,
    SetLength,
)
from geometry.errors import GeometryError
from geometry.model.bed import Bed, Fit, Obstacle, Split, Spot
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import Blank, Pin, Planting
from geometry.model.project import Accepted, Choice, Project
from geometry.model.sheet import Cutting, Score, Sheet
from geometry.plan import BedPlan, PlacedRaft
from geometry.units import Length
from layout_gui.project import edits
from tests.builders import make_bed_plan, make_design, make_holes, make_plan, make_shape


def mm(value: float) -> Length:
    return Length.of(value)


def at(raft: str, x: float, y: float, home: tuple[float, float] | None = None) -> Pin:
    return Pin(raft, mm(x), mm(y), (mm(home[0]), mm(home[1])) if home else None)


def bed_of(**rules: Any) -> Bed:
    return Bed(
        "Bench bed", Rectangle(mm(2360), mm(580)), planting=Planting(mm(200), mm(50), **rules)
    )


def plan_of(bed: Bed, pinned: tuple[int, ...] = ()) -> tuple[Project, BedPlan]:
    """Two rafts of one shape; the holes at the given places of each are marked as pinned."""
    holes = make_holes([(100, 100), (300, 100), (1 / 3, 500)])
    flags = np.isin(np.arange(3), pinned)
    design = make_design(shape=make_shape(), holes=replace(holes, pinned=flags))
    rafts = [PlacedRaft("R1", design, 10, 10), PlacedRaft("R2", design, 600, 10)]
    return Project("North", beds=(bed,)), make_bed_plan(rafts, bed=bed)


def hands(project: Project) -> tuple[tuple[Pin, ...], tuple[Blank, ...]]:
    planting = project.beds[0].planting
    assert planting is not None
    return planting.pins, planting.blanks


def test_a_moved_site_becomes_a_pin_that_remembers_its_home() -> None:
    project, plan = plan_of(bed_of())
    moved = edits.move_holes(project, plan, {("R1", "A3"): (12.34567, 400)})
    assert hands(moved) == ((at("R1", 12.346, 400, (0.333, 500)),), ())
    assert hands(project) == ((), ())


def test_a_moved_pin_keeps_its_home() -> None:
    pins = (at("R1", 100, 100, (90, 90)), at("R1", 300, 100))
    project, plan = plan_of(bed_of(pins=pins), pinned=(0, 1))
    moved = edits.move_holes(project, plan, {("R1", "A1"): (150, 100), ("R1", "A2"): (310, 100)})
    assert hands(moved)[0] == (at("R1", 150, 100, (90, 90)), at("R1", 310, 100))


def test_a_pin_of_one_raft_is_none_of_another_unless_rafts_change_places() -> None:
    pins = (at("R1", 100, 100, (90, 90)),)
    project, plan = plan_of(bed_of(pins=pins), pinned=(0,))
    moved = edits.move_holes(project, plan, {("R2", "A1"): (150, 100)})
    assert hands(moved)[0] == (*pins, at("R2", 150, 100, (100, 100)))

    project, plan = plan_of(bed_of(pins=pins, joints="interchangeable"), pinned=(0,))
    moved = edits.move_holes(project, plan, {("R2", "A1"): (150, 100)})
    assert hands(moved)[0] == (at("R1", 150, 100, (90, 90)),)


def test_one_site_of_interchangeable_rafts_is_edited_once_however_often_it_is_selected() -> None:
    project, plan = plan_of(bed_of(joints="interchangeable"))
    both = [("R1", "A1"), ("R2", "A1")]
    moved = edits.move_holes(project, plan, dict.fromkeys(both, (150.0, 100.0)))
    assert hands(moved)[0] == (at("R1", 150, 100, (100, 100)),)
    left = edits.delete_holes(project, plan, both)
    assert hands(left)[1] == (Blank("R1", mm(100), mm(100)),)
    separate, plan = plan_of(bed_of())
    assert len(hands(edits.delete_holes(separate, plan, both))[1]) == 2


def test_leaving_out_makes_a_blank_where_the_pattern_has_its_site() -> None:
    pins = (at("R1", 100, 100, (90, 90)), at("R1", 300, 100))
    project, plan = plan_of(bed_of(pins=pins), pinned=(0, 1))
    every = [("R1", "A1"), ("R1", "A2"), ("R1", "A3"), ("R1", "A1")]
    left = edits.delete_holes(project, plan, every)
    assert hands(left) == ((), (Blank("R1", mm(90), mm(90)), Blank("R1", mm(0.333), mm(500))))


def test_an_added_hole_is_a_pin_without_a_home() -> None:
    project, plan = plan_of(bed_of())
    assert hands(edits.add_hole(project, plan, "R2", 50.00049, 60))[0] == (at("R2", 50, 60),)
    with pytest.raises(GeometryError, match="no raft R9"):
        edits.add_hole(project, plan, "R9", 50, 60)
    with pytest.raises(GeometryError, match="two numbers"):
        edits.add_hole(project, plan, "R1", float("nan"), 60)


def test_pinning_keeps_a_hole_in_place_and_unpinning_gives_it_back() -> None:
    project, plan = plan_of(bed_of())
    pinned = edits.pin_holes(project, plan, [("R1", "A1")])
    assert hands(pinned)[0] == (at("R1", 100, 100, (100, 100)),)
    again, plan = plan_of(pinned.beds[0], pinned=(0,))
    assert edits.pin_holes(again, plan, [("R1", "A1")]) == again
    assert hands(edits.unpin_holes(again, plan, [("R1", "A1"), ("R1", "A2")])) == ((), ())


def test_hand_edits_are_cleared_together() -> None:
    project, _ = plan_of(bed_of(pins=(at("R1", 1, 2),), blanks=(Blank("R1", mm(1), mm(2)),)))
    assert hands(edits.clear_hand_edits(project, "Bench bed")) == ((), ())


def test_what_is_not_there_is_refused() -> None:
    project, plan = plan_of(bed_of())
    with pytest.raises(GeometryError, match="no hole Z9 in raft R1"):
        edits.move_holes(project, plan, {("R1", "Z9"): (1, 1)})
    with pytest.raises(GeometryError, match="no hole A1 in raft R7"):
        edits.delete_holes(project, plan, [("R7", "A1")])
    with pytest.raises(GeometryError, match="no bed “South”"):
        edits.set_bed(project, "South", clearance=mm(5))
    bare = Project("North", beds=(replace(bed_of(), planting=None),))
    with pytest.raises(GeometryError, match="not planted"):
        edits.set_planting(bare, "Bench bed", spacing=mm(5))


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"clearance": mm(-1)}, "Clearance must not be below 0; "),
        ({"joint_gap": mm(10**6 + 1)}, "Joint gap must be at most 1000 m; "),
        ({"outline": Disc(mm(0))}, "Diameter must be above 0; "),
        ({"outline": Rectangle(mm(9), mm(8), mm(5))}, "Corner radius must be at most half "),
        ({"rafts": Split(0, 1)}, "Along must be from 1 to 100\u202f000; "),
        ({"rafts": Split(10**5, 2)}, "The project has more than 100\u202f000 rafts; "),
        ({"rafts": Fit(mm(0), mm(5))}, "Length must be above 0; "),
        (
            {"obstacles": (Obstacle("x" * 201, Disc(mm(5)), Spot(mm(0), mm(0))),)},
            "Name must be at most 200 characters; ",
        ),
    ],
)
def test_a_bed_takes_only_what_a_file_may_hold(changes: dict[str, Any], reason: str) -> None:
    project, _ = plan_of(bed_of())
    with pytest.raises(GeometryError) as refused:
        edits.set_bed(project, "Bench bed", **changes)
    assert str(refused.value).startswith(reason)


def test_rules_of_the_planting_are_changed_one_by_one() -> None:
    project, _ = plan_of(bed_of(crop="basil"))
    changed = edits.set_planting(project, "Bench bed", spacing=Length.of("8 in"), spread=False)
    assert changed.beds[0].planting == Planting(
        Length.of("8 in"), mm(50), crop="basil", spread=False
    )
    with pytest.raises(GeometryError, match=r"Hole diameter must be at least 0\.01 mm"):
        edits.set_planting(project, "Bench bed", hole_diameter=mm(0.001))


def test_beds_come_and_go_with_what_is_about_them() -> None:
    project, _ = plan_of(bed_of())
    project = edits.keep_choice(project, "Bench bed", "as it was")
    project = edits.add_bed(project, replace(bed_of(), name="Bench bed two"))
    project = edits.duplicate_bed(project, "Bench bed", "Copy")
    assert [bed.name for bed in project.beds] == ["Bench bed", "Copy", "Bench bed two"]
    with pytest.raises(GeometryError, match="“Copy” is the name of another bed"):
        edits.add_bed(project, replace(bed_of(), name="Copy"))
    notes = ("web Bench bed R1 A1", "web Bench bed two R1 A1", "sheet-fit board")
    project = replace(project, accepted=tuple(Accepted(key, "fine") for key in notes))

    renamed = edits.rename_bed(project, "Bench bed", "North bed")
    assert renamed.choices[0].bed == "North bed"
    assert [each.key for each in renamed.accepted] == [
        "web North bed R1 A1",
        "web Bench bed two R1 A1",
        "sheet-fit board",
    ]
    for name in ("Copy", "", "a\tb"):
        with pytest.raises(GeometryError):
            edits.rename_bed(project, "Bench bed", name)

    removed = edits.remove_bed(project, "Bench bed")
    assert [bed.name for bed in removed.beds] == ["Copy", "Bench bed two"]
    assert removed.choices == ()
    assert [each.key for each in removed.accepted] == list(notes[1:])


def test_the_rest_of_the_project_is_set_as_a_whole() -> None:
    project = Project("North")
    assert edits.set_units(project, "in").units == "in"
    assert edits.rename_project(project, "South").name == "South"
    sheet = Sheet("board", mm(1250), mm(600))
    assert edits.set_sheets(project, [sheet]).sheets == (sheet,)
    cutting = Cutting(mm(3), mm(5), turn=False)
    assert edits.set_cutting(project, cutting).cutting == cutting
    with pytest.raises(GeometryError, match="Width must be above 0"):
        edits.set_sheets(project, [Sheet("board", mm(5), mm(0))])
    with pytest.raises(GeometryError, match="Quantity must be from 0"):
        edits.set_sheets(project, [replace(sheet, quantity=-1)])
    with pytest.raises(GeometryError, match="Kerf must not be below 0"):
        edits.set_cutting(project, Cutting(mm(-3)))
    with pytest.raises(GeometryError, match="Tolerance must be less than the shorter side"):
        edits.set_sheets(project, [replace(sheet, tolerance=mm(600))])
    with pytest.raises(GeometryError, match="Score has no lines"):
        edits.set_sheets(project, [replace(sheet, score=Score())])
    with pytest.raises(GeometryError, match="Along must be above 0"):
        edits.set_sheets(project, [replace(sheet, score=Score(along=mm(0)))])


def test_a_choice_that_asks_for_plants_is_used_with_the_spacing_it_finds() -> None:
    project = Project("North", beds=(bed_of(),))
    asking = edits.keep_choice(project, "Bench bed", "many", Choice("", "Bench bed", count=30))
    used = edits.use_choice(asking, asking.choices[0])

    assert plan_module.make_plan(used).beds[0].plants >= 30
    assert used.beds[0].planting != project.beds[0].planting
    with pytest.raises(GeometryError, match="do not fit"):
        edits.use_choice(project, Choice("", "Bench bed", count=100_000))


def test_choices_are_kept_used_and_dropped() -> None:
    project, _ = plan_of(bed_of(pattern="square"))
    kept = edits.keep_choice(project, "Bench bed", "as it was")
    tried = Choice("tried", "Bench bed", spacing=mm(181), pattern="staggered")
    kept = edits.keep_choice(kept, "Bench bed", "closer", tried)
    assert [choice.name for choice in kept.choices] == ["as it was", "closer"]
    used = edits.use_choice(kept, kept.choices[1])
    planting = used.beds[0].planting
    assert planting is not None
    assert (planting.spacing, planting.pattern, planting.rows) == (mm(181), "staggered", "best")
    assert edits.use_choice(used, kept.choices[0]).beds == project.beds
    assert edits.drop_choice(kept, "closer").choices == kept.choices[:1]
    again = edits.keep_choice(kept, "Bench bed", "closer", replace(tried, spacing=mm(190)))
    assert [choice.spacing for choice in again.choices] == [mm(200), mm(190)]


def finding(cure: Cure | None) -> Finding:
    return Finding("web", "problem", "Bench bed", "R1", ("A1",), cure=cure)


@pytest.mark.parametrize(
    ("cure", "pins", "blanks"),
    [
        (MoveHole("R1", "A1", 120, 130), (at("R1", 120, 130, (100, 100)), at("R3", 5, 5)), 1),
        (LeaveOut("R1", "A1"), (at("R3", 5, 5),), 2),
        (DropHandEdit("R3", 5, 5), (), 1),
        (DropHandEdit("R2", 7, 7.0000001), (at("R3", 5, 5),), 0),
        (DropHandEdit("R1", 7, 7), (at("R3", 5, 5),), 1),
    ],
)
def test_a_cure_of_holes_is_the_edit_it_names(
    cure: Cure, pins: tuple[Pin, ...], blanks: int
) -> None:
    bed = bed_of(pins=(at("R3", 5, 5),), blanks=(Blank("R2", mm(7), mm(7)),))
    project, plan = plan_of(bed)
    cured = edits.apply_cure(project, make_plan(plan), finding(cure))
    assert set(hands(cured)[0]) == set(pins)
    assert len(hands(cured)[1]) == blanks


def test_a_cure_of_a_length_sets_it_where_it_stands() -> None:
    project, plan = plan_of(bed_of())

    def cured(field: str) -> Project:
        return edits.apply_cure(project, make_plan(plan), finding(SetLength(field, 12.7)))

    assert cured("clearance").beds[0].clearance == mm(12.7)
    planting = cured("planting.spacing").beds[0].planting
    assert planting is not None
    assert planting.spacing == mm(12.7)
    assert cured("outline.width").beds[0].outline == Rectangle(mm(2360), mm(12.7))
    with pytest.raises(GeometryError, match="takes a decision"):
        edits.apply_cure(project, make_plan(plan), finding(None))


def test_findings_are_left_with_a_note_and_looked_at_again() -> None:
    project, _ = plan_of(bed_of())
    left = edits.accept(project, finding(None), "old raft")
    left = edits.accept(left, finding(None), "an old raft")
    assert left.accepted == (Accepted("web Bench bed R1 A1", "an old raft"),)
    assert edits.unaccept(left, "web Bench bed R1 A1") == project
    with pytest.raises(GeometryError, match="Note must be at most 2000"):
        edits.accept(project, finding(None), "x" * 2001)
