"""What is known of an action: where it stands, its words, its keys, what it does and when."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from geometry.tongue import mark
from layout_gui.windows.desk import Desk
from layout_gui.windows.menus.conditions import always

MENUS: Final = {
    "File": mark("&File"),
    "Edit": mark("&Edit"),
    "Draw": mark("&Draw"),
    "Bed": mark("&Bed"),
    "View": mark("&View"),
    "Help": mark("&Help"),
}
"""The menus with their words; a row names its menu by the key."""

SUBMENUS: Final = {
    "Arrange": ("Edit", mark("Arrange the &holes")),
    "Select": ("Edit", mark("S&elect more")),
}
"""Menus within a menu: which one, and their words there."""


@dataclass(frozen=True, slots=True)
class Row:
    """One action. A row with ``checked`` can be on or off; ``line`` draws a line above it.

    The keys of a row with ``on_canvas`` work while the keyboard is on the canvas, so that they may
    be plain letters.
    """

    id: str
    menu: str
    text: str
    do: Callable[[Desk], object]
    keys: str = ""
    enabled: Callable[[Desk], bool] = always
    checked: Callable[[Desk], bool] | None = None
    line: bool = False
    tip: str = ""
    on_canvas: bool = False
