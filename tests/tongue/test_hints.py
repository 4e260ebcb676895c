"""What the canvas says can be done is never cut: at 1024 pixels, beside all that stands there."""

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.tongue import ENGLISH, set_tongue, tr, tr_n
from layout_gui.canvas import thing_gestures
from layout_gui.panels.last_line import LastLine, _Lines
from layout_gui.screen.theme import LIGHT
from layout_gui.tongues import tongue_of
from layout_gui.windows.look import dress, load_fonts
from tests.layout_gui.panels.desk import OFFSCREEN
from tests.tongue.catalogue import texts_of

pytestmark = OFFSCREEN

CANVAS = Path(thing_gestures.__file__).parent
LONG = {
    "along": "1103.6 mm",
    "across": "1103.6 mm",
    "n": 24,
    "place": "1103.6 mm",
    "room": "107 mm to B3, 60.5 mm to the edge",
    "size": "1103.6 mm",
    "sizes": "1103.6 mm \N{MULTIPLICATION SIGN} 120.4 mm",
    "thing": "Obstacle 12",
    "ways": "B2 on R1 to B3 on R1: 195.4 mm = 7 11/16 in",
    "what": "24 holes",
    "x": "1103.6 mm",
    "y": "345.5 mm",
}
"""The longest of what usually fills the hints."""


@cache
def written() -> tuple[tuple[str, str], ...]:
    """Every text in the sources of the canvas that joins what is said by dots."""
    texts = [text for path in sorted(CANVAS.glob("*.py")) for text in texts_of(path)]
    return tuple((text.one, text.many) for text in texts if " \N{MIDDLE DOT} " in text.one)


def hints() -> Iterator[str]:
    """Every hint of the canvas in the language that is spoken, filled."""
    for one, many in written():
        said = tr_n(one, many, 24) if one != many else tr(one)
        yield said.format(**LONG)
    yield f"x 1103.6 mm \N{MIDDLE DOT} y 345.5 mm \N{MIDDLE DOT} {tr(thing_gestures._KEYS)}"


@pytest.fixture
def line(qapp: QApplication, qtbot: QtBot) -> Iterator[LastLine]:
    font, palette, style = qapp.font(), qapp.palette(), qapp.styleSheet()
    load_fonts()
    dress(LIGHT)
    made = LastLine()
    qtbot.addWidget(made)
    made.zoom.show()
    made.show()
    yield made
    set_tongue(ENGLISH)
    qapp.setStyleSheet(style)
    qapp.setPalette(palette)
    qapp.setFont(font)


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_hint_of_the_canvas_is_cut(line: LastLine, language: str) -> None:
    set_tongue(tongue_of(language))
    line.truth.show_text("36 plants · 26.3 per m² · 2.44 per ft² · at most 36 by proof")
    line.resize(1024, 48)
    line.show_place("x 1103.6 mm  y 345.5 mm from raft R12")
    line.show_picked(tr("snapped: {words}", words=tr("in line with {hole}", hole="B2")))
    shown = line.findChildren(_Lines)[2]
    said = list(hints())

    cut = []
    for hint in said:
        line.show_hint(hint)
        if shown.text().replace("\n", " ") != hint:
            cut.append((shown.width_in(2) - shown.width(), hint))
    assert len(said) > 25
    assert cut == []
