"""How pages are put on paper: what is typed, what follows, and what is refused."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from geometry.drawing.paper import PAPERS, PageSetup, own_paper, roll_paper
from layout_gui.panels.fields import LengthField
from layout_gui.panels.page_setup import (
    OWN,
    ROLL,
    PageSetupPart,
    kept_bars,
    read_setup,
    setup_texts,
)
from layout_gui.panels.parts import stack
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


@pytest.fixture
def part(qtbot: QtBot) -> Iterator[PageSetupPart]:
    made = PageSetupPart(PageSetup())
    everything = stack(made.paper, made.details)
    qtbot.addWidget(everything)
    everything.show()

    yield made
    everything.close()


def field(part: PageSetupPart, name: str) -> LengthField:
    places: tuple[QWidget, ...] = (part.paper, part.details)
    return next(found for place in places for found in place.findChildren(LengthField, name))


def enter(qtbot: QtBot, part: PageSetupPart, name: str, text: str) -> None:
    editor = field(part, name)
    editor.setFocus()
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)


def refused(part: PageSetupPart) -> list[str]:
    notes = part.details.findChildren(QLabel) + part.paper.findChildren(QLabel)
    return [note.text() for note in notes if note.text().startswith("!") and note.isVisible()]


def pick(part: PageSetupPart, key: str) -> None:
    at = [*PAPERS, OWN, ROLL].index(key)
    part.choice.setCurrentIndex(at)
    part.choice.activated.emit(at)


@pytest.mark.parametrize(
    ("name", "text", "expected"),
    [
        ("border", "6", PageSetup(border_mm=6)),
        ("border", "1/4 in", PageSetup(border_mm=6.35)),
        ("overlap", "1.5 cm", PageSetup(overlap_mm=15)),
        ("bar-across", "99,6", PageSetup(across=100 / 99.6)),
        ("bar-along", "100.5", PageSetup(along=100 / 100.5)),
    ],
)
def test_a_typed_length_becomes_part_of_the_setup(
    qtbot: QtBot, part: PageSetupPart, name: str, text: str, expected: PageSetup
) -> None:
    with qtbot.waitSignal(part.changed) as heard:
        enter(qtbot, part, name, text)

    assert heard.args == [expected]
    assert refused(part) == []


@pytest.mark.parametrize(
    ("name", "text", "reason"),
    [
        ("border", "2", "3 to 12 mm"),
        ("border", "a lot", "a lot"),
        ("overlap", "41", "10 to 40 mm"),
        ("bar-across", "94", "at 100 %"),
        ("bar-along", "0", "at 100 %"),
        ("bar-along", "106 mm", "at 100 %"),
    ],
)
def test_what_cannot_be_is_refused_beside_the_field(
    qtbot: QtBot, part: PageSetupPart, name: str, text: str, reason: str
) -> None:
    with qtbot.assertNotEmitted(part.changed):
        enter(qtbot, part, name, text)

    assert len(refused(part)) == 1
    assert reason in refused(part)[0]
    assert part.setup == PageSetup()


def test_a_corrected_print_can_be_corrected_once_more(qtbot: QtBot, part: PageSetupPart) -> None:
    """A printer that makes 99 of 100 mm: measured, then measured again a little wrong."""
    enter(qtbot, part, "bar-across", "99")
    assert "1.01 % larger across and as they are along" in part.said
    enter(qtbot, part, "bar-across", "100.1")

    # Drawn 100 / 99 as large and printed 100.1 mm long: the printer makes 99.099 of 100 mm.
    assert part.setup.across == pytest.approx(100 / 99.099)


def test_a_paper_of_ones_own_is_taken_upright(qtbot: QtBot, part: PageSetupPart) -> None:
    assert not field(part, "paper-width").isVisible()
    pick(part, OWN)
    assert field(part, "paper-width").isVisible()

    enter(qtbot, part, "paper-width", "24 in")
    enter(qtbot, part, "paper-height", "2 m")

    assert (part.setup.paper.width_mm, part.setup.paper.height_mm) == (609.6, 2000)
    enter(qtbot, part, "paper-width", "2.5 m")
    assert (part.setup.paper.width_mm, part.setup.paper.height_mm) == (2000, 2500)
    assert field(part, "paper-width").text() == "2500 mm"  # as typed: the next number is the height
    enter(qtbot, part, "paper-width", "24 in")
    enter(qtbot, part, "paper-width", "10 cm")
    assert "210 mm wide" in refused(part)[0]
    assert part.setup.paper.width_mm == 609.6
    pick(part, "A3")
    assert part.setup.paper == PAPERS["A3"]
    assert not field(part, "paper-width").isVisible()


@pytest.mark.parametrize(
    "setup",
    [
        PageSetup(),
        PageSetup(PAPERS["A3"], border_mm=4.5, overlap_mm=12, across=100 / 99.6, along=0.997),
        PageSetup(own_paper(609.6, 1219.2)),
        PageSetup(roll_paper(609.6), border_mm=8, overlap_mm=20),
    ],
)
def test_the_setup_is_kept_exactly(setup: PageSetup) -> None:
    assert read_setup(setup_texts(setup)) == setup


@pytest.mark.parametrize("texts", [(), ("A4",), ("A4", *["nan"] * 6), (OWN, "1", *["1"] * 5)])
def test_what_was_kept_wrong_counts_as_not_kept(texts: tuple[str, ...]) -> None:
    assert read_setup(texts) == PageSetup()


def test_a_roll_asks_for_its_width_alone(qtbot: QtBot, part: PageSetupPart) -> None:
    assert not field(part, "roll-width").isVisible()

    pick(part, ROLL)

    assert part.setup == PageSetup(roll_paper(914))
    assert field(part, "roll-width").isVisible()
    assert not field(part, "paper-width").isVisible()

    enter(qtbot, part, "roll-width", "24 in")

    assert part.setup.paper == roll_paper(609.6)

    enter(qtbot, part, "roll-width", "24")

    assert refused(part) == ["! A roll must be 280 to 2000 mm wide; usual are 610 and 914 mm."]
    assert part.setup.paper == roll_paper(609.6)


def test_bars_of_sheets_do_not_count_on_a_roll_and_are_not_lost(
    qtbot: QtBot, part: PageSetupPart
) -> None:
    enter(qtbot, part, "bar-across", "99.6")
    corrected = part.setup

    pick(part, ROLL)

    assert not part.setup.is_corrected
    assert kept_bars(part.texts) == (100 / 99.6, 1.0)
    assert not read_setup(part.texts).is_corrected

    pick(part, "common")

    assert part.setup == corrected
