"""Two small tables of colours: warm paper by day, deep water by night."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from geometry.drawing.styles import Style

ThemeName = Literal["light", "dark"]
ThemeChoice = Literal["system", "light", "dark"]


@dataclass(frozen=True, slots=True)
class Ink:
    """The colours of one meaning: of its line, and of its inside (None leaves it open)."""

    line: str
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class Theme:
    """Every colour of the window and of the drawing, as "#rrggbb" (or "#aarrggbb" in inks).

    ``background`` is the window, ``surface`` what lies on it (cards), ``field`` the inside of an
    entry field, ``canvas`` what the bed lies on. ``quiet_text`` is for words of second rank,
    ``accent`` for the one thing that is active, ``accent_soft`` behind it, ``on_accent`` for words
    on the accent, ``warn`` and ``warn_soft`` for findings, ``line`` for hairlines.
    """

    name: ThemeName
    background: str
    surface: str
    field: str
    canvas: str
    text: str
    quiet_text: str
    accent: str
    accent_soft: str
    on_accent: str
    warn: str
    warn_soft: str
    line: str
    inks: Mapping[Style, Ink]


LIGHT: Final = Theme(
    name="light",
    background="#fbf9f4",
    surface="#f5f1e8",
    field="#fffdf9",
    canvas="#f1ece1",
    text="#24302f",
    quiet_text="#5e6a66",
    accent="#0f6875",
    accent_soft="#e0ede8",
    on_accent="#ffffff",
    warn="#994a0c",
    warn_soft="#f8ebdc",
    line="#d8d1c2",
    inks=MappingProxyType(
        {
            Style.WATER: Ink("#7d9aa0", "#c4dde0"),
            Style.RAFT: Ink("#7c857f", "#fffdf6"),
            Style.HOLE: Ink("#1d525e", "#9cc4cb"),
            Style.CENTRE: Ink("#1d525e"),
            Style.OBSTACLE: Ink("#994a0c", "#f0dcc3"),
            Style.KEEP_OUT: Ink("#b9a58c"),
            Style.DATUM: Ink("#0f6875"),
            Style.DIMENSION: Ink("#5e6a66"),
            Style.LABEL: Ink("#3c4a48"),
            Style.FRAME: Ink("#8b8f88"),
            Style.REGISTRATION: Ink("#24302f"),
            Style.CHECK_BAR: Ink("#24302f"),
            Style.CUT: Ink("#994a0c"),
            Style.HINT: Ink("#8b8f88"),
            Style.CANOPY: Ink("#a5bda0", "#30739a5e"),
        }
    ),
)

DARK: Final = Theme(
    name="dark",
    background="#141d20",
    surface="#1a2528",
    field="#10181a",
    canvas="#0f1719",
    text="#e6ebe6",
    quiet_text="#93a29f",
    accent="#6cc5d3",
    accent_soft="#1d3638",
    on_accent="#0b2226",
    warn="#efac6c",
    warn_soft="#33271a",
    line="#2d3a3d",
    inks=MappingProxyType(
        {
            Style.WATER: Ink("#3f7883", "#0f3a44"),
            Style.RAFT: Ink("#7f908e", "#2c3938"),
            Style.HOLE: Ink("#a5dbe3", "#14505d"),
            Style.CENTRE: Ink("#a5dbe3"),
            Style.OBSTACLE: Ink("#efac6c", "#4a3520"),
            Style.KEEP_OUT: Ink("#6a6350"),
            Style.DATUM: Ink("#6cc5d3"),
            Style.DIMENSION: Ink("#a3b1ae"),
            Style.LABEL: Ink("#cdd6d2"),
            Style.FRAME: Ink("#5d6a69"),
            Style.REGISTRATION: Ink("#e6ebe6"),
            Style.CHECK_BAR: Ink("#e6ebe6"),
            Style.CUT: Ink("#efac6c"),
            Style.HINT: Ink("#6d7b79"),
            Style.CANOPY: Ink("#5f7f62", "#3073a56e"),
        }
    ),
)


def pick_theme(choice: ThemeChoice, *, system_is_dark: bool) -> Theme:
    """Return the theme of a choice; "system" follows the desktop."""
    if choice == "system":
        return DARK if system_is_dark else LIGHT
    return DARK if choice == "dark" else LIGHT


def system_is_dark() -> bool:
    """Tell whether the desktop asks for dark windows; an unknown wish counts as light."""
    return QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark
