"""The last line: the truth in one breath, always whole."""

from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui.panels.last_line import LastLine, place_words, truth
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    make_bench,
    make_document,
    make_project,
    now_of,
)

pytestmark = OFFSCREEN


def test_it_says_plants_both_densities_and_the_ceiling() -> None:
    now = now_of(make_document(make_project()))
    plan = now.plan.beds[0]

    # 25 per square metre is 2.32 per square foot: 1 ft = 0.3048 m exactly.
    assert truth(now) == (f"18 plants · 25 per m² · 2.32 per ft² · at most {plan.ceiling} by proof")


def test_several_beds_are_added_up() -> None:
    now = now_of(make_document(make_project(make_bench(), make_bench(name="Other"))))

    assert truth(now).endswith(" · 36 in all 2 beds")


def test_a_bed_without_planting_and_no_bed_at_all_claim_nothing() -> None:
    bare = now_of(make_document(make_project(make_bench(planting=None))))

    assert truth(bare) == "nothing planted in this bed"
    assert truth(now_of(make_document(Project("nothing")))) == ""


def test_a_place_says_what_it_is_measured_from() -> None:
    assert place_words(100, 20.5, "R2", "mm") == "x 100 mm  y 20.5 mm from raft R2"
    assert place_words(25.4, 0, "", "in") == "x 1 in  y 0 in from the bed's corner"


def test_the_truth_stays_whole_when_there_is_no_room(qtbot: QtBot) -> None:
    line = LastLine()
    qtbot.addWidget(line)
    line.show_now(now_of(make_document(make_project())))
    line.show_hint("A long hint " * 20)
    line.show_place("x 100 mm  y 20.5 mm from raft R2")
    line.show()

    line.resize(440, 48)

    assert line.truth.text().replace("\n", " ") == line.truth.accessibleName()
    assert "\n" in line.truth.text()
    line.show_hint("A short one")
    line.resize(1400, 48)
    assert line.truth.text() == line.truth.accessibleName()


def test_where_not_even_the_truth_has_room_it_is_cut_within_the_line(qtbot: QtBot) -> None:
    line = LastLine()
    qtbot.addWidget(line)
    line.show_now(now_of(make_document(make_project())))
    line.show()

    line.resize(line.truth.width_in(1) // 4, 48)

    assert line.truth.geometry().right() <= line.width()
    assert line.truth.text().endswith("\N{HORIZONTAL ELLIPSIS}")
    assert line.truth.toolTip() == line.truth.full
