"""Names with letters that no font of this computer has: they are told, never boxed in silence."""

import unicodedata
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

from geometry.drawing.text_width import missing_signs
from geometry.model.project import Project
from geometry.tongue import listed, mark, tr
from layout_gui.output.drawings import kind_of
from layout_gui.output.letters import Letters

_SCRIPTS: Final = {
    "ARABIC": mark("Arabic"),
    "HEBREW": mark("Hebrew"),
    "DEVANAGARI": mark("Devanagari"),
    "BENGALI": mark("Bengali"),
    "TAMIL": mark("Tamil"),
    "THAI": mark("Thai"),
    "CJK": mark("Chinese"),
    "HIRAGANA": mark("Japanese"),
    "KATAKANA": mark("Japanese"),
    "HANGUL": mark("Korean"),
}
"""What people call a script, by the first word of the Unicode names of its letters."""

_SYMBOLS: Final = mark("symbols")


def lacking(project: Project, files: Iterable[Path], letters: Letters) -> tuple[str, ...]:
    """Say of each name that no font here can draw what to do; nothing unless one was drawn.

    Tables hold names as they were typed, and so do drawings whose words are text. Drawings of
    rafts show no names but their own.
    """
    kinds = {".bed.svg", ".bed.dxf"} if letters == "outlines" else set()
    if not any(file.suffix == ".pdf" or kind_of(file.name) in kinds for file in files):
        return ()
    return tuple(
        tr(
            "No font here has all letters of “{name}”: shown as □. Install a font for {scripts}.",
            name=name,
            scripts=listed(_scripts(missing)),
        )
        for name in dict.fromkeys(names_of(project))
        if (missing := missing_signs(name))
    )


def names_of(project: Project) -> Iterator[str]:
    """Give every text of a project that its pages and drawings show."""
    details = project.details
    yield from (project.name, details.author, details.revision, details.notes)
    for bed in project.beds:
        yield bed.name
        yield from (obstacle.name for obstacle in bed.obstacles)
        yield from (zone.name for zone in bed.zones)
        if bed.planting is not None:
            yield bed.planting.crop
        yield from (zone.rules.crop for zone in bed.zones if zone.rules.crop)
    yield from (sheet.name for sheet in project.sheets)


def _scripts(signs: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(map(_script, signs)))


def _script(sign: str) -> str:
    if not unicodedata.category(sign).startswith(("L", "M")):
        return tr(_SYMBOLS)
    first = unicodedata.name(sign, "").split(" ")[0]
    known = _SCRIPTS.get(first)
    return first.title() if known is None else tr(known)
