"""The manner of the window, in both palettes."""

import re

import pytest
from PySide6.QtGui import QColor, QPalette

from layout_gui.screen.theme import CONTRAST, DARK, LIGHT, Theme
from layout_gui.windows.look import TEXT_PT, make_palette, style_sheet


@pytest.mark.parametrize("theme", [LIGHT, DARK, CONTRAST])
def test_every_colour_of_the_sheet_is_one_of_the_theme(theme: Theme) -> None:
    sheet = style_sheet(theme)
    own = {
        getattr(theme, name)
        for name in ("background", "surface", "field", "text", "quiet_text", "accent")
    } | {theme.accent_soft, theme.on_accent, theme.warn, theme.warn_soft, theme.line, theme.edge}

    assert set(re.findall(r"#[0-9a-f]{6}", sheet)) <= own
    assert "$" not in sheet


def test_no_text_is_smaller_than_eleven_pixels() -> None:
    sizes = [float(size) for size in re.findall(r"font-size: ([0-9.]+)pt", style_sheet(LIGHT))]

    # A point is 1/72 in; a screen at 100 % shows 96 px an inch.
    assert min([TEXT_PT, *sizes]) * 96 / 72 >= 11


def luminance(name: str) -> float:
    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4

    colour = QColor(name)
    red, green, blue = (linear(part) for part in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of WCAG 2.2 (w3.org/TR/WCAG22, definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", [LIGHT, DARK, CONTRAST])
def test_words_can_be_read_on_whatever_they_stand(theme: Theme) -> None:
    pairs = [
        (theme.text, theme.background),
        (theme.text, theme.surface),
        (theme.text, theme.field),
        (theme.text, theme.accent_soft),
        (theme.text, theme.warn_soft),
        (theme.quiet_text, theme.background),
        (theme.quiet_text, theme.accent_soft),
        (theme.accent, theme.background),
        (theme.on_accent, theme.accent),
        (theme.warn, theme.warn_soft),
    ]

    assert [pair for pair in pairs if contrast(*pair) < 4.5] == []


@pytest.mark.parametrize("theme", [LIGHT, DARK, CONTRAST])
def test_the_palette_is_the_theme_s(theme: Theme) -> None:
    palette = make_palette(theme)

    assert palette.color(QPalette.ColorRole.Window) == QColor(theme.background)
    assert palette.color(QPalette.ColorRole.Accent) == QColor(theme.accent)
    disabled = palette.color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.Text)
    assert disabled == QColor(theme.quiet_text)
