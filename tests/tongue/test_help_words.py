"""Words that the help prints in bold begin a text of the window, in every tongue."""

import re

import pytest

from layout_gui.dialogs.help_pages import FOLDER, ORDER
from layout_gui.tongues import LANGUAGES
from tests.tongue.catalogue import all_texts, read

BOLD = re.compile(r"\*\*(.+?)\*\*", re.DOTALL)
ELSEWHERE = ("printing", "safety")
"""In bold there: what viewers of pages say, and the heads of cautions."""


def plain(text: str) -> str:
    return " ".join(text.replace("&", "").rstrip("….:").split()).casefold()


def texts(language: str) -> list[str]:
    if language == "en":
        return [plain(text) for text in all_texts()]
    said = [message.string for message in read(language)]
    return [plain(each) for one in said for each in ((one,) if isinstance(one, str) else one)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_bold_words_of_the_help_stand_in_the_window(language: str) -> None:
    there = texts(language)
    missing = [
        f"{page}: {words}"
        for page in ORDER
        if page not in ELSEWHERE
        for words in BOLD.findall((FOLDER / language / f"{page}.md").read_text("utf-8"))
        if not any(text.startswith(plain(words)) for text in there)
    ]
    assert missing == []
