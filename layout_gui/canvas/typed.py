"""Numbers typed while something is dragged or drawn."""

from fractions import Fraction
from typing import Final

from geometry.errors import GeometryError
from geometry.units import Length, Unit, format_length, parse_length

_BEGINS: Final = "0123456789.,-\u00bc\u00bd\u00be"
_GOES_ON: Final = _BEGINS + " /'\"mcinft"
_CARET: Final = "\N{LEFT ONE EIGHTH BLOCK}"


class TypedSizes:
    """One text for each size of a thing; typing begins with the first, Tab or x goes on.

    Texts are read as in any field of lengths; a bare number is in the project's unit.
    """

    def __init__(self, count: int, unit: Unit, *, signed: bool = False) -> None:
        self._unit: Unit = unit
        self._signed = signed
        self._texts = [""] * count
        self._values: list[Length | None] = [None] * count
        self._at = 0
        self.reason = ""

    @property
    def is_begun(self) -> bool:
        """Whether anything is typed."""
        return any(self._texts)

    @property
    def is_second(self) -> bool:
        """Whether another number than the first is typed now."""
        return self._at > 0

    def value(self, number: int) -> Length | None:
        """Return a size as it was typed; None leaves it to the pointer."""
        return self._values[number]

    def exact(self, number: int) -> Fraction | None:
        """Return a typed size in millimetres."""
        value = self._values[number]
        return None if value is None else value.exact

    def takes(self, text: str) -> bool:
        """Take a typed sign; tell whether it belongs to a number."""
        if len(text) != 1:
            return False
        own = self._texts[self._at]
        if text in "xX\N{MULTIPLICATION SIGN}" and own:
            self.next()
            return True
        if text not in (_GOES_ON if own else _BEGINS) or (text == "-" and own):
            return False
        if text == "-" and not self._signed:
            return False
        self._write(own + text)
        return True

    def takes_back(self) -> bool:
        """Take the last sign back; tell whether there was one."""
        own = self._texts[self._at]
        if not own and self._at and self.is_begun:
            self._at -= 1
            own = self._texts[self._at]
        if own:
            self._write(own[:-1])
        return bool(own)

    def next(self) -> None:
        """Go on to the next size, after the last one to the first."""
        self._at = (self._at + 1) % len(self._texts)

    def words(self, number: int, mm: float | Fraction) -> str:
        """Return what is shown for a size: the text that is being typed, or what it is."""
        text = self._texts[number]
        if text and number == self._at:
            return text + _CARET
        return format_length(mm, self._unit)

    def _write(self, text: str) -> None:
        self._texts[self._at] = text
        self.reason = ""
        if not text.strip():
            self._values[self._at] = None
            return
        try:
            value = parse_length(text, self._unit)
        except GeometryError as error:
            self.reason = str(
                error
            )  # half typed, perhaps: the last number that could be read stays
            return
        if value.exact > 0 or self._signed:
            self._values[self._at] = value
