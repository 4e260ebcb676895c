"""Numbers typed during a drag."""

from fractions import Fraction

import pytest

from layout_gui.canvas.typed import TypedSizes


def typed(text: str, *, count: int = 2, signed: bool = False, unit: str = "mm") -> TypedSizes:
    sizes = TypedSizes(count, unit, signed=signed)  # type: ignore[arg-type]
    for sign in text:
        sizes.takes(sign)
    return sizes


@pytest.mark.parametrize(
    ("text", "unit", "first", "second"),
    [
        ("120", "mm", Fraction(120), None),
        ("120x80", "mm", Fraction(120), Fraction(80)),
        ("7 1/2", "in", Fraction(381, 2), None),
        ("12,5", "cm", Fraction(125), None),
        ("3ft", "mm", Fraction(9144, 10), None),
        ("5'6\"", "mm", Fraction(16764, 10), None),
        ("½", "in", Fraction(127, 10), None),
    ],
)
def test_texts_are_read_as_in_any_field(
    text: str, unit: str, first: Fraction, second: Fraction | None
) -> None:
    sizes = typed(text, unit=unit)
    assert (sizes.exact(0), sizes.exact(1)) == (first, second)


def test_letters_do_not_begin_a_number_and_strange_signs_belong_to_none() -> None:
    sizes = typed("")
    assert not any(sizes.takes(sign) for sign in ("m", "x", " ", "q", "", "12"))
    assert not sizes.is_begun
    assert sizes.takes("1")
    assert not sizes.takes("q")


def test_only_a_way_may_be_negative() -> None:
    assert typed("-5").exact(0) == 5
    assert typed("-5", signed=True).exact(0) == -5
    assert typed("0").exact(0) is None


def test_a_half_typed_number_keeps_the_last_one_that_could_be_read() -> None:
    sizes = typed("12 5/")
    assert sizes.exact(0) == 12
    assert sizes.reason
    sizes.takes("8")
    assert sizes.exact(0) == Fraction(101, 8)
    assert not sizes.reason


def test_signs_are_taken_back_across_both_numbers() -> None:
    sizes = typed("12x3")
    taken = [sizes.takes_back() for _ in range(4)]
    assert taken == [True, True, True, False]
    assert not sizes.is_begun
    assert sizes.exact(0) is None


def test_what_is_typed_is_shown_with_a_caret_and_the_rest_as_it_is() -> None:
    sizes = typed("12x3", unit="mm")
    assert sizes.words(0, 12) == "12 mm"
    assert sizes.words(1, 3).startswith("3")
    assert sizes.words(1, 3) != "3 mm"
    sizes.next()
    assert sizes.words(0, 12) != "12 mm"
