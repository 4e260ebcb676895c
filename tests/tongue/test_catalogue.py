"""The catalogues hold every text of the sources, translated with the same names."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from gettext import GNUTranslations
from io import BytesIO

import pytest

from tests.tongue import catalogue
from tests.tongue.catalogue import (
    SOURCES,
    TONGUES,
    all_texts,
    compiled,
    refreshed,
    texts_of,
    tree_of,
    untranslated,
    written,
)

read = cache(catalogue.read)

LANGUAGES = sorted(path.stem for path in TONGUES.glob("*.po"))


def names(text: str) -> set[str]:
    return set(re.findall(r"\{(\w+)\}", text))


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_text_of_the_sources_is_in_the_catalogue_and_nothing_else(language: str) -> None:
    known = {m.id if isinstance(m.id, str) else m.id[0] for m in read(language) if m.id}

    # Mended by: python tests/tongue/catalogue.py
    assert sorted(known ^ set(all_texts())) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_text_is_translated(language: str) -> None:
    assert untranslated(read(language)) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_translations_have_the_names_of_their_text(language: str) -> None:
    wrong = []
    for message in read(language):
        ids = [message.id] if isinstance(message.id, str) else list(message.id)
        forms = [message.string] if isinstance(message.string, str) else list(message.string)
        wanted = set().union(*map(names, ids))
        # One of a thing may be said without its number.
        wrong += [
            form for form in forms if (names(form) ^ wanted) - ({"n"} if len(ids) > 1 else set())
        ]

    assert wrong == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_translations_keep_the_edges_that_texts_are_joined_at(language: str) -> None:
    def edges(text: str) -> tuple[bool, bool, int, bool]:
        ends = text[:1].isspace(), text[-1:].isspace()
        return (*ends, text.count("\n"), bool(re.search("&[^ &]", text)))

    pairs = [(m.id, m.string) for m in read(language) if m.id and isinstance(m.id, str)]

    assert [pair for pair in pairs if edges(pair[0]) != edges(str(pair[1]))] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_compiled_catalogue_is_what_the_text_compiles_to(language: str) -> None:
    stored = (TONGUES / f"{language}.mo").read_bytes()

    assert stored == compiled(read(language))
    assert GNUTranslations(BytesIO(stored)).gettext("Cautions") != "Cautions"


@pytest.mark.parametrize("language", LANGUAGES)
def test_refreshing_a_catalogue_that_is_up_to_date_changes_nothing(language: str) -> None:
    stored = (TONGUES / f"{language}.po").read_bytes()

    assert written(refreshed(read(language))) == stored


def run_when_loaded(node: ast.AST) -> Iterator[ast.AST]:
    """All of a tree but what stands in functions; their defaults and decorators are run at once."""
    yield node
    is_later = isinstance(node, ast.FunctionDef | ast.Lambda | ast.AsyncFunctionDef)
    for name, value in ast.iter_fields(node):
        if not (is_later and name == "body"):
            for part in value if isinstance(value, list) else [value]:
                if isinstance(part, ast.AST):
                    yield from run_when_loaded(part)


def test_texts_are_looked_up_when_they_are_wanted_not_when_a_module_is_loaded() -> None:
    early = []
    for path in SOURCES:
        early += [
            f"{path.name}:{node.lineno}"
            for node in run_when_loaded(tree_of(path))
            if isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in {"tr", "tr_n", "plural", "counted", "number", "signed"}
        ]

    assert early == []


def test_a_text_has_one_plural_everywhere() -> None:
    forms: Counter[str] = Counter()
    pairs = {(text.one, text.many) for path in SOURCES for text in texts_of(path) if text.one}
    for one, many in pairs:
        forms[one] += one != many

    assert [one for one, count in forms.items() if count > 1] == []
