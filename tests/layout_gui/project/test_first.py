"""What a project begins with, and which question it leaves open."""

from dataclasses import replace

import pytest

from geometry.beds.outline import exact_box
from geometry.beds.shapes import AGAIN, NEEDED, SHAPES, ShapeName, shape_of
from geometry.crops.table import CROPS
from geometry.errors import GeometryError
from geometry.model.bed import Bed, Fit
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.plan import make_plan
from geometry.units import ZERO, Length, Unit
from layout_gui.project import edits
from layout_gui.project.bounds import project_faults
from layout_gui.project.file import dumps, loads
from layout_gui.project.first import (
    first_project,
    first_values,
    is_usual,
    open_question,
    outline_of,
    reshaped,
    usual_outline,
    values_of,
    with_crop,
    with_foam,
    with_shape,
)

mm = Length.of


@pytest.mark.parametrize("unit", ["mm", "cm", "in"])
@pytest.mark.parametrize("crop", ["", *(crop.name for crop in CROPS)])
def test_any_first_bed_has_plants_and_nothing_to_settle(unit: Unit, crop: str) -> None:
    project = first_project(Length.of(2360), Length.of(1180), crop, unit)

    plan = make_plan(project)

    assert plan.plants > 0
    assert [finding for finding in plan.findings if finding.severity == "problem"] == []
    assert list(project_faults(project)) == []


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("shape", SHAPES)
def test_answers_one_after_the_other_fill_a_bed_of_any_shape(shape: ShapeName, unit: Unit) -> None:
    empty = Project("", unit)
    assert open_question(empty, None) == "shape"

    shaped = with_shape(empty, None, shape)
    assert open_question(shaped, shaped.beds[0]) == "inside"
    bed = shaped.beds[0]
    measured = edits.set_outline(shaped, bed.name, _slightly_larger(shape, unit))
    assert open_question(measured, measured.beds[0]) == "levels"
    with_boards = with_foam(measured, measured.beds[0], first_values(unit).sheet)
    assert open_question(with_boards, with_boards.beds[0]) == "crop"
    planted = with_crop(with_boards, with_boards.beds[0], CROPS[0].name)
    assert open_question(planted, planted.beds[0]) is None

    plan = make_plan(planted)
    assert plan.plants > 0
    assert not plan.cut.unplaced
    assert loads(dumps(planted), "bed") == planted


def _slightly_larger(shape: ShapeName, unit: Unit) -> Outline:
    usual = usual_outline(shape, unit)
    if shape == "free":
        assert isinstance(usual, Polygon)
        return Polygon(tuple((Length(x.exact + 1), y) for x, y in usual.points))
    values = values_of(shape, usual)
    first = NEEDED[shape][0]
    value = values[first]
    assert value is not None
    return outline_of(shape, {**values, first: Length(value.exact + 1)})


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_shape_is_known_again_by_its_outline(shape: ShapeName, unit: Unit) -> None:
    assert shape_of(usual_outline(shape, unit)) == shape
    assert is_usual(usual_outline(shape, unit))


@pytest.mark.parametrize("shape", [shape for shape in SHAPES if shape != "free"])
def test_measures_lead_back_to_the_outline_they_were_taken_from(shape: ShapeName) -> None:
    outline = usual_outline(shape, "mm")

    values = values_of(shape, outline)

    assert set(NEEDED[shape]) <= set(values)
    assert all(values[name] is not None for name in NEEDED[shape])
    assert outline_of(shape, values) == outline


@pytest.mark.parametrize("shape", SHAPES)
def test_another_shape_keeps_what_was_measured_but_not_what_was_only_offered(
    shape: ShapeName,
) -> None:
    measured = reshaped(Rectangle(mm(3000), mm(900)), shape, "mm")
    assert exact_box(measured) == ((900, 900) if shape == "round" else (3000, 900))
    assert not is_usual(measured)

    assert reshaped(usual_outline("round", "in"), shape, "mm") == usual_outline(shape, "mm")


def test_each_shape_has_its_outline_in_the_model() -> None:
    kinds = {shape: type(usual_outline(shape, "mm")) for shape in SHAPES}

    assert kinds == {
        "rectangle": Rectangle,
        "rounded": Rectangle,
        "round": Disc,
        "round ends": RoundEnded,
        "L": LShape,
        "corner cut": Polygon,
        "tapered": Tapered,
        "free": Polygon,
    }


def test_a_rectangle_measured_again_becomes_a_measured_bed_and_back() -> None:
    plain = {"length": mm(2360), "width": mm(580)}

    assert outline_of("rectangle", plain) == Rectangle(mm(2360), mm(580))
    assert outline_of("rectangle", {**plain, "width-3": mm(579)}) == Measured(
        (mm(580), mm(579)), (mm(2360),)
    )
    whole = {
        **plain,
        "width-2": mm(582),
        "width-3": mm(579),
        "length-2": mm(2358),
        "diagonal-1": mm(2431),
        "diagonal-2": mm(2428),
    }
    bed = outline_of("rectangle", whole)
    assert bed == Measured((mm(580), mm(582), mm(579)), (mm(2360), mm(2358)), (mm(2431), mm(2428)))
    assert values_of("rectangle", bed) == whole
    assert outline_of("rectangle", {**whole, **dict.fromkeys(AGAIN)}) == Rectangle(
        mm(2360), mm(580)
    )


def test_one_diagonal_alone_does_not_count() -> None:
    alone = {"length": mm(2360), "width": mm(580), "diagonal-1": mm(2431)}

    assert outline_of("rectangle", alone) == Rectangle(mm(2360), mm(580))


def test_a_measure_that_is_missing_is_asked_for() -> None:
    with pytest.raises(GeometryError, match="needed"):
        outline_of("L", {"length": mm(2000), "width": mm(900), "notch_length": mm(100)})


@pytest.mark.parametrize("cut", [0, -5, 2000, 2500])
def test_a_cut_as_long_as_the_bed_is_refused(cut: int) -> None:
    values = {
        "length": mm(2000),
        "width": mm(900),
        "cut_length": mm(cut),
        "cut_width": mm(100),
    }

    with pytest.raises(GeometryError, match="shorter than the length"):
        outline_of("corner cut", values)


def test_a_five_cornered_bed_without_square_corners_is_free() -> None:
    points = ((0, 0), (1000, 0), (1000, 400), (600, 900), (10, 800))

    assert shape_of(Polygon(tuple((mm(x), mm(y)) for x, y in points))) == "free"


def _bed(length: int, width: int) -> tuple[Project, Bed]:
    bed = Bed("Bed 1", Rectangle(mm(length), mm(width)), mm(10), mm(5))
    return Project("", "mm", (bed,)), bed


def test_boards_lie_the_way_that_gives_fewer_rafts() -> None:
    board = Sheet("board", mm(1200), mm(600))
    along, across = _bed(2425, 620), _bed(620, 2425)

    assert with_foam(*along, board).beds[0].rafts == Fit(mm(1200), mm(600))
    assert with_foam(*across, board).beds[0].rafts == Fit(mm(600), mm(1200))


def test_a_board_that_just_fits_gives_one_raft() -> None:
    project = with_foam(*_bed(1220, 620), Sheet("board", mm(1200), mm(600)))

    assert len(make_plan(project).beds[0].rafts) == 1


def test_another_board_takes_the_place_of_the_first_and_leaves_the_kerf_alone() -> None:
    project, bed = _bed(2425, 620)
    first = with_foam(project, bed, Sheet("a", mm(1200), mm(600)))
    assert first.cutting.kerf == mm(3)
    thin = edits.set_cutting(first, replace(first.cutting, kerf=ZERO))
    more = edits.set_sheets(thin, (*thin.sheets, Sheet("rest", mm(700), mm(300))))

    second = with_foam(more, more.beds[0], Sheet("b", mm(2400), mm(600)))

    assert [sheet.name for sheet in second.sheets] == ["b", "rest"]
    assert second.cutting.kerf == ZERO
    assert second.beds[0].rafts == Fit(mm(2400), mm(600))


def test_another_crop_brings_its_spacing_and_leaves_hand_work_alone() -> None:
    project = first_project(mm(2360), mm(580), "lettuce, head", "mm")
    planted = edits.set_planting(project, "Bed 1", hole_diameter=mm(38), web=mm(30))

    changed = with_crop(planted, planted.beds[0], "pak choi").beds[0].planting

    assert changed is not None
    assert (changed.crop, changed.spacing) == ("pak choi", mm(140))
    assert (changed.hole_diameter, changed.web) == (mm(38), mm(30))
    own = with_crop(planted, planted.beds[0], "").beds[0].planting
    assert own is not None
    assert (own.crop, own.spacing) == ("", mm(200))
