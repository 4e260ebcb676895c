"""The code that keeps pages of two versions apart."""

import tomllib
from dataclasses import replace
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.stamp import PROGRAM, design_code, stamp_words
from geometry.model.project import Details, Project
from tests.builders import make_design, make_holes, make_shape

DESIGN = make_design(holes=make_holes([(100, 100), (300, 100)]))


def test_the_code_is_of_what_is_made_not_of_its_name_or_crop() -> None:
    assert design_code(replace(DESIGN, name="another-2")) == design_code(DESIGN)
    assert len(design_code(DESIGN)) == 7


@given(
    at=st.integers(0, 1), axis=st.integers(0, 1), by=st.sampled_from([-1.0, 0.001, 1 / 16, 25.4])
)
def test_another_place_is_another_code(at: int, axis: int, by: float) -> None:
    places = DESIGN.holes.xy.copy()
    places[at, axis] += by
    moved = replace(DESIGN, holes=replace(DESIGN.holes, xy=places))
    assert design_code(moved) != design_code(DESIGN)


def test_diameter_outline_and_revision_change_the_code() -> None:
    codes = {
        design_code(DESIGN),
        design_code(make_design(holes=make_holes([(100, 100), (300, 100)], diameter=51))),
        design_code(replace(DESIGN, shape=make_shape(582, 560))),
        design_code(DESIGN, "A"),
        design_code(DESIGN, "B"),
    }
    assert len(codes) == 5


def test_what_a_float_adds_below_a_nanometre_is_no_other_version() -> None:
    shaken = replace(DESIGN.holes, xy=DESIGN.holes.xy * (1 + 1e-14))
    assert design_code(replace(DESIGN, holes=shaken)) == design_code(DESIGN)


def test_revision_and_date_stand_beside_the_code_where_they_are_given() -> None:
    plain = stamp_words(Project("p"), DESIGN)
    told = stamp_words(Project("p", details=Details(revision="B", date="2026-11-25")), DESIGN)

    assert plain == (f"code {design_code(DESIGN)}",)
    assert told == (f"code {design_code(DESIGN, 'B')}", "revision B", "of 2026-11-25")


def test_papers_name_the_version_of_the_program() -> None:
    root = next(place for place in Path(__file__).parents if (place / "pyproject.toml").exists())
    version = tomllib.loads((root / "pyproject.toml").read_text())["project"]["version"]
    assert f"Raftwright {version}" == PROGRAM
