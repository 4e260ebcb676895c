"""The pages of the help: which there are, what they say, and where a heading is.

A page is Markdown in ``resources/help``, one folder a language. A heading may end in ``{#name}``:
that is how links and F1 find it. Links are ``page.md`` or ``page.md#name``; pictures lie in
``pictures/light`` and ``pictures/dark`` under the same name.
"""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from geometry.tongue import spoken

FOLDER: Final = Path(__file__).parent.parent / "resources" / "help"
ORDER: Final = (
    "walk", "bed", "rafts", "holes", "make", "grow", "drawing", "what-if", "findings",
    "printing", "files", "safety", "keys",
)  # fmt: skip
"""The pages in the order of the contents."""

_NAME: Final = re.compile(r"\s*\{#([\w-]+)\}\s*$")


@dataclass(frozen=True, slots=True)
class Place:
    """A page, and the name of a heading on it; an empty name is the top."""

    page: str
    name: str = ""


def read_place(link: str, here: str = "") -> Place | None:
    """Read "page.md#name", "page#name" or "#name"; None for what is no place of the help."""
    page, _, name = link.partition("#")
    page = page.removesuffix(".md") or here
    return Place(page, name) if page in ORDER else None


def page_text(page: str) -> str:
    """Return a page in the language that is spoken, or in English where there is none."""
    for language in (spoken().language, "en"):
        path = FOLDER / language / f"{page}.md"
        if path.is_file():
            return path.read_text("utf-8")
    return ""


def page_title(page: str) -> str:
    """Return what a page is called: its first heading."""
    first = page_text(page).partition("\n")[0]
    return split_heading(first.lstrip("# "))[0]


def split_heading(text: str) -> tuple[str, str]:
    """Return a heading without its name, and the name."""
    found = _NAME.search(text)
    return (text[: found.start()], found.group(1)) if found else (text, "")


def pages_with(words: str) -> tuple[str, ...]:
    """Return the pages on which all these words stand, in the order of the contents."""
    wanted = words.casefold().split()
    return tuple(
        page
        for page in ORDER
        if wanted and all(word in page_text(page).casefold() for word in wanted)
    )
