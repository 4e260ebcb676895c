"""The language in which people read the program: whole sentences, looked up by their English.

Every text that people read goes through ``tr`` or ``tr_n`` where it is made; a constant goes
through ``mark`` where it stands and through ``tr`` where it is shown. Without a tongue set, texts
stay English. Names of files, keys, columns and marks are no texts.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final
from unicodedata import bidirectional

GROUP_SIGN: Final = "\N{NARROW NO-BREAK SPACE}"
"""Stands between groups of three digits: a comma or a point would be read as a decimal sign."""

_FIRST_GROUPED: Final = 10_000
"""Four digits stay together (SI Brochure, 9th edition, 5.4.4)."""


@dataclass(frozen=True, slots=True)
class Tongue:
    """English, and what other languages override.

    A tongue is a frozen value that crosses to other processes, so it holds no catalogue itself.
    """

    language: str = "en"
    decimal_sign: str = "."
    group_sign: str = GROUP_SIGN

    def text(self, english: str) -> str:
        """Return the text in this language; the English where there is none."""
        return english

    def plural(self, one: str, many: str, count: int) -> str:
        """Return the form of the text that goes with a count."""
        return one if count == 1 else many


ENGLISH: Final = Tongue()

_ORDERS: Final = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF"})
_ISOLATES: Final = frozenset({"LRI", "RLI", "FSI"})
_TURNS: Final = frozenset({"R", "AL", "PDI"}) | _ORDERS | _ISOLATES
"""What a text can hold that changes the order in which it, or what follows, is read."""

_spoken: list[Tongue] = [ENGLISH]
# One slot for all threads: workers speak as the window does. Setting an item is atomic.


def spoken() -> Tongue:
    """Return the tongue that is spoken now."""
    return _spoken[0]


def set_tongue(tongue: Tongue) -> None:
    """Speak another language from now on, in all threads of this process."""
    _spoken[0] = tongue


@contextmanager
def speaking(tongue: Tongue) -> Iterator[None]:
    """Speak another language for a while, in all threads of this process."""
    before = spoken()
    set_tongue(tongue)
    try:
        yield
    finally:
        set_tongue(before)


def tr(text: str, /, **values: object) -> str:
    """Return a text in the spoken tongue, with values in its ``{names}``.

    Without values the text is taken as it stands, braces and all. A value that holds letters which
    run from right to left is isolated, so that it cannot mix with the words and figures around it.
    """
    found = spoken().text(text)
    return found.format(**_isolated(values)) if values else found


def tr_n(one: str, many: str, count: int, /, **values: object) -> str:
    """Return the form of a text that goes with ``count``, which it may show as ``{n}``.

    Give another ``n`` to show the count otherwise.
    """
    return spoken().plural(one, many, count).format(**_isolated({"n": count, **values}))


def isolated(text: str) -> str:
    """Put a text that runs from right to left between FIRST STRONG ISOLATE and its end.

    It then reads as it would by itself, and so does what stands around it (UAX #9, 2.4.2). Signs
    that turn the order of what follows are left out; isolates within end within.
    """
    if text.isascii() or not any(bidirectional(sign) in _TURNS for sign in text):
        return text
    kept: list[str] = []
    depth = 0
    for sign in text:
        kind = bidirectional(sign)
        if kind in _ORDERS or (kind == "PDI" and not depth):
            continue
        depth += (kind in _ISOLATES) - (kind == "PDI")
        kept.append(sign)
    return f"\u2068{''.join(kept)}{chr(0x2069) * (depth + 1)}"


def _isolated(values: dict[str, object]) -> dict[str, object]:
    """Make values ready to stand in a text: large whole numbers are grouped."""
    return {name: _shown(value) for name, value in values.items()}


def _shown(value: object) -> object:
    if isinstance(value, str):
        return isolated(value)
    is_large = isinstance(value, int) and abs(value) >= _FIRST_GROUPED
    return signed(f"{value:,}") if is_large else value


def plural(count: int, thing: str, things: str = "", *, shown: str = "") -> str:
    """Count things in words: "1 hole", "9 holes"; it looks up "{n} hole" and "{n} holes".

    Give ``things`` where an "s" does not do, and ``shown`` to write the count otherwise.
    """
    form = spoken().plural(f"{{n}} {thing}", f"{{n}} {things or thing + 's'}", count)
    return form.format(n=shown or _shown(count))


def listed(texts: Iterable[str]) -> str:
    """Join with commas and a last "and"."""
    *most, last = texts
    return tr("{most} and {last}", most=", ".join(most), last=last) if most else last


def either(texts: Iterable[str]) -> str:
    """Join with commas and a last "or"; nothing of nothing."""
    *most, last = tuple(texts) or ("",)
    return tr("{most} or {last}", most=", ".join(most), last=last) if most else last


def mark(text: str) -> str:
    """Return the text itself; it is translated where it is shown."""
    return text


def number(value: float, decimals: int | None = None) -> str:
    """Write a number for people to read, with the signs of the spoken tongue.

    With ``decimals`` exactly so many; without, up to six digits and no idle zeros. From 10 000 on
    digits stand in groups of three.
    """
    kind = "g" if decimals is None else f".{decimals}f"
    group = "," if abs(value) >= _FIRST_GROUPED else ""
    return signed(f"{float(value):{group}{kind}}")


def signed(decimal: str) -> str:
    """Put the signs of the spoken tongue into an English number, "1,234.5"."""
    tongue = spoken()
    return decimal.translate({ord("."): tongue.decimal_sign, ord(","): tongue.group_sign})
