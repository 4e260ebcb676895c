"""What is sown, and when: fields, figures and edits at the station Grow."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from pytestqt.qtbot import QtBot

from geometry.errors import GeometryError
from geometry.model.run import Run, RunStage
from layout_gui.document.document import Document
from layout_gui.panels.dates import date_text, read_day
from layout_gui.panels.fields import CountField
from layout_gui.panels.form import Form
from layout_gui.panels.runs_part import RunsPart, read_percent
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, make_project

pytestmark = OFFSCREEN

MONDAY = date(2027, 3, 1)
SALAD = Run(
    "salad",
    "lettuce, head",
    (RunStage("tray", 21, Fraction(9, 10)), RunStage("bed", 14, bed="Bench")),
    first=MONDAY,
)


def shown(qtbot: QtBot, *runs: Run) -> tuple[RunsPart, Document]:
    document = make_document(replace(make_project(), runs=runs))
    part = RunsPart(document, today=lambda: date(2027, 2, 24))
    qtbot.addWidget(part)
    keep_showing(document, part.show_now)
    part.show()
    return part, document


def commit(form: Form, name: str, value: object) -> None:
    editor = form.editor(name)
    if isinstance(editor, CountField):
        editor.stepped.emit(value)
    else:
        editor.committed.emit(value)


def test_one_press_plans_the_crop_of_the_bed_and_undo_takes_it_back(qtbot: QtBot) -> None:
    part, document = shown(qtbot)

    part.begin.click()

    (run,) = document.project.runs
    assert (run.crop, run.first, run.stages[1].bed) == ("lettuce, head", MONDAY, "Bench")
    # Two rafts of nine and 28 days: one raft every other week; 8.55 of nine, of twelve seeds.
    assert run.every == 14
    assert "Each batch: 12 seeds, 8.5 to pick." in part.figures.text()
    assert not document.plan.findings
    assert "24 to 32" in part.assumed.text()
    document.undo_stack.undo()
    assert not document.project.runs
    assert part.begin.isVisible()


def test_figures_are_those_of_the_plan_and_follow_what_is_typed(qtbot: QtBot) -> None:
    part, document = shown(qtbot, SALAD)

    assert "Each batch: 10 seeds, 9 to pick." in part.figures.text()
    assert f"First harvest on {date_text(date(2027, 4, 5))}." in part.figures.text()
    assert "Bench: 2 of 2 places on the fullest day." in part.figures.text()
    commit(part.form, "run-every", 14)
    assert "Each batch: 20 seeds, 18 to pick." in part.figures.text()
    commit(part.form, "run-target", 9)
    assert document.project.runs[0].target == 9
    commit(part.form, "run-until", date_text(date(2027, 6, 1)))
    assert "Last sowing on" in part.figures.text()
    commit(part.form, "run-until", "soon")
    assert "is no day of the calendar" in part.form.rows["run-until"].note.text()
    commit(part.form, "run-until", "")
    assert document.project.runs[0].until is None


def test_a_stage_is_typed_beside_the_list(qtbot: QtBot) -> None:
    part, document = shown(qtbot, SALAD)

    commit(part.stage_form, "stage-survival", "80 %")
    part.stages.list.setCurrentRow(1)
    commit(part.stage_form, "stage-sites", 6)
    commit(part.stage_form, "stage-more_beds", "Pond")

    tray, bed = document.project.runs[0].stages
    assert (tray.survival, bed.sites, bed.more_beds) == (Fraction(4, 5), 6, ())
    assert "there is no bed “Pond”".lower() in (
        part.stage_form.rows["stage-more_beds"].note.text().lower()
    )
    part.stages.buttons["Add"].click()
    part.stages.buttons["Earlier"].click()
    assert [stage.name for stage in document.project.runs[0].stages] == ["tray", "Stage 3", "bed"]
    part.stages.buttons["Remove"].click()
    assert len(document.project.runs[0].stages) == 2


def test_a_household_asks_the_simplest_question(qtbot: QtBot) -> None:
    part, document = shown(qtbot, replace(SALAD, stages=(RunStage("bed", 21, bed="Bench"),)))
    part.eaten.setValue(4)

    part.home.inside.findChildren(type(part.begin))[0].click()

    run = document.project.runs[0]
    assert (run.every, run.target, run.stands, run.share_rafts) == (7, 4, 7, True)
    # Four a week for three weeks and one to be eaten: 16 plants on two rafts of nine.
    assert "Bench: 2 of 2 places" in part.figures.text()
    assert not document.plan.findings


def test_pauses_slow_times_failures_and_orders(qtbot: QtBot) -> None:
    part, document = shown(qtbot, SALAD)

    part.pauses.buttons["Add"].click()
    part.slow.buttons["Add"].click()
    commit(part.slow_form, "slow-factor", Fraction(2))
    commit(part.pause_form, "pauses-why", "holidays")

    run = document.project.runs[0]
    assert (run.pauses[0].why, run.slow_times[0].factor) == ("holidays", 2)
    assert part.times.note.text() == "1 pause, 1 slow time"
    part.pauses.buttons["Remove"].click()
    assert document.project.runs[0].pauses == ()
    part.lost_on.setText(date_text(date(2027, 3, 29)))
    part.ordered_for.setText("2027-06-01")
    part.lost_on.editingFinished.emit()
    assert "9 are missing in the week of" in part.loss.text()
    assert "For 50 on" in part.order.text()
    assert "sow 56 seeds" in part.order.text()
    # Twice as long in the bed, and four rafts are wanted where there are two.
    assert [finding.code for finding in document.plan.findings] == ["run-fit"]


@pytest.mark.parametrize("text", ["0", "101 %", "half", "1/0", ""])
def test_no_share_is_refused(text: str) -> None:
    with pytest.raises(GeometryError):
        read_percent(text)


def test_days_and_shares_are_read_as_people_write_them() -> None:
    assert read_percent("97,5 %") == Fraction(975, 1000)
    assert read_day(date_text(MONDAY)) == read_day("2027-03-01") == MONDAY
    assert "2027" in date_text(MONDAY)
    with pytest.raises(GeometryError, match="2026-03-31"):
        read_day("31 February")


def test_a_run_is_shown_by_its_name(qtbot: QtBot) -> None:
    part, _ = shown(qtbot, SALAD, replace(SALAD, name="herbs"))

    part.pick("herbs")

    assert part.run is not None
    assert part.run.name == "herbs"
    part.pick("nobody")
    assert part.run.name == "herbs"
