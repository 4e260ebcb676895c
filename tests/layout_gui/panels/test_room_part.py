"""Water levels at Bed, and the room and the light of rafts at Rafts: fields and figures."""

from dataclasses import replace

from pytestqt.qtbot import QtBot

from geometry.model.outlines import Disc, Tapered
from geometry.model.water import Walls
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.fields import (
    ChoiceField,
    LengthField,
    NumberField,
    SwitchField,
)
from layout_gui.panels.form import Form
from layout_gui.panels.levels_part import LevelsPart
from layout_gui.panels.room_part import RoomPart
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
)

pytestmark = OFFSCREEN
mm = Length.of


def length(form: Form, name: str, text: str) -> None:
    editor = form.editor(name)
    assert isinstance(editor, LengthField)
    editor.committed.emit(Length.of(text))


def levels(qtbot: QtBot, document: Document) -> LevelsPart:
    part = LevelsPart(document)
    qtbot.addWidget(part)
    keep_showing(document, part.show_now)
    return part


def room(qtbot: QtBot, document: Document) -> RoomPart:
    part = RoomPart(document)
    qtbot.addWidget(part)
    keep_showing(document, part.show_now)
    return part


def test_levels_and_walls_are_typed_and_taken_back(qtbot: QtBot) -> None:
    document = make_document(make_project())
    part = levels(qtbot, document)
    assert part.fold.note.text() == ""

    length(part.form, "water-depth", "180 mm")
    length(part.form, "water-low", "100 mm")
    walls = part.form.editor("walls")
    assert isinstance(walls, ChoiceField)
    walls.committed.emit(True)
    length(part.form, "wall-width", "7 1/16 in")

    water = document.project.beds[0].water
    assert (water.depth, water.low) == (mm(180), mm(100))
    assert water.walls == Walls(mm(180), mm(1200), mm("7 1/16 in"))
    assert part.fold.note.text() == "180 mm deep, falls 100 mm, walls lean"
    assert part.told.text().startswith("At low water 0 mm shorter, ")
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.project.beds[0].water.walls is None


def test_a_round_bed_asks_for_one_width_and_a_tapered_one_for_none(qtbot: QtBot) -> None:
    disc = make_bench(outline=Disc(mm(1000)))
    document = make_document(make_project(disc))
    part = levels(qtbot, document)
    walls = part.form.editor("walls")
    assert isinstance(walls, ChoiceField)
    walls.committed.emit(True)
    length(part.form, "wall-width", "900 mm")

    assert document.project.beds[0].water.walls == Walls(mm(100), mm(900), mm(900))
    assert part.form.editor("wall-length").isHidden()
    tapered = make_bench(outline=Tapered(mm(1200), mm(600), mm(500)))
    other = levels(qtbot, make_document(make_project(tapered)))
    assert other.form.editor("walls").isHidden()


def test_the_room_at_each_level_follows_what_makes_rafts_larger(qtbot: QtBot) -> None:
    document = make_document(make_project())
    part = room(qtbot, document)
    assert part.room.note.text() == "at least 25 mm along, 20 mm across"
    assert [fact.name for fact in part.levels.facts] == ["Working level"]

    length(part.growth, "growth-film", "1 mm")
    warming = part.growth.editor("growth-warming")
    assert isinstance(warming, NumberField)
    warming.committed.emit(warming.read("30"))

    # Two rafts of 587.5 mm: 4 mm of paint, and 0.07 x 30 / 1000 of their length.
    (fact,) = part.levels.facts
    assert fact.value == "18.5 to 25 mm along, 16.8 to 20 mm across"
    water = replace(document.project.beds[0].water, low=mm(50), high=mm(20))
    bed = replace(document.project.beds[0], water=water)
    document.apply("levels", replace(document.project, beds=(bed,)))
    assert [fact.name for fact in part.levels.facts] == [
        "Low water",
        "Working level",
        "High water",
    ]


def test_a_strip_and_limits_are_set_beside_the_figures(qtbot: QtBot) -> None:
    document = make_document(make_project())
    part = room(qtbot, document)
    shown = {fact.name: fact.value for fact in part.parts.facts}
    assert shown["Widest gap"] == "25 mm along the bed"
    assert shown["Around pots"] == "not known"
    assert part.light.note.text() == "5.3 % of the water lies open"

    length(part.seal, "limit-gap", "20 mm")
    assert "gap" in {finding.code for finding in document.plan.findings}
    strip = part.seal.editor("edge_seal")
    assert isinstance(strip, SwitchField)
    strip.committed.emit(True)
    assert document.project.beds[0].edge_seal
    assert part.light.note.text() == "0.4 % of the water lies open"
    assert "gap" not in {finding.code for finding in document.plan.findings}
    share = part.seal.editor("limit-open_water")
    assert isinstance(share, NumberField)
    share.committed.emit(share.read("0,3"))
    assert document.project.limits.open_water == Length.of("0.003 mm").exact
    assert "open-water" in {finding.code for finding in document.plan.findings}


def test_where_no_raft_fits_both_folds_say_so(qtbot: QtBot) -> None:
    part = room(qtbot, make_document(make_project(make_bench(clearance=mm(300)))))

    assert part.facts == ()
    assert part.room.note.text() == part.light.note.text() == "no raft fits"
