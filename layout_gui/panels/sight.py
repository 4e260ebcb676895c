"""The pages that are looked at, as what prints and opens them needs to know them."""

from dataclasses import dataclass

from geometry.drawing.paper import Page


@dataclass(frozen=True, slots=True)
class Sight:
    """The ticked ``pages`` of the document in sight: its file name, and its title in words."""

    file: str
    title: str
    pages: tuple[Page, ...]
