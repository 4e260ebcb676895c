from itertools import pairwise

import pytest
from PySide6.QtGui import QColor

from geometry.drawing.styles import Style
from layout_gui.screen.theme import DARK, LIGHT, PAPER, Theme, pick_theme

THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in QColor(colour).getRgbF()[:3]
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_ratio_is_that_of_wcag() -> None:
    # WCAG 2.2, "contrast ratio": 21:1 between black and white; #767676 on white is 4.54 (W3C
    # technique G18 and its checkers).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@THEMES
def test_words_keep_the_ratio_for_text(theme: Theme) -> None:
    # WCAG 2.2, 1.4.3: at least 4.5:1.
    grounds = (theme.background, theme.surface, theme.field, theme.canvas, theme.accent_soft)
    for ink in (theme.text, theme.quiet_text, theme.accent, theme.warn):
        for ground in grounds:
            assert contrast(ink, ground) >= 4.5, (ink, ground)
    for ink in (theme.text, theme.warn):
        assert contrast(ink, theme.warn_soft) >= 4.5
    assert contrast(theme.on_accent, theme.accent) >= 4.5


@THEMES
def test_words_on_the_drawing_keep_it_too(theme: Theme) -> None:
    foam, water = theme.inks[Style.RAFT].fill, theme.inks[Style.WATER].fill
    assert foam
    assert water
    for style in (Style.LABEL, Style.DIMENSION, Style.TITLE):
        for ground in (foam, theme.canvas):
            assert contrast(theme.inks[style].line, ground) >= 4.5, style
    hole = theme.inks[Style.HOLE]
    assert hole.fill
    assert contrast(theme.hole_name, hole.fill) >= 4.5


@THEMES
def test_what_must_be_seen_stands_out(theme: Theme) -> None:
    # WCAG 2.2, 1.4.11: 3:1 for the graphics one needs to understand what is shown.
    foam = theme.inks[Style.RAFT].fill
    hole = theme.inks[Style.HOLE].fill
    assert foam
    assert hole
    assert contrast(hole, foam) >= 3 or contrast(theme.inks[Style.HOLE].line, foam) >= 3
    for colour in (theme.accent, theme.warn, theme.inks[Style.DATUM].line):
        assert contrast(colour, foam) >= 3


def test_every_meaning_has_its_ink() -> None:
    for inks in (LIGHT.inks, DARK.inks, PAPER):
        assert set(inks) == set(Style)
    assert set(LIGHT.inks.values()) != set(DARK.inks.values())


def test_paper_is_printed_in_greys() -> None:
    for ink in PAPER.values():
        parts = QColor(ink.line).getRgb()[:3]
        assert all(one == other for one, other in pairwise(parts))


def test_a_choice_picks_a_theme() -> None:
    assert pick_theme("light", system_is_dark=True) is LIGHT
    assert pick_theme("dark", system_is_dark=False) is DARK
    assert pick_theme("system", system_is_dark=True) is DARK
    assert pick_theme("system", system_is_dark=False) is LIGHT
