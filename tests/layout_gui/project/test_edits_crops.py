"""Crops of the grower's own: added, changed, copied, removed, and what a file says of them."""

import json
from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.crops.table import CROPS, all_crops, find_crop
from geometry.errors import GeometryError
from geometry.model.growth import Growth, LeafWidth
from geometry.model.own_crop import OwnCrop
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.model.zone import Zone, ZoneRules
from geometry.units import Length
from layout_gui.project.canonical import project_text
from layout_gui.project.edits_crops import (
    add_crop,
    copy_of,
    fresh_crop,
    remove_crop,
    set_crop,
    take_crop,
)
from layout_gui.project.faults import ProjectFileError
from layout_gui.project.file import loads
from layout_gui.project.first import with_crop
from tests.layout_gui.panels.desk import make_bench, make_project

CHARD = OwnCrop("rainbow chard", Length.of("9 in"), 35, None, Length.of(320), note="seed packet")


def test_own_crops_go_before_the_table_and_hide_its_rows() -> None:
    own = (CHARD, OwnCrop("Basil", Length.of(170)))

    assert [crop.name for crop in all_crops(own)[:2]] == ["rainbow chard", "Basil"]
    assert "basil" not in [crop.name for crop in all_crops(own)]
    found = find_crop(" BASIL", own)
    assert found is not None
    assert found.is_own
    assert (found.spacing, found.source) == (Length.of(170), "your own figures")
    noted = find_crop("basil", (OwnCrop("Basil", Length.of(170), note="Weighed at home."),))
    assert noted is not None
    assert noted.source == "Weighed at home"  # a sentence ends behind it
    assert find_crop("basil") in CROPS


def test_a_bed_is_planted_at_the_spacing_of_an_own_crop() -> None:
    project = add_crop(make_project(), CHARD)
    planted = with_crop(project, project.beds[0], "Rainbow Chard")

    assert planted.beds[0].planting is not None
    assert planted.beds[0].planting.spacing == Length.of("9 in")


def test_a_copied_row_says_what_was_chosen() -> None:
    lettuce = copy_of(make_project(), CROPS[0])

    assert lettuce.name == "my lettuce, head"
    assert (lettuce.spacing, lettuce.days) == (Length.of("20 cm"), 28)
    assert lettuce.mature_width == Length.of(300)
    assert lettuce.note.endswith("the middle of 24 to 32 days, 25 to 35 cm wide")
    again = add_crop(make_project(), lettuce)
    assert copy_of(again, CROPS[0]).name == "my lettuce, head 2"


def test_a_new_name_goes_to_all_that_names_the_crop() -> None:
    bench = make_bench(zones=(Zone("z", ZoneRules(crop="Rainbow chard"), rafts=("R2",)),))
    assert bench.planting is not None
    bench = replace(bench, planting=replace(bench.planting, crop="rainbow chard"))
    project = replace(
        make_project(bench),
        crops=(CHARD,),
        growth=(Growth("rainbow chard", (LeafWidth(3, Length.of(50)),)),),
        runs=(Run("r", "rainbow chard", (RunStage("s", 20),)),),
    )
    renamed = set_crop(project, "rainbow chard", name="stalks")

    text = project_text(renamed)
    assert "hard" not in text.replace("seed packet", "")
    assert text.count("stalks") == 5


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"name": " "}, "needs a name"),
        ({"name": "x" * 201}, "at most 200"),
        ({"spacing": Length.of(0)}, "Spacing"),
        ({"days": 0}, "from 1 to"),
        ({"grams": Fraction(0)}, "above 0"),
        ({"name": "sea kale"}, "there already"),
    ],
)
def test_what_no_file_may_hold_is_refused(changes: dict[str, object], words: str) -> None:
    project = replace(make_project(), crops=(CHARD, OwnCrop("sea kale", Length.of(300))))

    with pytest.raises(GeometryError, match=words):
        set_crop(project, CHARD.name, **changes)


def test_crops_are_taken_over_and_taken_out() -> None:
    project = take_crop(make_project(), CHARD)
    wider = take_crop(project, replace(CHARD, name="Rainbow CHARD", spacing=Length.of(250)))

    assert project.crops == (CHARD,)
    assert wider.crops == (replace(CHARD, spacing=Length.of(250)),)
    assert remove_crop(wider, "rainbow chard").crops == ()
    with pytest.raises(GeometryError, match="no crop"):
        remove_crop(project, "kale")
    fresh = add_crop(project, fresh_crop(project, Length.of(200)))
    assert fresh_crop(fresh, Length.of(200)).name != fresh.crops[1].name


def written(project: Project, **planting: object) -> bytes:
    content = json.loads(project_text(project))
    del content["beds"][0]["planting"]["spacing"]
    content["beds"][0]["planting"] |= planting
    return json.dumps(content).encode()


def test_a_file_may_leave_the_spacing_to_its_own_crops() -> None:
    project = replace(make_project(), crops=(CHARD,))

    read = loads(written(project, crop="rainbow CHARD"), "a.raft.json")

    assert read.beds[0].planting is not None
    assert read.beds[0].planting.spacing == Length.of("9 in")
    with pytest.raises(ProjectFileError) as refused:
        loads(written(project, crop="kale"), "a.raft.json")
    assert "/beds/0/planting/spacing: is missing" in str(refused.value)
