"""Rules of import and honesty that no linter knows."""

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = ("geometry", "layout_gui")
SOURCES = sorted(path for name in PACKAGES for path in (ROOT / name).rglob("*.py"))


def imported_names(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def tracked_files() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=False, text=True
    )
    if listed.returncode:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in listed.stdout.split("\0") if name]


def test_packages_re_export_nothing() -> None:
    loud = [
        path
        for path in SOURCES
        if path.name == "__init__.py" and len(ast.parse(path.read_text("utf-8")).body) != 1
    ]

    assert loud == []


def test_the_document_knows_no_widget() -> None:
    for path in (ROOT / "layout_gui" / "document").glob("*.py"):
        assert not [name for name in imported_names(path) if "QtWidgets" in name], path


BEFORE_THE_FIRST_PICTURE = {
    "layout_gui/document/autosave.py",
    "layout_gui/document/document.py",
    "layout_gui/document/files.py",
    "layout_gui/document/outside.py",
    "layout_gui/document/planner.py",
    "layout_gui/document/recovery.py",
    "layout_gui/document/swap.py",
    "layout_gui/panels/last_line.py",
    "layout_gui/panels/now.py",
    "layout_gui/panels/stations.py",
    "layout_gui/panels/whatif.py",
    "layout_gui/panels/words.py",
    "layout_gui/project/recovery_file.py",
    "layout_gui/windows/desk.py",
    "layout_gui/windows/files.py",
    "layout_gui/windows/main_window.py",
    "layout_gui/windows/menus/draw_menu.py",
    "layout_gui/windows/things.py",
}
"""What the empty window is made of: it names types of what is loaded after it is shown."""


def test_no_import_hides_but_what_is_loaded_after_the_window_is_shown() -> None:
    """The import contracts look into these blocks too, so that no cycle hides in one."""
    hiding = {
        str(path.relative_to(ROOT))
        for path in SOURCES
        if "TYPE_CHECKING" in path.read_text("utf-8")
    }

    assert hiding <= BEFORE_THE_FIRST_PICTURE


def test_suppressions_name_their_rule_and_their_reason() -> None:
    bare = re.compile(r"#\s*(noqa(?!: [A-Z]+[0-9]+)|type: ignore(?!\[))")

    assert [path for path in SOURCES if bare.search(path.read_text("utf-8"))] == []


def test_only_the_hook_of_the_window_catches_everything() -> None:
    catching = re.compile(r"\bexcept\s*(:|\(?\s*Exception\b)")
    texts = {path: path.read_text("utf-8") for path in SOURCES}
    wide = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path, text in texts.items()
        if catching.search(text)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.ExceptHandler)
        and (node.type is None or (isinstance(node.type, ast.Name) and node.type.id == "Exception"))
    ]

    assert wide == []


def test_the_top_level_is_as_agreed() -> None:
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "layout_gui",
        "geometry",
        "tests",
        "sample_projects",
    }
    top = {path.relative_to(ROOT).parts[0] for path in tracked_files()}

    assert {name for name in top if not name.startswith(".")} <= allowed


def test_nothing_committed_names_a_package_registry() -> None:
    # Written in pieces so that this file does not name one either.
    hosts = re.compile("|".join(["py" + r"pi\.org", "python" + "hosted", "registry" + r"\.npm"]))
    texts = [path for path in tracked_files() if path.suffix not in {".ttf", ".png", ".mo"}]

    assert [
        path for path in texts if path.is_file() and hosts.search(path.read_text("utf-8"))
    ] == []
