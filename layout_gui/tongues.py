"""The languages of the program, each with its catalogue of texts beside the typeface."""

from dataclasses import dataclass, replace
from functools import cache
from gettext import GNUTranslations
from pathlib import Path
from typing import Final

from geometry.tongue import ENGLISH, Tongue

LANGUAGES: Final = {"en": "English", "es": "Español"}
"""Every language by its code, each named in itself."""


@dataclass(frozen=True, slots=True)
class Translated(Tongue):
    """A language with a catalogue, which is read when the first text is wanted."""

    def text(self, english: str) -> str:
        """Return the text of the catalogue, or the English that it lacks."""
        # The catalogue keeps its own description under the empty text.
        return _catalogue(self.language).gettext(english) if english else ""

    def plural(self, one: str, many: str, count: int) -> str:
        """Return the form that the catalogue has for a count."""
        form = _catalogue(self.language).ngettext(one, many, count)
        # Forms that are marked one by one stand in the catalogue each by itself.
        return self.text(form) if form in {one, many} else form


_TONGUES: Final[dict[str, Tongue]] = {
    "en": ENGLISH,
    "es": Translated("es", decimal_sign=","),
}


def tongue_of(language: str, decimal_sign: str = "") -> Tongue:
    """Return the tongue of a code in ``LANGUAGES``, with another decimal sign if one is given."""
    tongue = _TONGUES[language]
    if not decimal_sign or tongue is ENGLISH:
        return tongue
    return replace(tongue, decimal_sign=decimal_sign)


@cache
def _catalogue(language: str) -> GNUTranslations:
    file = Path(__file__).parent / "resources" / "tongues" / f"{language}.mo"
    with file.open("rb") as stream:
        return GNUTranslations(stream)
