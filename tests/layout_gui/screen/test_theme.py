from collections.abc import Iterator
from itertools import pairwise, product

import pytest
from PySide6.QtGui import QColor

from geometry.drawing.styles import Style
from layout_gui.screen.theme import CONTRAST, DARK, LIGHT, PAPER, Theme, pick_theme
from layout_gui.screen.theme import THEMES as ALL

THEMES = pytest.mark.parametrize("theme", ALL.values(), ids=lambda theme: theme.name)


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


def text_pairs(theme: Theme) -> Iterator[tuple[str, str, str]]:
    """Every ink and ground of text in window and drawing, with what they are."""
    grounds = {
        "window": theme.background,
        "card": theme.surface,
        "field": theme.field,
        "canvas": theme.canvas,
        "what is active": theme.accent_soft,
        "finding": theme.warn_soft,
    }
    inks = {
        "text": theme.text,
        "quiet text": theme.quiet_text,
        "link": theme.accent,
        "warning": theme.warn,
    }
    for (ink, colour), (ground, under) in product(inks.items(), grounds.items()):
        yield f"{ink} on {ground}", colour, under
    foam, hole = fill(theme, Style.RAFT), fill(theme, Style.HOLE)
    yield "words on the accent", theme.on_accent, theme.accent
    yield "names within holes", theme.hole_name, hole
    yield "signs of findings", foam, theme.warn
    yield "signs of notes", foam, theme.quiet_text
    for style in (Style.LABEL, Style.DIMENSION, Style.TITLE):
        yield f"{style.value} on foam", theme.inks[style].line, foam
        yield f"{style.value} on the canvas", theme.inks[style].line, theme.canvas
    # Names over the drawing have a halo of the colour of cards.
    for style in (Style.ZONE, Style.OBSTACLE, Style.DATUM):
        yield f"name of {style.value}", theme.inks[style].line, theme.surface


def line_pairs(theme: Theme) -> Iterator[tuple[str, str, str]]:
    """Every line, sign and focus that carries meaning, with what it lies on."""
    foam, water = fill(theme, Style.RAFT), fill(theme, Style.WATER)
    hole = fill(theme, Style.HOLE)
    windows = (theme.background, theme.surface, theme.field)
    for ground in (*windows, theme.canvas, foam, water):
        yield "focus, selection", theme.accent, ground
        yield "finding", theme.warn, ground
    for ground in (*windows, theme.canvas):
        yield "edge of fields and buttons", theme.edge, ground
    yield "ticks of the rulers", theme.quiet_text, theme.background
    yield "foam against water", theme.inks[Style.RAFT].line, water
    yield "edge of foam", theme.inks[Style.RAFT].line, foam
    yield "edge of water", theme.inks[Style.WATER].line, theme.surface
    for style in (Style.CENTRE, Style.CROP, Style.PLUG):
        yield f"{style.value} in a hole", theme.inks[style].line, hole
    for style in (Style.ZONE, Style.OBSTACLE, Style.KEEP_OUT, Style.DATUM):
        for ground in (foam, water):
            yield style.value, theme.inks[style].line, ground
    yield "guide line", theme.inks[Style.DATUM].line, theme.canvas
    for style in (Style.SHEET, Style.CUT, Style.HINT, Style.FRAME, Style.POT):
        for ground in (foam, theme.canvas):
            yield style.value, theme.inks[style].line, ground
    yield "edge of a canopy", theme.inks[Style.CANOPY].line, foam


def fill(theme: Theme, style: Style) -> str:
    found = theme.inks[style].fill
    assert found
    return found


@THEMES
def test_words_keep_the_ratio_for_text(theme: Theme) -> None:
    # WCAG 2.2, 1.4.3: at least 4.5:1.
    low = {what: contrast(ink, on) for what, ink, on in text_pairs(theme)}
    assert {what: ratio for what, ratio in low.items() if ratio < 4.5} == {}


@THEMES
def test_what_carries_meaning_keeps_the_ratio_for_graphics(theme: Theme) -> None:
    # WCAG 2.2, 1.4.11: at least 3:1 for what shows controls, their focus, and what a drawing says.
    low = [(what, contrast(ink, on)) for what, ink, on in line_pairs(theme)]
    assert [(what, ratio) for what, ratio in low if ratio < 3] == []
    foam, hole = fill(theme, Style.RAFT), theme.inks[Style.HOLE]
    assert max(contrast(hole.line, foam), contrast(fill(theme, Style.HOLE), foam)) >= 3


def test_high_contrast_keeps_seven_to_one() -> None:
    # WCAG 2.2, 1.4.6 (enhanced): 7:1 for text.
    for what, ink, on in text_pairs(CONTRAST):
        assert contrast(ink, on) >= 7, what


def test_every_meaning_has_its_ink() -> None:
    for inks in (LIGHT.inks, DARK.inks, CONTRAST.inks, PAPER):
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
    assert pick_theme("contrast", system_is_dark=False) is CONTRAST
    assert pick_theme("system", system_is_dark=False, system_wants_contrast=True) is CONTRAST
    assert pick_theme("light", system_is_dark=True, system_wants_contrast=True) is LIGHT
