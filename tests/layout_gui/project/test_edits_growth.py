"""What the grower measured of leaves: noted, replaced, forgotten, kept in the file."""

import json

import pytest

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.project.canonical import project_text
from layout_gui.project.edits_growth import drop_width, growth_of, note_width
from layout_gui.project.faults import ProjectFileError
from layout_gui.project.file import loads
from tests.layout_gui.panels.desk import make_project


def days(project: Project, crop: str = "dill") -> list[tuple[int, float]]:
    return [(each.day, each.width.mm) for each in growth_of(project, crop).widths]


def measured() -> Project:
    project = note_width(make_project(), "dill", 20, Length.of(200))
    project = note_width(project, "Dill", 10, Length.of("4 in"))
    return note_width(project, "basil", 10, Length.of(90))


def test_days_stand_in_order_and_crops_apart() -> None:
    project = measured()

    assert days(project) == [(10, 101.6), (20, 200)]
    assert days(project, "BASIL") == [(10, 90)]
    assert len(project.growth) == 2


def test_a_day_noted_again_is_replaced_and_the_last_one_takes_the_crop_with_it() -> None:
    project = note_width(measured(), "dill", 20, Length.of(210))
    assert days(project)[1] == (20, 210)

    project = drop_width(drop_width(project, "dill", 20), "dill", 10)

    assert [each.crop for each in project.growth] == ["basil"]
    assert drop_width(project, "dill", 10) == project or days(project) == []


@pytest.mark.parametrize(
    ("crop", "day", "width"), [(" ", 1, 10), ("dill", -1, 10), ("dill", 1001, 10),
                               ("dill", 3, 0)],
)  # fmt: skip
def test_what_no_file_could_hold_is_refused(crop: str, day: int, width: float) -> None:
    with pytest.raises(GeometryError):
        note_width(make_project(), crop, day, Length.of(width))


def test_the_file_keeps_it_as_typed() -> None:
    text = project_text(measured())

    assert json.loads(text)["growth"][0] == {
        "crop": "dill",
        "widths": [{"day": 10, "width": "4 in"}, {"day": 20, "width": 200}],
    }
    assert loads(text.encode(), "x").growth == measured().growth


@pytest.mark.parametrize(
    "widths",
    ["[]", '[{"day": 3, "width": 0}]', '[{"day": 3.5, "width": 1}]', '[{"day": 1001, "width": 1}]',
     '[{"day": 3, "width": 1}, {"day": 3, "width": 2}]',
     '[{"day": 4, "width": 1}, {"day": 3, "width": 2}]'],
)  # fmt: skip
def test_a_file_with_such_figures_is_refused(widths: str) -> None:
    text = project_text(make_project()).rstrip().removesuffix("}").rstrip()
    with pytest.raises(ProjectFileError, match="growth"):
        loads(f'{text}, "growth": [{{"crop": "dill", "widths": {widths}}}]}}'.encode(), "x")
