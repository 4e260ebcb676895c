"""The station Bed: beds, measurements, obstacles; every change is one named undo step."""

from dataclasses import replace

from pytestqt.qtbot import QtBot

from geometry.model.log import Log, Note, RaftMade
from geometry.model.outlines import Disc, Measured, Rectangle
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.bed_panel import BedPanel
from layout_gui.panels.now import Now
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_document, make_project

pytestmark = OFFSCREEN


def make_panel(
    qtbot: QtBot, project: Project | None = None
) -> tuple[BedPanel, Document, Selection]:
    document, selection = make_document(project or make_project()), Selection()
    selection.set_bed(document.project.beds[0].name)
    panel = BedPanel(document, selection)
    qtbot.addWidget(panel)

    def show() -> None:
        panel.show_now(Now(document.project, document.plan, selection.bed))

    document.plan_changed.connect(lambda _plan: show())
    selection.changed.connect(show)
    show()
    panel.show()
    return panel, document, selection


def test_another_outline_keeps_the_size_and_is_undone_in_one_step(qtbot: QtBot) -> None:
    panel, document, _ = make_panel(qtbot)
    before = document.project

    panel.form.editor("kind").committed.emit(Measured)

    assert document.project.beds[0].outline == Measured((Length.of(600),), (Length.of(1200),))
    assert document.undo_stack.undoText() == "Outline as the tape found it"
    assert panel.form.editor("widths").isVisible()
    assert not panel.form.editor("length").isVisible()
    document.undo_stack.undo()
    assert document.project is before


def test_measures_and_clearance_are_written_to_the_bed(qtbot: QtBot) -> None:
    panel, document, _ = make_panel(qtbot)

    panel.form.editor("length").committed.emit(Length.of("47 5/8 in"))
    panel.gap_form.editor("clearance").committed.emit(Length.of(12))

    bed = document.project.beds[0]
    assert isinstance(bed.outline, Rectangle)
    assert bed.outline.length == Length.of("47 5/8 in")
    assert bed.clearance == Length.of(12)
    assert document.undo_stack.count() == 2


def test_an_obstacle_may_lie_above_the_water(qtbot: QtBot) -> None:
    panel, document, _ = make_panel(qtbot)
    above = panel.obstacle_form.editor("obstacle-above")

    above.committed.emit(Length.of(80))
    assert document.project.beds[0].obstacles[0].above == Length.of(80)
    assert document.plan.waters[0].fit.lifting.covered == ("R1",)
    above.committed.emit(None)
    assert document.project.beds[0].obstacles[0].above is None


def test_beds_are_added_doubled_renamed_and_removed(qtbot: QtBot) -> None:
    panel, document, selection = make_panel(qtbot)
    buttons = panel.beds.buttons

    assert not buttons["Remove"].isEnabled()
    buttons["Add"].click()
    assert [bed.name for bed in document.project.beds] == ["Bench", "Bed"]
    assert selection.bed == "Bed"
    panel.form.editor("bed-name").committed.emit("South")
    selection.set_bed("South")
    buttons["Duplicate"].click()
    assert [bed.name for bed in document.project.beds] == ["Bench", "South", "South 2"]
    assert document.project.beds[2].outline == document.project.beds[1].outline
    buttons["Remove"].click()
    assert [bed.name for bed in document.project.beds] == ["Bench", "South"]


def test_picking_a_bed_turns_to_it(qtbot: QtBot) -> None:
    panel, _, selection = make_panel(qtbot, make_project(make_bench(), make_bench(name="Other")))

    panel.beds.list.setCurrentRow(1)

    assert selection.bed == "Other"


def test_a_taken_name_is_refused_beside_its_field(qtbot: QtBot) -> None:
    panel, document, _ = make_panel(qtbot, make_project(make_bench(), make_bench(name="Other")))
    before = document.project

    panel.form.editor("bed-name").committed.emit("Other")

    assert document.project is before
    assert panel.form.rows["bed-name"].note.text().startswith("!")


def test_an_obstacle_is_added_placed_shaped_and_removed(qtbot: QtBot) -> None:
    panel, document, _ = make_panel(qtbot, make_project(make_bench(obstacles=())))
    form = panel.obstacle_form

    assert not form.isVisible()
    panel.obstacles.buttons["Add"].click()
    assert form.isVisible()
    form.editor("obstacle-name").committed.emit("air stone")
    form.editor("obstacle-x").committed.emit(Length.of(1190))
    form.editor("obstacle-kind").committed.emit(Rectangle)
    form.editor("obstacle-at").committed.emit(False)
    form.editor("obstacle-clearance").committed.emit(Length.of(30))

    obstacle = document.project.beds[0].obstacles[0]
    assert obstacle.name == "air stone"
    assert isinstance(obstacle.shape, Rectangle)
    assert obstacle.centre is None
    assert obstacle.corner is not None
    assert (obstacle.corner.x, obstacle.clearance) == (Length.of(1190), Length.of(30))
    panel.obstacles.buttons["Remove"].click()
    assert document.project.beds[0].obstacles == ()
    assert document.undo_stack.undoText() == "Remove air stone"


def test_of_two_obstacles_the_picked_one_is_changed(qtbot: QtBot) -> None:
    panel, document, _ = make_panel(qtbot)
    panel.obstacles.buttons["Add"].click()

    panel.obstacles.list.setCurrentRow(0)
    panel.obstacle_form.editor("obstacle-diameter").committed.emit(Length.of(30))

    first, second = document.project.beds[0].obstacles
    assert first.shape == Disc(Length.of(30))
    assert second.shape == Disc(Length.of(40))


def test_a_bed_that_is_copied_brings_what_the_log_remembers_of_its_rafts(qtbot: QtBot) -> None:
    log = Log(
        (RaftMade("A7", bed="Bench", raft="R1"), RaftMade("B1", bed="Other", raft="R1")),
        notes=(
            Note("The fence snapped at the third hole.", "raft", "A7"),
            Note("Too narrow.", "raft", "B1"),
        ),
    )
    panel, _, _ = make_panel(qtbot, replace(make_project(), log=log))
    said: list[str] = []
    panel.said.connect(said.append)
    panel.beds.buttons["Duplicate"].click()
    assert said == ["The log has a note about Bench: A7: The fence snapped at the third hole."]
