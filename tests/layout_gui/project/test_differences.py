"""What differs between two versions of a project is said in a few words."""

from dataclasses import replace
from itertools import pairwise

from hypothesis import given, settings

from geometry.model.bed import Split
from geometry.model.planting import Blank
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.project import edits
from layout_gui.project.differences import differences
from tests.layout_gui.panels.desk import make_bench, make_project
from tests.strategies import projects


def test_each_thing_has_its_line() -> None:
    before = make_project(make_bench(), make_bench(name="Old"))
    changed = replace(make_bench(), rafts=Split(4, 1), clearance=Length.of(5))
    after = replace(
        make_project(changed, make_bench(name="New")), name="Renamed", sheets=(), units="in"
    )

    assert differences(before, after) == (
        "the name: “Bench test” became “Renamed”",
        "bed “Bench”: clearance, rafts",
        "bed “New” is new",
        "bed “Old” is not in it",
        "the sheets",
        "the unit shown",
    )


def test_holes_placed_by_hand_are_told_from_other_planting() -> None:
    before = make_project()
    planting = before.beds[0].planting
    assert planting is not None
    blank = replace(planting, blanks=(Blank("R1", Length.of(100), Length.of(100)),))
    wider = replace(planting, spacing=Length.of(250))

    def lines(new: object) -> tuple[str, ...]:
        return differences(before, edits.set_bed(before, "Bench", planting=new))

    assert lines(blank) == ("bed “Bench”: holes placed by hand",)
    assert lines(wider) == ("bed “Bench”: planting",)
    assert lines(None) == ("bed “Bench”: planting",)


def test_what_is_too_much_is_counted() -> None:
    many = make_project(*(make_bench(name=f"B{number}") for number in range(9)))

    lines = differences(make_project(make_bench(name="B0")), many)

    assert len(lines) == 6
    assert lines[-1] == "3 more differences"


@settings(max_examples=10)
@given(one=projects, other=projects)
def test_only_equal_projects_have_no_differences(one: Project, other: Project) -> None:
    assert differences(one, one) == ()
    for before, after in pairwise((one, other, one)):
        assert bool(differences(before, after)) is (before != after)
