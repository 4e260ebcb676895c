"""The bundled fonts: where they are, what they are called, and what they cannot draw."""

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from geometry.drawing.text_width import missing_characters

_FOLDER: Final = Path(__file__).parent.parent / "resources" / "fonts"

REGULAR: Final = "DejaVuSans"
BOLD: Final = "DejaVuSans-Bold"

FILES: Final = {REGULAR: _FOLDER / "DejaVuSans.ttf", BOLD: _FOLDER / "DejaVuSans-Bold.ttf"}
"""The font files by the name of the font."""


def font_name(*, bold: bool) -> str:
    """Return the name of the font for a pen."""
    return BOLD if bold else REGULAR


def coverage_report(texts: Iterable[str]) -> tuple[str, ...]:
    """Name the characters of all texts that print as a substitute, each once."""
    return tuple(dict.fromkeys(name for text in texts for name in missing_characters(text)))
