"""The water of a bed at its station: fields, figures that follow, rain that is only tried out."""

from dataclasses import replace
from fractions import Fraction

from pytestqt.qtbot import QtBot

from geometry.model.outlines import Rectangle
from geometry.model.project import Project
from geometry.model.water import Water
from geometry.units import Length, Unit
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.now import Now
from layout_gui.panels.water_part import WaterPart
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project

pytestmark = OFFSCREEN


def _project(water: Water, unit: Unit = "mm") -> Project:
    """2.4 x 1.2 m, as job map formula 12 has it."""
    project = make_project()
    outline = Rectangle(Length.of(2400), Length.of(1200))
    bed = replace(project.beds[0], outline=outline, water=water)
    return replace(project, beds=(bed,), units=unit)


def _part(qtbot: QtBot, project: Project) -> tuple[WaterPart, Document]:
    document, selection = make_document(project), Selection()
    selection.set_bed(project.beds[0].name)
    part = WaterPart(document)
    qtbot.addWidget(part)

    def show() -> None:
        part.show_now(Now(document.project, document.plan, selection.bed))

    document.plan_changed.connect(lambda _plan: show())
    show()
    part.fold.toggle()
    part.show()
    return part, document


def test_without_a_depth_it_says_what_to_measure(qtbot: QtBot) -> None:
    part, _ = _part(qtbot, _project(Water()))
    assert part.facts == []
    assert "straight down to the floor" in part.missing.text()
    assert part.fold.note.text() == "the depth is not measured yet"
    assert not part.rain.isVisible()


def test_figures_and_rain_follow_from_the_depth(qtbot: QtBot) -> None:
    water = Water(depth=Length.of(200), low=Length.of(20), high=Length.of(30))
    part, document = _part(qtbot, _project(water))
    before = document.project
    facts = dict(part.facts)
    assert facts["It holds"] == "576 L"
    assert facts["At low water"] == "518 L"
    assert facts["Air stones"] == "1 to 2"
    assert facts["Oxygen at most"] == "9.1 mg/L"
    # 50 mm add 144 L, a fifth of the mix; 30 mm of headroom hold 86.4 L of them.
    assert part.rain_words.text() == (
        "50 mm of rain bring 144 L: 20% of the mix would then be rain. 57.6 L do not fit below "
        "the high level and run over, nutrients with them."
    )
    part.rain.settle(Length.of(20))
    part.rain.committed.emit(Length.of(20))
    assert "holds it below the high level" in part.rain_words.text()
    assert document.project is before


def test_what_is_metered_and_how_warm_it_is_are_typed(qtbot: QtBot) -> None:
    part, document = _part(qtbot, _project(Water(depth=Length.of("8 in")), "in"))
    part.form.editor("water-metered").committed.emit("125 gal")
    part.form.editor("water-celsius").committed.emit("77")
    water = document.project.beds[0].water
    assert water.metered is not None
    assert float(water.metered.litres) == 125 * 3.785411784
    assert water.celsius == 25
    facts = dict(part.facts)
    assert facts["It holds"] == "125.0 US gal"
    assert facts["Oxygen at most"] == "8.3 mg/L"
    assert "125.0 US gal" in part.doses.text()
    part.form.editor("water-celsius").committed.emit("warm")
    assert document.project.beds[0].water.celsius == 25
    assert "20 °C, or 68 °F" in part.form.rows["water-celsius"].note.text()
    part.form.editor("water-metered").committed.emit("")
    assert document.project.beds[0].water.metered is None
    document.undo_stack.undo()
    assert document.project.beds[0].water.metered == water.metered
    assert document.project.beds[0].water.celsius == Fraction(25)
