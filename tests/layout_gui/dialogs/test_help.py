"""The help: every page, link, heading and picture is there, and the window goes to them."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QUrl
from PySide6.QtGui import QTextCursor
from pytestqt.qtbot import QtBot

from geometry.tongue import ENGLISH, set_tongue
from layout_gui.dialogs.help_pages import (
    FOLDER,
    ORDER,
    Place,
    page_text,
    page_title,
    pages_with,
    read_place,
    split_heading,
)
from layout_gui.dialogs.help_window import HelpWindow
from layout_gui.tongues import LANGUAGES, tongue_of
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN

LINK = re.compile(r"(?<!!)\[[^\]]+\]\(([^)]+)\)")
PICTURE = re.compile(r"!\[[^\]]*\]\(([^)]+)\)")
KEYS = (("File", "Save", "Ctrl+S"), ("On the bed", "Move", "Arrow keys"))


@pytest.fixture(params=LANGUAGES)
def language(request: pytest.FixtureRequest) -> Iterator[str]:
    set_tongue(tongue_of(request.param, ""))
    yield request.param
    set_tongue(ENGLISH)


def headings(text: str) -> list[tuple[int, str, str]]:
    lines = [line for line in text.splitlines() if line.startswith("#")]
    return [
        (len(line) - len(line.lstrip("#")), *split_heading(line.lstrip("# "))) for line in lines
    ]


def test_every_page_begins_with_its_title(language: str) -> None:
    for page in ORDER:
        path = FOLDER / language / f"{page}.md"
        assert path.is_file(), path
        level, title, _ = headings(page_text(page))[0]
        assert level == 1
        assert title == page_title(page) != ""


def test_no_page_is_left_out_of_the_contents(language: str) -> None:
    assert {path.stem for path in (FOLDER / language).glob("*.md")} == set(ORDER)


def test_every_link_leads_somewhere(language: str) -> None:
    for page in ORDER:
        for link in LINK.findall(page_text(page)):
            place = read_place(link, page)
            assert place is not None, (page, link)
            names = [name for _, _, name in headings(page_text(place.page))]
            assert not place.name or place.name in names, (page, link)


def test_every_picture_is_there_in_both_palettes(language: str) -> None:
    wanted = {Path(link).name for page in ORDER for link in PICTURE.findall(page_text(page))}
    for palette in ("light", "dark"):
        there = {path.name for path in (FOLDER / "pictures" / palette).glob("*.png")}
        assert wanted == there


def test_the_pictures_are_small() -> None:
    assert sum(path.stat().st_size for path in FOLDER.rglob("*.png")) < 1_500_000


def test_all_languages_have_the_same_headings_links_and_pictures() -> None:
    shapes = {}
    for language in LANGUAGES:
        set_tongue(tongue_of(language, ""))
        shapes[language] = [
            (
                [(level, name) for level, _, name in headings(page_text(page))],
                LINK.findall(page_text(page)),
                PICTURE.findall(page_text(page)),
            )
            for page in ORDER
        ]
        set_tongue(ENGLISH)

    assert all(shape == shapes["en"] for shape in shapes.values())


def test_no_name_stands_twice_on_a_page() -> None:
    for page in ORDER:
        names = [name for _, _, name in headings(page_text(page)) if name]
        assert len(names) == len(set(names)), page


@pytest.fixture
def window(qtbot: QtBot) -> HelpWindow:
    made = HelpWindow("light", lambda: KEYS)
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_place_is_shown_and_the_way_back_remembered(window: HelpWindow) -> None:
    window.resize(700, 300)
    window.go_to(Place("holes", "joints"))
    assert "Holes" in window.windowTitle()
    assert "{#" not in window.page.toPlainText()
    assert window.page.verticalScrollBar().value() > 0
    assert not window.back.isEnabled()

    window.page.anchorClicked.emit(QUrl("printing.md#wrong"))
    assert window.place == Place("printing", "wrong")
    window.back.click()
    assert window.place == Place("holes", "joints")
    window.forward.click()
    assert window.place == Place("printing", "wrong")


def test_every_heading_can_be_gone_to(window: HelpWindow) -> None:
    for page in ORDER:
        for _, title, name in headings(page_text(page)):
            window.go_to(Place(page, name))
            assert title in window.page.toPlainText()
            names = []
            block = window.page.document().begin()
            while block.isValid():
                cursor = QTextCursor(block)
                cursor.movePosition(QTextCursor.MoveOperation.NextCharacter)
                names += cursor.charFormat().anchorNames()
                block = block.next()
            assert not name or name in names, (page, name)


def test_searching_lists_the_pages_on_which_all_words_stand(window: HelpWindow) -> None:
    window.search.setText("borderless")
    found = [window.contents.item(row).text() for row in range(window.contents.count())]

    assert (
        found == [page_title(page) for page in pages_with("borderless")] == [page_title("printing")]
    )
    window.contents.setCurrentRow(0)
    assert window.place.page == "printing"
    assert window.page.textCursor().selectedText().casefold() == "borderless"
    window.search.setText("no such words anywhere")
    assert window.contents.count() == 0
    window.search.clear()
    assert window.contents.count() == len(ORDER)


def test_the_keys_are_those_of_the_menus(window: HelpWindow) -> None:
    window.go_to(Place("keys"))

    words = window.page.toPlainText()
    assert "{keys}" not in words
    for where, what, keys in KEYS:
        assert where in words
        assert what in words
        assert keys in words


@pytest.mark.parametrize("link", ["https://example.org", "nowhere.md", "../files", ""])
def test_what_is_no_page_of_the_help_leads_nowhere(window: HelpWindow, link: str) -> None:
    window.go_to(Place("bed"))
    window.page.anchorClicked.emit(QUrl(link))

    assert window.place == Place("bed")
