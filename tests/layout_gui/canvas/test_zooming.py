import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from layout_gui.canvas.zooming import read_zoom, zoom_text


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("150 %", 1.5),
        ("150%", 1.5),
        (" 62 ", 0.62),
        ("1:5", 0.2),
        ("2 : 1", 2),
        ("1/4", 0.25),
        ("12,5 %", 0.125),
        ("7.5\N{NO-BREAK SPACE}%", 0.075),
    ],
)
def test_shares_and_ratios_are_read(text: str, share: float) -> None:
    assert read_zoom(text) == pytest.approx(share)


@pytest.mark.parametrize("text", ["", "wide", "0 %", "1:0", "0:1", "-50 %", "1e9", "9" * 400])
def test_what_is_no_zoom_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(GeometryError, match="1:5"):
        read_zoom(text)


@given(st.floats(0.001, 100))
def test_what_is_shown_reads_back(share: float) -> None:
    assert read_zoom(zoom_text(share)) == pytest.approx(share, rel=0.06)
    assert zoom_text(1.0) == "100 %"
