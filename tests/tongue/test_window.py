"""The window in other tongues: nothing escapes, nothing is cut, the known words are read."""

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.exceptions import TimeoutError as QtTimeoutError
from pytestqt.qtbot import QtBot

from geometry.crops.facts import FACTS
from geometry.drawing.paper import COMMON
from geometry.drawing.printer import Printer
from geometry.growth.harvest import TRIALS
from geometry.tongue import ENGLISH, set_tongue, tr_n
from layout_gui.dialogs.reading import problem_dialog
from layout_gui.panels.make_panel import MakePanel
from layout_gui.panels.parts import Fold
from layout_gui.panels.printer_dialog import PrinterDialog
from layout_gui.screen.theme import LIGHT
from layout_gui.tongues import LANGUAGES, tongue_of
from layout_gui.windows.look import dress
from layout_gui.windows.main_window import MainWindow
from layout_gui.windows.menus.row import MENUS
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.everywhere import every_view, make_full_project, waiting
from tests.layout_gui.windows.open_window import discard, make_window
from tests.tongue.pseudo import OPEN, PSEUDO, outside
from tests.tongue.seen import Seen, cut_off, texts

pytestmark = OFFSCREEN

SIZES = ((1024, 700), (1440, 900))
KEYS = "Ctrl|Shift|Alt|Esc|Enter|Ins|Del|Tab|PgDown|PgUp|Home|End|F[0-9]+|Space"
SAMPLES = (
    "School bench|First raft|Round pool|Courtyard L|Backyard tanks|Lined trough|Market bench"
    "|Twin raceways"
)
ALLOWED = re.compile(
    rf"(?:(?:Ctrl|Shift|Alt)\+)+\w+|/\S+|\b(?:mm|cm|in|ft|m|x|y|{KEYS}|R[0-9]+|[A-Z][0-9]+|English"
    rf"|Español|Raftwright|{SAMPLES}|Bench(?: test)?|pipe|board(?: [0-9]+ x [0-9]+)?)\b"
)
"""Names, keys and units, which are the same in every tongue."""


SOURCES = re.compile(
    "|".join(re.escape(one) for one in {each.source for each in (*FACTS, *TRIALS)})
)
"""Titles of papers stay as they were published."""


def escaped(seen: Iterator[Seen]) -> list[str]:
    """What is written in letters outside the brackets of the made-up tongue."""
    return sorted(
        {
            f"{where}: {text}"
            for text, where in seen
            if re.search(r"[^\W\d_]{2,}", ALLOWED.sub("", SOURCES.sub("", outside(text))))
        }
    )


@pytest.fixture
def speak(qapp: QApplication) -> Iterator[Callable[[str], None]]:
    """Lets a test speak another language and look as the window does."""
    font, palette, style = qapp.font(), qapp.palette(), qapp.styleSheet()
    dress(LIGHT)
    yield lambda language: set_tongue(PSEUDO if language == "pseudo" else tongue_of(language))
    set_tongue(ENGLISH)
    qapp.setStyleSheet(style)
    qapp.setPalette(palette)
    qapp.setFont(font)


@pytest.fixture
def make(tmp_path: Path, speak: Callable[[str], None]) -> Iterator[Callable[[str], MainWindow]]:
    windows: list[MainWindow] = []

    def made(language: str) -> MainWindow:
        speak(language)
        windows.append(make_window(tmp_path))
        return windows[-1]

    yield made
    for window in windows:
        discard(window)


def at_every_view(window: MainWindow, qtbot: QtBot) -> Iterator[str]:
    """Go everywhere, first without a bed."""
    with qtbot.waitExposed(window):
        window.show()
    yield "start"
    window.document.start(make_full_project())
    yield from every_view(window, waiting(qtbot))


def cut_short(window: MainWindow, qtbot: QtBot) -> list[str]:
    """What stays cut off when layouts have settled; not texts that are made longer twice."""

    def found() -> list[str]:
        return [each for each in cut_off(window) if OPEN * 2 not in each]

    with suppress(QtTimeoutError):
        qtbot.waitUntil(lambda: not found(), timeout=1000)
    return found()


def test_nothing_escapes_the_tongue_and_nothing_is_cut_off_from_right_to_left(
    qtbot: QtBot, qapp: QApplication, make: Callable[[str], MainWindow]
) -> None:
    qapp.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    try:
        window = make("pseudo")
        window.resize(*SIZES[-1])
        found: dict[str, str] = {}
        for view in at_every_view(window, qtbot):
            found.update((each, view) for each in escaped(texts(window)))
            found.update((each, view) for each in cut_short(window, qtbot))
        assert found == {}
        assert _left(window.road, window) > _left(window.fields, window)
    finally:
        qapp.setLayoutDirection(Qt.LayoutDirection.LeftToRight)


def test_nothing_in_dialogs_escapes_the_tongue(
    qtbot: QtBot, make: Callable[[str], MainWindow], tmp_path: Path
) -> None:
    window = make("pseudo")
    window.document.start(make_project())
    dialogs = [
        problem_dialog("", tmp_path / "copy.raft.json", window),
        problem_dialog("", None, window),
        PrinterDialog((), "", COMMON, "mm", "2026-11-25", lambda: None, window),
        measured_dialog(window),
    ]

    keys = (Seen(text, "keys") for row in window.actions_.key_rows() for text in row[:2])
    assert escaped(keys) == []
    for dialog in dialogs:
        with qtbot.waitExposed(dialog):
            dialog.show()
        assert escaped(texts(dialog)) == []
        assert list(cut_off(dialog)) == []


def measured_dialog(window: MainWindow) -> PrinterDialog:
    """Return the dialog that measures a printer, with as much said in it as there can be."""
    known = (Printer("7", COMMON, day="2026-11-20"),)
    dialog = PrinterDialog(known, "7", COMMON, "mm", "2026-11-25", lambda: None, window)
    dialog.lengths["across"].lineEdit().setText("178.6")
    dialog.lengths["along"].lineEdit().setText("244.8")
    dialog.accept()
    return dialog


@pytest.mark.parametrize(("language", "percent"), [("es", 100), ("en", 200)])
def test_nothing_is_cut_off(
    qtbot: QtBot, make: Callable[[str], MainWindow], language: str, percent: int
) -> None:
    window = make(language)
    window.set_text(percent)
    window.resize(*SIZES[0])
    found: dict[str, str] = {}
    for view in at_every_view(window, qtbot):
        found.update((each, view) for each in cut_short(window, qtbot))
    assert found == {}


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_narrow_window_shows_what_to_make_without_scrolling_sideways(
    qtbot: QtBot, make: Callable[[str], MainWindow], language: str
) -> None:
    window = make(language)
    window.resize(1024, 740)
    with qtbot.waitExposed(window):
        window.show()
    window.document.start(make_project())
    window.go_to("Make")
    (panel,) = window.findChildren(MakePanel)
    for fold in panel.findChildren(Fold):
        fold.toggle()
        fold.set_note(tr_n("{n} file chosen", "{n} files chosen", 9))
    QApplication.processEvents()

    assert panel.isVisible()
    assert panel.horizontalScrollBar().maximum() == 0


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_menu_has_each_mnemonic_once(
    make: Callable[[str], MainWindow], language: str
) -> None:
    window = make(language)
    menus = {menu.title(): menu.actions() for menu in window.findChildren(QMenu) if menu.title()}
    menus["bar"] = window.head.menu_bar.actions()

    assert len(window.head.menu_bar.actions()) == len(MENUS)
    for title, actions in menus.items():
        words = [action.text() for action in actions if action.text()]
        letters = [found[1].lower() for each in words if (found := re.search("&([^& ])", each))]
        assert len(set(letters)) == len(letters), (title, words)


def test_spanish_is_read_in_every_part(qtbot: QtBot, make: Callable[[str], MainWindow]) -> None:
    window = make("es")
    window.document.start(make_project())
    window.go_to("Holes")

    plants = window.document.plan.plants
    assert window.road.buttons["Holes"].station.figure == f"{plants} plantas"
    assert f"{plants} plantas · " in window.last_line.truth.full
    assert "," in window.last_line.truth.full
    assert [action.text() for action in window.head.menu_bar.actions()][:2] == [
        "&Archivo",
        "&Editar",
    ]
    assert window.findings.accessibleName() == "Avisos"
    assert window.actions_.by_id["language-en"].text() == "&English"


def _left(part: QWidget, window: MainWindow) -> int:
    return part.mapTo(window, part.rect().topLeft()).x()


def test_the_language_is_chosen_in_the_menu_and_kept(
    make: Callable[[str], MainWindow], tmp_path: Path
) -> None:
    window = make("en")
    window.actions_.by_id["language-es"].trigger()

    assert window.language_choice == "es"
    assert window.actions_.by_id["language-es"].isChecked()
    assert not window.actions_.by_id["language-desktop"].isChecked()
    again = make("es")
    assert again.language_choice == "es"
