"""Kept choices: their names and their order."""

from dataclasses import replace

import pytest

from geometry.errors import GeometryError
from geometry.model.project import Choice, Project
from layout_gui.project.edits_choices import move_choice, rename_choice
from tests.layout_gui.panels.desk import make_bench, make_project


def kept(*names: str) -> Project:
    """Choices of the bed “Bench”, with one of another bed in between."""
    project = make_project(make_bench(), make_bench(name="Other"))
    choices = [Choice(name, "Bench", count=number + 1) for number, name in enumerate(names)]
    choices.insert(1, Choice("elsewhere", "Other", count=9))
    return replace(project, choices=tuple(choices))


def names(project: Project, bed: str = "Bench") -> list[str]:
    return [choice.name for choice in project.choices if choice.bed == bed]


def test_a_new_name_changes_nothing_else() -> None:
    project = rename_choice(kept("a", "b", "c"), "Bench", "b", "dill")

    assert names(project) == ["a", "dill", "c"]
    assert project.choices[2].count == 2
    assert rename_choice(project, "Bench", "dill", "dill") == project


@pytest.mark.parametrize("name", ["", "  ", "a", "elsewhere", "x\x00", "y" * 201])
def test_a_name_that_cannot_be_is_refused(name: str) -> None:
    with pytest.raises(GeometryError):
        rename_choice(kept("a", "b"), "Bench", "b", name)


@pytest.mark.parametrize(
    ("name", "by", "wanted"),
    [
        ("a", 1, "bac"),
        ("c", -1, "acb"),
        ("c", -2, "cab"),
        ("a", -1, "abc"),
        ("c", 5, "abc"),
        ("b", 0, "abc"),
    ],
)
def test_a_choice_moves_among_those_of_its_bed(name: str, by: int, wanted: str) -> None:
    project = move_choice(kept("a", "b", "c"), "Bench", name, by)

    assert "".join(names(project)) == wanted
    assert project.choices[1] == Choice("elsewhere", "Other", count=9)


def test_what_is_not_kept_cannot_be_moved() -> None:
    with pytest.raises(GeometryError, match="No choice “z” is kept"):
        move_choice(kept("a"), "Bench", "z", 1)
