"""Holes as text: what is copied comes back the same, and rubbish is told line by line."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.model.planting import Pin
from geometry.model.project import Project
from geometry.plan import BedPlan, make_plan
from geometry.tongue import Tongue, speaking
from geometry.units import Length, Unit
from layout_gui.project import edits
from layout_gui.project.hole_text import (
    Pasted,
    Read,
    paste_at,
    paste_rows,
    read_rows,
    refusal_sentences,
    write_rows,
)
from layout_gui.project.picking import all_holes
from tests.layout_gui.panels.desk import make_bench, make_project

COMMA = Tongue(language="xx", decimal_sign=",", group_sign=".")


def planned(project: Project) -> BedPlan:
    return make_plan(project).beds[0]


def bench(*pins: Pin, **rules: object) -> Project:
    bed = make_bench()
    assert bed.planting is not None
    planting = replace(bed.planting, pins=pins, **rules)  # type: ignore[arg-type]
    return make_project(replace(bed, planting=planting))


def pin(x: str, y: str, raft: str = "R1") -> Pin:
    return Pin(raft, Length.of(x), Length.of(y))


def paste(project: Project, text: str, *, moving: bool = True, raft: str = "") -> Pasted:
    plan = planned(project)
    read = read_rows(text, project.units, [each.name for each in plan.rafts])
    return paste_rows(project, plan, read, raft=raft, moving=moving)


@contextmanager
def spoken(tongue: Tongue | None) -> Iterator[None]:
    if tongue is None:
        yield
    else:
        with speaking(tongue):
            yield


def names_in_order(plan: BedPlan) -> list[tuple[str, str]]:
    return sorted(all_holes(plan))


@pytest.mark.parametrize("unit", ["mm", "cm", "in"])
@pytest.mark.parametrize("tongue", [None, COMMA])
@pytest.mark.parametrize("separator", ["\t", ";"])
def test_what_is_copied_comes_back_the_same(
    unit: Unit, tongue: Tongue | None, separator: str
) -> None:
    project = replace(
        bench(pin("1 1/64 in", "3 1/3 in"), pin("333.333 mm", "0.1 mm"), pattern="hexagonal"),
        units=unit,
    )
    plan = planned(project)
    with spoken(tongue):
        text = write_rows(plan, names_in_order(plan), unit)
        read = read_rows(text.replace("\t", separator), unit)

    assert read.refused == ()
    assert len(read.rows) == plan.plants
    rafts = {raft.name: raft.design.holes for raft in plan.rafts}
    for row in read.rows:
        holes = rafts[row.raft]
        x, y = holes.xy[holes.names.index(row.hole)].tolist()
        assert (row.x.mm, row.y.mm) == pytest.approx((x, y), abs=2e-7)
    again = paste_rows(project, plan, read, moving=True)
    assert (again.count, again.there_already, again.project) == (0, plan.plants, project)


def test_the_heading_names_the_unit_and_the_decimal_sign_is_the_spoken_one() -> None:
    project = bench(pin("192.5 mm", "185 mm"))
    plan = planned(project)
    heading, first = write_rows(plan, [("R1", "P1")], "cm").splitlines()

    assert heading.split("\t") == [
        "raft", "hole", "x (cm)", "y (cm)", "hole size (cm)", "crop", "state",
        "bed x (cm)", "bed y (cm)",
    ]  # fmt: skip
    assert first.split("\t")[:7] == ["R1", "P1", "19.25", "18.5", "5", "lettuce, head", "pinned"]
    with speaking(COMMA):
        assert write_rows(plan, [("R1", "P1")], "cm").splitlines()[1].split("\t")[3] == "18,5"


def test_no_cell_is_a_formula_and_none_breaks_its_line() -> None:
    bed = make_bench()
    assert bed.planting is not None
    planting = replace(bed.planting, crop="=1+1\n\there")
    plan = planned(make_project(replace(bed, planting=planting)))
    lines = write_rows(plan, [("R1", "A1")], "mm").splitlines()

    assert len(lines) == 2
    assert lines[1].split("\t")[5] == "'=1+1 here"


@pytest.mark.parametrize(
    "text",
    [
        "100\t200",
        "R1\tA1\t100\t200",
        "A1\t100\t200",
        "R1\t100\t200",
        "R1;A1;100,0;200,0",
        "R1,A1,100.0,200.0",
        "100 200",
        "R1  A1  100  200",
        "R1, A1, 10 cm, 0.2 m",
        "raft;x mm;y mm\nR1;100;200",
        "y [cm]\tx [cm]\thole\n20\t10\tA1",
        "bed,raft,hole,crop,x_mm,y_mm,diameter_mm\nBench,R1,A1,x,100.000,200.000,50",
        "  \n\nx\ty\n100\t200\t\t\n\n",
        "x (in)\ty (in)\n3 15/16\t7 7/8",
    ],
)
def test_many_ways_to_write_a_place_are_read(text: str) -> None:
    read = read_rows(text, "mm", ["R1", "R2"])

    assert read.refused == ()
    (row,) = read.rows
    if "(in)" in text:
        assert (row.x.exact, row.y.exact) == (
            Fraction(63, 16) * Fraction(254, 10),
            Fraction("200.025"),
        )
    else:
        assert (row.x.exact, row.y.exact) == (100, 200)
    assert row.raft in ("", "R1")


def test_rubbish_is_told_by_line_and_the_rest_is_kept() -> None:
    text = """raft\thole\tx (mm)\ty (mm)
R1\tA1\t100\t200
what is this
R1\tA2\tabc\t200
R1\tA3\t\t200
R9\tA1\t100\t200

R1\tA1\t150\t200
R2\tB1\t5000 km\t1
R2\t\t33\t340"""
    done = paste(bench(), text)

    assert [each.line for each in done.refused] == [3, 4, 5, 6, 8, 9]
    told = refusal_sentences(done.refused)
    for part in (
        "Line 3: x is missing",
        "Line 4: “abc” is no length",
        "Line 5: x is missing",
        "Line 6: there is no raft R9",
        "Line 8: hole A1 of R1 has a line already",
        "Line 9:",
    ):
        assert part in told
    assert (done.moved, done.added) == (1, 1)


def test_of_very_many_refusals_the_rest_is_counted() -> None:
    done = paste(bench(), "\n".join(["nothing\tof use"] * 30))

    told = refusal_sentences(done.refused, most=4).splitlines()
    assert len(told) == 5
    assert "26" in told[-1]
    assert done.project == bench()


def test_rows_that_name_a_hole_move_it_and_others_add_one() -> None:
    project = bench()
    done = paste(project, "raft\thole\tx\ty\nR1\tB2\t295\t281\nR2\t\t20\t300\nR2\tnew\t560\t20")
    plan = planned(done.project)
    holes = {raft.name: raft.design.holes for raft in plan.rafts}

    assert (done.moved, done.added) == (1, 2)
    at = holes["R1"].names.index("B2")
    assert holes["R1"].xy[at].tolist() == [295, 281]
    assert plan.plants == planned(project).plants + 2


def test_pasting_in_place_adds_and_never_moves() -> None:
    project = bench()
    plan = planned(project)
    text = write_rows(plan, [("R1", "A1"), ("R1", "B2")], "mm")
    cut = edits.delete_holes(project, plan, [("R1", "A1")])
    done = paste(cut, text, moving=False)

    assert (done.moved, done.added, done.there_already) == (0, 1, 1)
    assert planned(done.project).plants == plan.plants


def test_rows_without_a_raft_go_to_the_one_that_is_meant() -> None:
    project = bench()
    assert paste(project, "20\t300", raft="R2").targets == (("R2", 20, 300),)
    refused = paste(project, "20\t300")
    assert (refused.count, len(refused.refused)) == (0, 1)
    assert "select one first" in refusal_sentences(refused.refused)


def test_a_group_is_pasted_where_the_pointer_is_and_keeps_its_distances() -> None:
    project = bench()
    plan = planned(project)
    names = [("R1", "A1"), ("R1", "A2"), ("R1", "B1")]
    read = read_rows(write_rows(plan, names, "mm"), "mm")
    second = plan.rafts[1]
    done = paste_at(project, plan, read, (second.x + 300.3, second.y + 350.6), Fraction(1))

    assert {raft for raft, _, _ in done.targets} == {"R2"}
    assert done.added == 3
    first = done.targets[0]
    assert first[1] == round(first[1])
    rafts = {raft.name: raft.design.holes for raft in plan.rafts}
    home = [rafts["R1"].xy[rafts["R1"].names.index(hole)] for _, hole in names]
    for (_, x, y), (home_x, home_y) in zip(done.targets, home, strict=True):
        assert (x - first[1], y - first[2]) == pytest.approx(
            (home_x - home[0][0], home_y - home[0][1]), abs=1e-6
        )


def test_over_water_there_is_nothing_to_paste_to() -> None:
    project = bench()
    with pytest.raises(GeometryError, match="no raft"):
        paste_at(project, planned(project), read_rows("1\t1", "mm"), (-900, -900), Fraction(1))
    empty = paste_at(project, planned(project), Read((), ()), (0, 0), Fraction(1))
    assert empty.count == 0


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=200))
def test_no_text_brings_it_down(text: str) -> None:
    read = read_rows(text, "mm", ["R1"])
    lines = len(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))

    assert len(read.rows) + len(read.refused) <= lines
    assert all(1 <= each.line <= lines for each in (*read.rows, *read.refused))
