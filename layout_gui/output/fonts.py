"""The bundled fonts: where they are and what they are called."""

from pathlib import Path
from typing import Final

_FOLDER: Final = Path(__file__).parent.parent / "resources" / "fonts"

REGULAR: Final = "DejaVuSans"
BOLD: Final = "DejaVuSans-Bold"

FILES: Final = {REGULAR: _FOLDER / "DejaVuSans.ttf", BOLD: _FOLDER / "DejaVuSans-Bold.ttf"}
"""The font files by the name of the font."""


def font_name(*, bold: bool) -> str:
    """Return the name of the font for a pen."""
    return BOLD if bold else REGULAR
