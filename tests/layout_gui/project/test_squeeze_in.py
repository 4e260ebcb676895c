"""Squeezed holes in a project: pins and blanks that give exactly these holes."""

import csv
import io
import json
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pypdf
import pytest

from geometry.compare.squeezing import Offer, question_of
from geometry.holes.sites import Coordinates
from geometry.holes.squeeze import _matched
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Blank, Pin, Planting
from geometry.model.project import Project
from geometry.plan import Plan, make_plan
from geometry.units import Length
from layout_gui.output.export import export
from layout_gui.output.tables import write_holes
from layout_gui.project import edits
from layout_gui.project.file import load, save


def make_project(joints: Any, **rules: Any) -> Project:
    planting = Planting(Length.of(150), Length.of(50), edge_margin=Length.of(40), joints=joints)
    bed = Bed(
        "Bed",
        Rectangle(Length.of(1510), Length.of(500)),
        joint_gap=Length.of(5),
        rafts=Split(3, 1),
        planting=replace(planting, **rules),
    )
    return Project("Test", "mm", (bed,))


def offer_of(plan: Plan, raft: str, xy: Coordinates) -> Offer:
    """An offer of any places at all: what is done with them is the same."""
    asked = question_of(plan.beds[0], raft)
    return Offer(asked, _matched(asked.room, xy, None, asked.sites))


def places(count: int) -> Coordinates:
    random = np.random.default_rng(count)
    return np.round(random.uniform(60, 440, (count, 2)), 8)


def holes_of(plan: Plan, raft: str) -> list[tuple[float, float]]:
    found = next(each for each in plan.beds[0].rafts if each.name == raft)
    return sorted((round(x, 9), round(y, 9)) for x, y in found.design.holes.xy.tolist())


@pytest.mark.parametrize("count", [1, 5, 9, 12, 20])
@pytest.mark.parametrize("joints", ["bed-wide", "interchangeable", "separate"])
def test_the_plan_has_exactly_the_squeezed_holes(joints: Any, count: int) -> None:
    project = make_project(joints)
    plan = make_plan(project)
    xy = places(count)
    offer = offer_of(plan, "R2", xy)

    after = make_plan(edits.squeeze_in(project, offer))

    expected = sorted((x, y) for x, y in np.round(offer.found.xy, 9).tolist())
    for raft in ("R1", "R2", "R3"):
        if raft in offer.question.rafts:
            assert holes_of(after, raft) == expected
            design = next(each.design for each in after.beds[0].rafts if each.name == raft)
            assert design.holes.pinned.all()
        else:
            assert holes_of(after, raft) == holes_of(plan, raft)
    assert after.plants == plan.plants + offer.whole_gain
    assert not [each for each in after.findings if each.code in {"blank-idle", "pin-idle"}]


def test_names_stay_where_the_sites_were_and_the_new_ones_follow() -> None:
    project = make_project("separate")
    plan = make_plan(project)
    names = plan.beds[0].rafts[0].design.holes.names
    offer = offer_of(plan, "R1", places(len(names) + 2))

    after = make_plan(edits.squeeze_in(project, offer))

    assert after.beds[0].rafts[0].design.holes.names == (*names, "P1", "P2")


def test_hand_edits_of_these_rafts_go_and_others_stay() -> None:
    at = Length.of(100)
    mine, other = Pin("R1", at, at), Pin("R3", at, at)
    gone, stays = Blank("R1", at, at), Blank("R3", at, at)
    project = make_project("bed-wide", pins=(mine, other), blanks=(gone, stays))
    offer = offer_of(make_plan(project), "R1", places(12))

    after = edits.squeeze_in(project, offer).beds[0].planting

    assert after is not None
    assert mine not in after.pins
    assert gone not in after.blanks
    assert other in after.pins
    assert stays in after.blanks
    assert len([pin for pin in after.pins if pin.raft == "R1"]) == 12


def test_squeezing_twice_is_like_squeezing_once() -> None:
    project = make_project("interchangeable")
    first = edits.squeeze_in(project, offer_of(make_plan(project), "R1", places(12)))

    again = edits.squeeze_in(first, offer_of(make_plan(first), "R2", places(14)))

    plan = make_plan(again)
    assert [len(raft.design.holes) for raft in plan.beds[0].rafts] == [14, 14, 14]
    assert holes_of(plan, "R1") == sorted((x, y) for x, y in np.round(places(14), 9).tolist())


def test_giving_all_holes_back_brings_the_pattern_back() -> None:
    project = make_project("separate")
    squeezed = edits.squeeze_in(project, offer_of(make_plan(project), "R1", places(11)))

    assert edits.clear_hand_edits(squeezed, "Bed") == project


def test_file_and_table_hold_the_squeezed_holes(tmp_path: Any) -> None:
    project = make_project("separate")
    offer = offer_of(make_plan(project), "R1", places(11))
    squeezed = edits.squeeze_in(project, offer)

    save(tmp_path / "a.raft.json", squeezed)
    plan = make_plan(load(tmp_path / "a.raft.json"))

    assert plan.project == squeezed
    stream = io.StringIO(newline="")
    assert [*write_holes(plan, stream)] == [11, 22, 33]
    rows = list(csv.DictReader(io.StringIO(stream.getvalue())))
    assert len(rows) == plan.plants == 33
    told = sorted((float(row["x_mm"]), float(row["y_mm"])) for row in rows if row["raft"] == "R1")
    assert np.allclose(told, sorted(offer.found.xy.tolist()), atol=1e-3)


def test_cut_sheet_and_summary_count_the_squeezed_holes(tmp_path: Any) -> None:
    project = make_project("interchangeable")
    plan = make_plan(project)
    squeezed = make_plan(edits.squeeze_in(project, offer_of(plan, "R1", places(17))))

    export(squeezed, tmp_path, frozenset({"cut-sheet.pdf", "summary.json"}))

    words = "\n".join(
        page.extract_text() for page in pypdf.PdfReader(tmp_path / "cut-sheet.pdf").pages
    )
    names = squeezed.beds[0].rafts[0].design.holes.names
    told = set(re.findall(r"\b[A-Z]{1,2}[0-9]{1,2}\b", words))
    assert "17 holes of 50 mm" in " ".join(words.split())
    assert set(names) <= told
    summary = json.loads((tmp_path / "summary.json").read_text("utf-8"))
    assert summary["total"]["plants"] == squeezed.plants == 51
