"""Brings the catalogues up to date with the texts of the sources: python tests/tongue/catalogue.py

New texts are added without a translation and gone ones are dropped; what is translated stays. Then
every catalogue is compiled. Texts are found where the sources call ``tr``, ``tr_n``, ``plural``,
``counted`` or ``mark`` with the text itself.
"""

import ast
import io
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).parents[2]
TONGUES = ROOT / "layout_gui" / "resources" / "tongues"
SOURCES = sorted(
    path for name in ("geometry", "layout_gui") for path in (ROOT / name).rglob("*.py")
)


class Found(NamedTuple):
    """A text of the sources: its two forms where it counts something, else the same one twice."""

    one: str
    many: str
    path: Path
    line: int

    @property
    def place(self) -> str:
        return f"{self.path.relative_to(ROOT)}:{self.line}"


class NoTextError(ValueError):
    """A call that hides its text from the catalogue."""


@cache
def tree_of(path: Path) -> ast.Module:
    """Parse a source file; sources do not change while this runs."""
    return ast.parse(path.read_text("utf-8"))


@cache
def texts_of(path: Path) -> tuple[Found, ...]:
    """Find the texts of a source file, in their order."""
    return tuple(_found(path))


def _found(path: Path) -> Iterator[Found]:
    for call in ast.walk(tree_of(path)):
        if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.args):
            continue
        match call.func.id:
            case "tr" | "mark":
                for text in _texts(call.args[0], path):
                    yield Found(text, text, path, call.lineno)
            case "tr_n":
                one, many = (_text(part, path) for part in call.args[:2])
                if one:
                    yield Found(one, many, path, call.lineno)
            case "plural" | "counted" if len(call.args) > 1:
                one, *others = (_text(part, path) for part in call.args[1:3])
                many = others[0] if others and others[0] else f"{one}s"
                if one:
                    yield Found(f"{{n}} {one}", f"{{n}} {many}", path, call.lineno)
            case _:
                pass


def _texts(node: ast.expr, path: Path) -> Iterator[str]:
    match node:
        case ast.Constant(str() as text):
            yield text
        case ast.IfExp(_, body, orelse):
            yield from _texts(body, path)
            yield from _texts(orelse, path)
        case ast.JoinedStr() | ast.BinOp():
            raise NoTextError(f"{path.relative_to(ROOT)}:{node.lineno} puts a text together")
        case _:
            pass  # a constant that is marked where it stands


def _text(node: ast.expr, path: Path) -> str:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.Name | ast.Attribute):  # handed on: it is found where it stands
        return ""
    raise NoTextError(f"{path.relative_to(ROOT)}:{node.lineno} hides a text that is counted")


def all_texts() -> dict[str, Found]:
    """Return every text of the sources by its first form."""
    found: dict[str, Found] = {}
    for path in SOURCES:
        for text in texts_of(path):
            if text.one and (text.one not in found or found[text.one].one == found[text.one].many):
                found[text.one] = text
    return found


def read(language: str) -> Catalog:
    """Read the catalogue of a language."""
    with (TONGUES / f"{language}.po").open("rb") as stream:
        return read_po(stream, locale=language)


def refreshed(old: Catalog) -> Catalog:
    """Return a catalogue of the texts of the sources, with the translations of the old one."""
    new = Catalog(
        locale=old.locale,
        header_comment=old.header_comment,
        project=old.project,
        version=old.version,
        creation_date=old.creation_date,
        revision_date=old.revision_date,
        last_translator=old.last_translator,
        language_team=old.language_team,
        charset="utf-8",
        fuzzy=False,
    )
    for text in all_texts().values():
        known = old.get(text.one)
        is_plural = text.one != text.many
        translated = known.string if known is not None else ""
        if is_plural and isinstance(translated, str):
            translated = ("",) * new.num_plurals
        elif not is_plural and not isinstance(translated, str):
            translated = translated[0]
        new.add(
            (text.one, text.many) if is_plural else text.one,
            translated,
            locations=[(str(text.path.relative_to(ROOT)), 0)],
            user_comments=known.user_comments if known is not None else (),
        )
    return new


def written(catalogue: Catalog) -> bytes:
    """Return a catalogue as its text file has it."""
    stream = io.BytesIO()
    write_po(stream, catalogue, width=96, include_lineno=False, sort_by_file=True)
    return stream.getvalue()


def compiled(catalogue: Catalog) -> bytes:
    """Return a catalogue as the program reads it."""
    stream = io.BytesIO()
    write_mo(stream, catalogue)
    return stream.getvalue()


def untranslated(catalogue: Catalog) -> list[str]:
    """Return the texts that have no translation, or not in every form."""
    return [
        str(message.id)
        for message in catalogue
        if message.id
        and not all([message.string] if isinstance(message.string, str) else message.string)
    ]


def main() -> int:
    """Refresh and compile every catalogue; tell what is left to translate."""
    left = 0
    for path in sorted(TONGUES.glob("*.po")):
        catalogue = refreshed(read(path.stem))
        path.write_bytes(written(catalogue))
        path.with_suffix(".mo").write_bytes(compiled(catalogue))
        missing = untranslated(catalogue)
        left += len(missing)
        print(f"{path.name}: {len(catalogue)} texts, {len(missing)} to translate")
        for text in missing:
            print(f"    {text}")
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main())
