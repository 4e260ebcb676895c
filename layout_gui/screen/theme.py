"""Small tables of colours: warm paper by day, deep water by night, and one of high contrast."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QGuiApplication, QPalette

from geometry.drawing.styles import PENS, Style

ThemeName = Literal["light", "dark", "contrast"]
ThemeChoice = Literal["system", "light", "dark", "contrast"]


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
    on the accent, ``warn`` and ``warn_soft`` for findings, ``line`` for hairlines
    that only divide, ``edge`` for those that show where a field or a button is, ``hole_name`` for
    names within holes.

    Text keeps 4.5:1 to what it stands on, lines and signs that carry meaning 3:1 (WCAG 2.2, 1.4.3
    and 1.4.11); a test computes it for every pair.
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
    edge: str
    hole_name: str
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
    edge="#8c8778",
    hole_name="#eef6f4",
    inks=MappingProxyType(
        {
            Style.WATER: Ink("#52747c", "#c4dde0"),
            Style.RAFT: Ink("#6a736d", "#fffdf6"),
            Style.HOLE: Ink("#1f4d59", "#2f6270"),
            Style.CENTRE: Ink("#a9cdd2"),
            Style.CROP: Ink("#a9cdd2"),
            Style.PLUG: Ink("#fffdf6"),
            Style.POT: Ink("#7a3f12", "#ecd3b8"),
            Style.ZONE: Ink("#0f6875"),
            Style.OBSTACLE: Ink("#994a0c", "#f0dcc3"),
            Style.KEEP_OUT: Ink("#7d6a50"),
            Style.DATUM: Ink("#0f6875"),
            Style.DIMENSION: Ink("#5e6a66"),
            Style.LABEL: Ink("#3c4a48"),
            Style.TITLE: Ink("#24302f"),
            Style.PAGE_NAME: Ink("#ddd6c8"),
            Style.LOUD: Ink("#ddd6c8"),
            Style.SHADE: Ink("#e4dccb"),
            Style.RULE: Ink("#d8d1c2"),
            Style.WHITE: Ink("#fffdf6"),
            Style.SOLID: Ink("#24302f"),
            Style.FRAME: Ink("#797d76"),
            Style.REGISTRATION: Ink("#24302f"),
            Style.CHECK_BAR: Ink("#24302f"),
            Style.REFERENCE: Ink("#24302f"),
            Style.SHEET: Ink("#7c857f", "#fffdf6"),
            Style.CUT: Ink("#994a0c"),
            Style.HINT: Ink("#797d76"),
            Style.CANOPY: Ink("#6f8d69", "#30739a5e"),
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
    edge="#6b7d80",
    hole_name="#cfe9ec",
    inks=MappingProxyType(
        {
            Style.WATER: Ink("#4f8e9a", "#0f3a44"),
            Style.RAFT: Ink("#7f908e", "#2c3938"),
            Style.HOLE: Ink("#6fb4bf", "#07262e"),
            Style.CENTRE: Ink("#4f8c97"),
            Style.CROP: Ink("#6fb4bf"),
            Style.PLUG: Ink("#e6ebe6"),
            Style.POT: Ink("#efb684", "#5a4029"),
            Style.ZONE: Ink("#7fd0da"),
            Style.OBSTACLE: Ink("#efac6c", "#4a3520"),
            Style.KEEP_OUT: Ink("#97906f"),
            Style.DATUM: Ink("#6cc5d3"),
            Style.DIMENSION: Ink("#a3b1ae"),
            Style.LABEL: Ink("#cdd6d2"),
            Style.TITLE: Ink("#e6ebe6"),
            Style.PAGE_NAME: Ink("#2d3a3d"),
            Style.LOUD: Ink("#2d3a3d"),
            Style.SHADE: Ink("#26363a"),
            Style.RULE: Ink("#2d3a3d"),
            Style.WHITE: Ink("#141d20"),
            Style.SOLID: Ink("#e6ebe6"),
            Style.FRAME: Ink("#7c8a87"),
            Style.REGISTRATION: Ink("#e6ebe6"),
            Style.CHECK_BAR: Ink("#e6ebe6"),
            Style.REFERENCE: Ink("#e6ebe6"),
            Style.SHEET: Ink("#7f908e", "#2c3938"),
            Style.CUT: Ink("#efac6c"),
            Style.HINT: Ink("#7f8d8b"),
            Style.CANOPY: Ink("#6f9272", "#3073a56e"),
        }
    ),
)


CONTRAST: Final = Theme(
    name="contrast",
    background="#000000",
    surface="#000000",
    field="#000000",
    canvas="#000000",
    text="#ffffff",
    quiet_text="#e2e2e2",
    accent="#ffe14d",
    accent_soft="#3b3300",
    on_accent="#000000",
    warn="#ffb27a",
    warn_soft="#2b1200",
    line="#8a8a8a",
    edge="#ffffff",
    hole_name="#ffffff",
    inks=MappingProxyType(
        {
            Style.WATER: Ink("#7fd4ff", "#00263d"),
            Style.RAFT: Ink("#ffffff", "#101010"),
            Style.HOLE: Ink("#ffffff", "#00304d"),
            Style.CENTRE: Ink("#9fdcff"),
            Style.CROP: Ink("#9fdcff"),
            Style.PLUG: Ink("#ffffff"),
            Style.POT: Ink("#ffd9b3", "#3d2a18"),
            Style.ZONE: Ink("#8dff9f"),
            Style.OBSTACLE: Ink("#ffb27a", "#4d2200"),
            Style.KEEP_OUT: Ink("#c9c9c9"),
            Style.DATUM: Ink("#ffe14d"),
            Style.DIMENSION: Ink("#ffffff"),
            Style.LABEL: Ink("#ffffff"),
            Style.TITLE: Ink("#ffffff"),
            Style.PAGE_NAME: Ink("#8a8a8a"),
            Style.LOUD: Ink("#8a8a8a"),
            Style.SHADE: Ink("#303030"),
            Style.RULE: Ink("#8a8a8a"),
            Style.WHITE: Ink("#000000"),
            Style.SOLID: Ink("#ffffff"),
            Style.FRAME: Ink("#c9c9c9"),
            Style.REGISTRATION: Ink("#ffffff"),
            Style.CHECK_BAR: Ink("#ffffff"),
            Style.REFERENCE: Ink("#ffffff"),
            Style.SHEET: Ink("#ffffff", "#101010"),
            Style.CUT: Ink("#ffb27a"),
            Style.HINT: Ink("#c9c9c9"),
            Style.CANOPY: Ink("#8dff9f", "#208dff9f"),
        }
    ),
)


THEMES: Final = {theme.name: theme for theme in (LIGHT, DARK, CONTRAST)}


def _grey(share: float) -> str:
    level = round(255 * share)
    return f"#{level:02x}{level:02x}{level:02x}"


PAPER: Final[Mapping[Style, Ink]] = MappingProxyType(
    {style: Ink(_grey(pen.grey)) for style, pen in PENS.items()}
)
"""The inks of a page: black on white in every theme, as it will be printed."""


def pick_theme(
    choice: ThemeChoice, *, system_is_dark: bool, system_wants_contrast: bool = False
) -> Theme:
    """Return the theme of a choice; "system" follows the desktop, its wish for contrast first."""
    if choice != "system":
        return THEMES[choice]
    if system_wants_contrast:
        return CONTRAST
    return DARK if system_is_dark else LIGHT


def theme_of(palette: QPalette) -> Theme:
    """Return the theme that a palette was made from, the light one for any other palette."""
    ground = palette.color(QPalette.ColorRole.Window)
    return next((each for each in THEMES.values() if QColor(each.background) == ground), LIGHT)


def system_is_dark() -> bool:
    """Tell whether the desktop asks for dark windows; an unknown wish counts as light."""
    return QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark


def system_wants_contrast() -> bool:
    """Tell whether the desktop asks for high contrast; an unknown wish counts as no."""
    # Kept by names: what hangs on a wrapper that is gone counts as deleted.
    style_hints = QGuiApplication.styleHints()
    hints = style_hints.accessibility()
    return hints.contrastPreference() is Qt.ContrastPreference.HighContrast
