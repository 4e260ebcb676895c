"""The measurements of an outline as fields."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.model.outlines import Measured, Outline, Rectangle
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.panels.now import Now
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.outlines import KIND_WORDS, outline_fields, outline_of_kind
from layout_gui.project import edits
from tests.layout_gui.panels.desk import make_bench, make_document, make_project, now_of

KINDS = [kind for kind, _ in KIND_WORDS]


def write(now: Now, outline: Outline) -> Project:
    return edits.set_outline(now.project, "Bench", outline)


FIELDS = {
    field.name: field
    for field in outline_fields(lambda now: now.bed.outline if now.bed else None, write)
}


def now_with(outline: Outline) -> Now:
    return now_of(make_document(make_project(make_bench(outline=outline, obstacles=()))))


@given(
    st.sampled_from(KINDS),
    st.integers(1, 10_000).map(Length.of),
    st.integers(1, 10_000).map(Length.of),
)
def test_another_kind_keeps_length_and_width(
    kind: type[Outline], length: Length, width: Length
) -> None:
    made = outline_of_kind(Rectangle(length, width), kind)

    sizes = outline_sizes(made)
    assert isinstance(made, kind)
    assert sizes in ((length.exact, width.exact), (min(length.exact, width.exact),))
    assert isinstance(outline_of_kind(made, Rectangle), Rectangle)


@pytest.mark.parametrize("kind", KINDS)
def test_the_fields_of_a_kind_are_its_measurements_and_no_others(kind: type[Outline]) -> None:
    outline = outline_of_kind(Rectangle(Length.of(1200), Length.of(600)), kind)
    now = now_with(outline)

    names = {name for name, field in FIELDS.items() if field.shown(now)} - {"kind"}

    given_names = {name for name in getattr(kind, "__slots__", ()) if name != "points"}
    assert names == given_names
    assert FIELDS["kind"].read(now) is kind


def test_every_measurement_can_be_written() -> None:
    for kind in KINDS:
        now = now_with(outline_of_kind(Rectangle(Length.of(1200), Length.of(600)), kind))
        for field in FIELDS.values():
            if field.shown(now) and field.kind == "length":
                wanted = Length(field.read(now).exact + 1)
                written = field.write(now, wanted).beds[0].outline
                assert getattr(written, field.name) == wanted


def test_several_measures_of_a_tape_say_which_one_counts() -> None:
    now = now_with(Measured((Length.of(582), Length.of(577), Length.of(580)), (Length.of(2360),)))

    assert FIELDS["widths"].follows(now) == "577 mm counts, the least"
    assert FIELDS["lengths"].follows(now) == "one or two, with ; between"
    written = FIELDS["diagonals"].write(now, (Length.of(2430), Length.of(2431)))
    assert written.beds[0].outline == Measured(
        (Length.of(582), Length.of(577), Length.of(580)),
        (Length.of(2360),),
        (Length.of(2430), Length.of(2431)),
    )
