"""Make shows what each kind of template needs before anything is printed."""

from pathlib import Path

from pytestqt.qtbot import QtBot

from geometry.drawing.paper import PageSetup
from geometry.drawing.short.offers import offers, sum_line, summed
from geometry.units import Length
from layout_gui.panels.make_panel import MakePanel
from layout_gui.panels.page_setup import read_setup, setup_texts
from layout_gui.panels.templates_part import TemplatesPart
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project, now_of
from tests.layout_gui.panels.test_make_panel import make_panel

pytestmark = OFFSCREEN


def _panel(qtbot: QtBot, folder: Path) -> MakePanel:
    panel, _ = make_panel(qtbot, folder)
    return panel


def test_the_lines_are_those_of_the_offers(qtbot: QtBot, tmp_path: Path) -> None:
    panel = _panel(qtbot, tmp_path)
    part = panel.compared
    panel.templates.toggle()
    with qtbot.waitSignal(part.shown, timeout=20_000):
        part.show_setup(PageSetup())
        part.show_plan(now_of(make_document(make_project())).plan)

    plan = now_of(make_document(make_project())).plan
    lines = [
        sum_line(offer, missing) for offer, missing in summed(tuple(offers(plan, PageSetup())))
    ]
    assert part.words.split("\n") == lines
    assert any("Strip" in line and "page" in line for line in lines)


def test_nothing_is_worked_out_while_nobody_looks(qtbot: QtBot) -> None:
    part = TemplatesPart(PageSetup())
    qtbot.addWidget(part)
    part.show_plan(now_of(make_document(make_project())).plan)

    assert part.words == ""
    with qtbot.waitSignal(part.shown, timeout=20_000):
        part.show()


def test_both_measures_of_a_pegboard_are_taken_and_kept(qtbot: QtBot, tmp_path: Path) -> None:
    panel = _panel(qtbot, tmp_path)
    x, y = panel.compared.fields
    x.committed.emit(Length.of("11/16 in"))
    assert panel.page_setup.setup.pegs is None, "one measure alone says nothing"
    y.committed.emit(Length.of(12.5))

    assert panel.page_setup.setup.pegs == (17.4625, 12.5)
    kept = read_setup(panel.page_setup.texts)
    assert kept.pegs == (17.4625, 12.5)

    panel.compared.forget_button.click()
    assert panel.page_setup.setup.pegs is None
    assert read_setup(panel.page_setup.texts).pegs is None


def test_a_measure_that_cannot_be_is_refused_in_words(qtbot: QtBot, tmp_path: Path) -> None:
    panel = _panel(qtbot, tmp_path)
    x, y = panel.compared.fields
    x.committed.emit(Length.of(12.7))
    y.committed.emit(Length.of(254))

    assert panel.page_setup.setup.pegs is None
    assert not panel.compared._refusal.isHidden()
    assert "0 to 100 mm" in panel.compared._refusal.text()


def test_what_was_kept_without_a_pegboard_is_read_as_before() -> None:
    assert len(setup_texts(PageSetup())) == 7
    assert read_setup(setup_texts(PageSetup(pegs=(1.5, 2.25)))) == PageSetup(pegs=(1.5, 2.25))
