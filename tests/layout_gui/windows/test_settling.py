"""A finding is looked at, cured, left with a note, or opened again."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QWidget

from geometry.checks.finding import Finding
from geometry.model.outlines import Rectangle
from geometry.model.planting import Pin
from geometry.model.run import Run, RunStage
from geometry.model.sheet import Sheet
from geometry.model.supplies import parse_volume
from geometry.model.water import Water
from geometry.model.zone import Zone
from geometry.units import ZERO, Length
from layout_gui.panels.findings import FindingCard
from layout_gui.panels.rafts_panel import RaftsPanel
from layout_gui.panels.runs_part import RunsPart
from layout_gui.panels.station_facts import home_of
from layout_gui.project import edits
from layout_gui.windows.files import sample_files
from layout_gui.windows.finding_places import field_of, places_of
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def asks() -> Answers:
    return Answers()


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path, asks: Answers) -> Iterator[MainWindow]:
    """A bench with one hole dragged over the edge margin."""
    made = make_window(tmp_path, asks=asks)
    made.drawer.set_open(is_open=False)
    pin = Pin("R1", Length.of(40), Length.of(300))
    made.document.start(edits.set_planting(make_project(), "Bench", pins=(pin,)))
    yield made
    discard(made)


def finding_of(window: MainWindow, code: str) -> Finding:
    return next(each for each in window.document.plan.findings if each.code == code)


def test_looking_goes_to_the_station_and_shows_the_place(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[tuple[str, tuple[float, float]]] = []
    monkeypatch.setattr(window.view, "show_place", lambda bed, place: shown.append((bed, place)))
    finding = finding_of(window, "edge")

    window.findings.place_wanted.emit(finding)

    assert window.road.buttons["Holes"].isChecked()
    assert shown == [("Bench", finding.place)]


def test_the_cure_clears_the_finding_and_can_be_undone(window: MainWindow) -> None:
    finding = finding_of(window, "edge")
    before = window.document.project

    window.findings.cure_wanted.emit(finding)

    assert finding.key not in {each.key for each in window.document.plan.findings}
    assert window.document.undo_stack.count() == 1
    window.document.undo_stack.undo()
    assert window.document.project is before


def test_a_finding_without_a_cure_says_so(window: MainWindow) -> None:
    window.findings.cure_wanted.emit(Finding("skew", "question", "Bench"))

    assert window.notice.isVisibleTo(window)
    assert not window.document.undo_stack.canUndo()


def test_leaving_asks_for_a_note_and_keeps_it(window: MainWindow, asks: Answers) -> None:
    finding = finding_of(window, "edge")

    window.findings.leave_wanted.emit(finding)
    assert "60 mm is wanted" in asks.asked[0]
    assert window.document.project.accepted == ()

    asks.words = "the rim is reinforced"
    window.findings.leave_wanted.emit(finding)
    assert window.document.project.accepted[0].note == "the rim is reinforced"
    window.findings.left_filter.click()
    window.findings.reopeners[finding.key].click()
    assert window.document.project.accepted == ()
    assert not window.findings.shows_left


def crowd(window: MainWindow) -> list[Finding]:
    """Four holes dragged over the edge margin."""
    places = ((40, 100), (40, 300), (40, 500), (300, 40))
    pins = tuple(Pin("R1", Length.of(x), Length.of(y)) for x, y in places)
    window.document.start(edits.set_planting(make_project(), "Bench", pins=pins))
    return [each for each in window.document.plan.findings if each.code == "edge"]


def card_of(window: MainWindow, code: str) -> FindingCard:
    return next(card for card in window.findings.cards if card.finding.code == code)


def test_all_of_a_kind_are_cleared_in_one_step(window: MainWindow) -> None:
    assert len(crowd(window)) == 4
    before = window.document.project

    card_of(window, "edge").cure_all.click()

    assert not [each for each in window.document.plan.findings if each.code == "edge"]
    assert window.document.undo_stack.count() == 1
    assert window.document.undo_stack.undoText() == "Clear 4 findings"
    window.document.undo_stack.undo()
    assert window.document.project is before


def test_all_of_a_kind_are_left_with_one_note_and_taken_back(
    window: MainWindow, asks: Answers
) -> None:
    found = crowd(window)
    asks.words = "they hold dill"

    card_of(window, "edge").leave_all.click()

    assert {each.note for each in window.document.project.accepted} == {"they hold dill"}
    assert len(window.document.project.accepted) == 4
    assert "edge" not in {card.finding.code for card in window.findings.cards}
    window.findings.left_filter.click()
    window.findings.reopeners[found[2].key].click()
    assert window.document.project.accepted == ()
    assert window.document.undo_stack.count() == 2


def test_the_road_counts_what_is_to_settle(window: MainWindow) -> None:
    crowd(window)

    button = window.road.buttons["Holes"]
    assert button.station.to_settle == len(open_ones(window))
    assert f"{len(open_ones(window))} to settle" in button.accessibleDescription()


def open_ones(window: MainWindow) -> list[Finding]:
    return [each for each in window.document.plan.findings if each.severity != "note"]


def test_the_holes_of_a_finding_are_selected(window: MainWindow) -> None:
    window.findings.place_wanted.emit(finding_of(window, "edge"))

    assert window.selection.holes == {("R1", finding_of(window, "edge").holes[0])}


def test_a_finding_about_a_design_steps_through_its_rafts(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = make_bench(obstacles=())
    assert bench.planting is not None
    separate = replace(bench.planting, joints="separate")
    window.document.start(make_project(replace(bench, planting=separate)))
    design = window.document.plan.beds[0].rafts[0].design.name
    rafts = [raft.name for raft in window.document.plan.beds[0].rafts if raft.design.name == design]
    assert len(rafts) > 1
    shown: list[tuple[str, tuple[float, float]]] = []
    monkeypatch.setattr(window.view, "show_place", lambda bed, place: shown.append((bed, place)))
    finding = Finding("score-line", "question", "", design, subject="board", amount_mm=20.0)

    seen = []
    for _ in range(len(rafts) + 1):
        window.findings.place_wanted.emit(finding)
        seen.append(window.selection.rafts)

    assert seen == [*({name} for name in rafts), {rafts[0]}]
    assert len(set(shown)) == len(rafts)
    assert window.road.buttons["Rafts"].isChecked()


@pytest.mark.parametrize(
    ("finding", "station", "field"),
    [
        (Finding("unit-slip", "question", "Bench", subject="planting.web"), "Holes", "web"),
        (Finding("unit-slip", "question", "Bench", subject="clearance"), "Bed", "clearance"),
        (Finding("unit-slip", "question", "", subject="cutting.kerf"), "Rafts", "kerf"),
        (Finding("raft-fit", "problem", "Bench", subject="joint_gap"), "Rafts", "joint_gap"),
        (Finding("unit-slip", "question", "Bench", subject="outline.length"), "Bed", "length"),
    ],
)
def test_a_finding_about_a_number_gives_the_keyboard_to_its_field(
    window: MainWindow, finding: Finding, station: str, field: str
) -> None:
    window.show()
    window.activateWindow()

    window.findings.place_wanted.emit(finding)

    assert window.road.buttons[station].isChecked()  # type: ignore[index]
    holder = window.focusWidget()
    assert holder is not None
    assert field in {holder.objectName(), holder.parentWidget().objectName()}


def test_every_sample_finding_leads_somewhere(window: MainWindow) -> None:
    """Each finding of the samples has a place, or a station and a field."""
    for path in sample_files():
        window.files.open_sample(path)
        for finding in window.document.plan.findings:
            window.findings.place_wanted.emit(finding)
            has_place = bool(places_of(finding, window.document.plan))
            assert has_place or field_of(finding) or home_of(finding) == "Make", finding


def test_a_field_in_a_closed_fold_is_brought_to_light(window: MainWindow) -> None:
    water = Water(depth=Length.of(200), metered=parse_volume("50 L", "mm"))
    window.document.start(make_project(make_bench(water=water)))
    window.findings.place_wanted.emit(finding_of(window, "metered-fill"))
    panel = window.fields.panel("Bed")
    field = panel.findChild(QWidget, "water-metered")
    assert field is not None
    assert field.isVisibleTo(panel)


def test_the_zone_the_sheet_or_the_run_of_a_finding_comes_into_sight(window: MainWindow) -> None:
    size = Rectangle(Length.of(300), Length.of(300))
    zones = tuple(Zone(name, shape=size, corner=(ZERO, ZERO)) for name in ("dill", "mint"))
    runs = tuple(
        Run(name, "basil", (RunStage("bed", 14, bed="Bench"),)) for name in ("early", "late")
    )
    sheets = tuple(Sheet(name, Length.of(1250), Length.of(600)) for name in ("thin", "thick"))
    project = make_project(make_bench(zones=zones, obstacles=()))
    window.document.start(replace(project, runs=runs, sheets=sheets))
    shows = window.findings.place_wanted.emit

    shows(Finding("pot-falls", "question", "Bench", subject="pot", zone="mint"))
    assert window.selection.zone == "mint"
    shows(Finding("unit-slip", "question", "Bench", subject="zones.0.spacing"))
    assert window.selection.zone == "dill"
    shows(Finding("unit-slip", "question", "", subject="sheets.1.length"))
    rafts = window.fields.panel("Rafts")
    assert isinstance(rafts, RaftsPanel)
    assert rafts.sheets.row == 1
    shows(Finding("run-fit", "question", "Bench", subject="late"))
    sown = window.fields.panel("Grow").findChild(RunsPart)
    assert sown is not None
    assert sown.run == runs[1]
