"""The station Holes: the rules of the planting, and selected holes by typed places."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from geometry.crops.table import CROPS
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.fields import MIXED, LengthField
from layout_gui.panels.holes_panel import HolesPanel, crop_options, picked_holes, step_options
from layout_gui.panels.now import Hole
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    make_bench,
    make_document,
    make_project,
    now_of,
)

pytestmark = OFFSCREEN


class Shown:
    """The panel at a document, with some holes selected."""

    def __init__(self, qtbot: QtBot, project: Project | None = None) -> None:
        self.document: Document = make_document(project or make_project())
        self.panel = HolesPanel(self.document)
        self.holes: frozenset[Hole] = frozenset()
        qtbot.addWidget(self.panel)
        self.document.plan_changed.connect(lambda _plan: self.show())
        self.show()
        self.panel.show()

    def show(self) -> None:
        self.panel.show_now(now_of(self.document, holes=self.holes))

    def select(self, *holes: Hole) -> None:
        self.holes = frozenset(holes)
        self.show()

    def place(self, hole: Hole) -> tuple[float, float]:
        now = now_of(self.document, holes=frozenset((hole,)))
        (picked,) = picked_holes(now)
        return picked.x, picked.y

    def length(self, name: str) -> LengthField:
        editor = self.panel.picked_form.editor(name)
        assert isinstance(editor, LengthField)
        return editor


@pytest.fixture
def shown(qtbot: QtBot) -> Shown:
    return Shown(qtbot)


def test_every_rule_writes_its_own_value(shown: Shown) -> None:
    form, document = shown.panel.form, shown.document

    for name, value in (
        ("pattern", "hexagonal"),
        ("rows", "across"),
        ("spacing", Length.of(170)),
        ("edge_margin", Length.of(70)),
        ("web", Length.of(30)),
        ("hole_diameter", Length.of("2 in")),
        ("joints", "interchangeable"),
        ("spread", False),
        ("round_to", Length.of("1 mm")),
        ("crop", "basil"),
    ):
        form.editor(name).committed.emit(value)
        assert getattr(document.project.beds[0].planting, name) == value

    assert document.undo_stack.count() == 10


def test_positions_follow_the_units_and_can_be_taken_back(shown: Shown) -> None:
    def offered() -> list[str]:
        return [words for _, words in step_options(now_of(shown.document))]

    assert offered() == ["exact", "1 mm", "1/16 in"]
    shown.document.apply("Inches", replace(shown.document.project, units="in"))
    assert offered() == ["exact", "1/16 in", "1 mm"]

    shown.panel.form.editor("round_to").committed.emit(Length.of("1/16 in"))
    xy = shown.document.plan.beds[0].designs[0].holes.xy / 1.5875
    assert abs(xy - xy.round()).max() < 1e-6
    assert shown.document.undo_stack.undoText() == "Positions 1/16 in"

    shown.panel.form.editor("round_to").committed.emit(None)
    assert shown.document.undo_stack.undoText() == "Positions exact"
    shown.document.undo_stack.undo()
    assert shown.document.project.beds[0].planting is not None
    assert shown.document.project.beds[0].planting.round_to == Length.of("1/16 in")


def test_a_step_of_the_file_that_is_not_usual_is_offered_too(shown: Shown) -> None:
    shown.panel.form.editor("round_to").committed.emit(Length.of("5 mm"))

    assert [words for _, words in step_options(now_of(shown.document))][-1] == "5 mm"


def test_choosing_a_crop_moves_no_value_and_offers_its_spacing(shown: Shown) -> None:
    shown.panel.form.editor("crop").committed.emit("pak choi, small")
    planting = shown.document.project.beds[0].planting
    assert planting is not None
    assert planting.spacing == Length.of(190)

    assert shown.panel.spacing_button.text() == "Use its spacing, 10 cm"
    shown.panel.spacing_button.click()

    planting = shown.document.project.beds[0].planting
    assert planting is not None
    assert planting.spacing == Length.of(100)
    assert not shown.panel.spacing_button.isVisible()
    assert shown.document.undo_stack.undoText() == "Spacing 10 cm"


def test_the_source_of_a_crop_is_named(shown: Shown) -> None:
    for crop in CROPS:
        shown.panel.form.editor("crop").committed.emit(crop.name)
        assert crop.source in shown.panel.source


def test_every_crop_of_the_table_is_offered_and_so_is_the_bed_s_own(shown: Shown) -> None:
    shown.panel.form.editor("crop").committed.emit("sea kale")
    names = [name for name, _ in crop_options(now_of(shown.document))]

    assert names[:2] == ["", "sea kale"]
    assert {crop.name for crop in CROPS} < set(names)


def test_row_spacing_is_only_asked_where_it_counts(shown: Shown) -> None:
    editor = shown.panel.form.editor("row_spacing")
    assert not editor.isVisible()

    shown.panel.form.editor("pattern").committed.emit("rectangular")
    assert editor.isVisible()
    editor.committed.emit(Length.of(250))
    editor.committed.emit(None)

    planting = shown.document.project.beds[0].planting
    assert planting is not None
    assert planting.row_spacing is None
    assert shown.document.undo_stack.undoText() == "Row spacing as the spacing"


def test_beneath_a_field_stands_what_follows_from_it(shown: Shown) -> None:
    rows, plan = shown.panel.form.rows, shown.document.plan.beds[0]

    assert plan.least_web_mm is not None
    assert f"left now: {plan.least_web_mm:.1f}".rstrip("0").rstrip(".") in rows["web"].note.text()
    assert str(plan.plants) in rows["pattern"].note.text()
    assert "a 2 in saw gives 50.8 mm" in rows["hole_diameter"].note.text()


def test_a_bed_without_planting_can_be_planted(qtbot: QtBot) -> None:
    shown = Shown(qtbot, make_project(make_bench(planting=None)))
    panel = shown.panel
    assert not panel.form.isVisible()

    panel.plant_button.click()

    assert shown.document.plan.plants > 0
    assert panel.form.isVisible()
    assert not panel.plant_button.isVisible()


def test_a_selected_hole_is_moved_by_typing_and_becomes_pinned(shown: Shown) -> None:
    shown.select(("R1", "A1"))
    before = shown.place(("R1", "A1"))
    assert shown.panel.picked_title == "Hole A1 on raft R1"
    assert shown.panel.pin_button.text() == "Pin here"

    shown.length("hole-x").committed.emit(Length.of(101))

    assert shown.place(("R1", "A1")) == (101, before[1])
    assert shown.panel.pin_button.text() == "Unpin"
    assert shown.document.undo_stack.undoText() == "From the left 101 mm"
    shown.panel.pin_button.click()
    assert shown.place(("R1", "A1")) == before


def test_places_that_differ_are_mixed_and_typing_lines_them_up(shown: Shown) -> None:
    shown.select(("R1", "A1"), ("R1", "A2"))
    assert shown.panel.picked_title == "2 holes"
    assert shown.length("hole-x").value() is MIXED
    assert isinstance(shown.length("hole-y").value(), Length)

    shown.length("hole-y").committed.emit(Length.of(88))

    assert [shown.place(("R1", name))[1] for name in ("A1", "A2")] == [88, 88]
    assert shown.document.undo_stack.count() == 1


def test_selected_holes_are_left_out_and_undo_brings_them_back(shown: Shown) -> None:
    plants = shown.document.plan.plants
    shown.select(("R1", "A1"), ("R2", "B2"))

    shown.panel.leave_button.click()

    assert shown.document.plan.plants == plants - 2
    assert shown.document.undo_stack.undoText() == "Leave out 2 holes"
    shown.document.undo_stack.undo()
    assert shown.document.plan.plants == plants


def test_without_a_selection_there_is_nothing_about_holes(shown: Shown) -> None:
    shown.select(("R9", "Z9"))
    assert not shown.panel.picked_form.isVisible()


def test_the_shown_count_is_the_plan_s(shown: Shown) -> None:
    assert shown.document.plan.plants == make_plan(shown.document.project).plants
