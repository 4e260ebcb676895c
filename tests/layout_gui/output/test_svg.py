"""SVG read back by an XML parser."""

import xml.etree.ElementTree as ET
from math import hypot, pi

import pytest

from geometry.drawing.marks import Drawing, Group, Path, Text
from geometry.drawing.raft import draw_raft
from geometry.drawing.styles import Style
from geometry.model.curves import Arc, Line, Point
from layout_gui.output.svg import render_svg
from tests.builders import make_design

SVG = "{http://www.w3.org/2000/svg}"


def _root(drawing: Drawing, width: float = 581, height: float = 560) -> ET.Element:
    return ET.fromstring(render_svg(drawing, width=width, height=height, title="t"))  # noqa: S314 - our own


def test_one_unit_is_one_millimetre() -> None:
    root = _root(draw_raft(make_design()))

    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (root.attrib["width"], root.attrib["height"]) == (f"{width:g}mm", f"{height:g}mm")
    assert left <= 0 <= top + height
    assert left + width >= 581
    assert top + height >= 560


def test_rims_stand_where_the_design_has_them_under_the_names_of_their_holes() -> None:
    design = make_design()
    groups = {group.attrib["id"]: group for group in _root(draw_raft(design)).iter(f"{SVG}g")}

    for name, (x, y) in zip(design.holes.names, design.holes.xy, strict=True):
        (rim,) = groups[name].findall(f"{SVG}circle")
        assert "hole" in rim.attrib["class"]
        assert float(rim.attrib["cx"]) == pytest.approx(x, abs=1e-6)
        assert 560 - float(rim.attrib["cy"]) == pytest.approx(y, abs=1e-6)
        assert float(rim.attrib["r"]) == 25
        assert groups[name].find(f"{SVG}text").text == name


def test_the_reference_line_is_100_mm_long() -> None:
    root = _root(draw_raft(make_design()))

    (line,) = [path for path in root.iter(f"{SVG}path") if path.attrib["class"] == "reference-line"]
    start, end = (
        tuple(map(float, pair.split(","))) for pair in line.attrib["d"].lstrip("M").split("L")
    )
    assert end[0] - start[0] == 100
    assert end[1] == start[1] > 560


def test_ids_are_unique_and_safe_whatever_the_names() -> None:
    names = ["A1", "A1", "1", "ß \"<&>'", "", "\x01\ud800", "reference-line-100-mm"]
    text = Text(Point(1, 2), "<&> \x01 ok", 4, Style.LABEL)
    root = _root(Drawing(tuple(Group(name, (text,)) for name in names)))

    ids = [group.attrib["id"] for group in root.iter(f"{SVG}g")]
    assert len(set(ids)) == len(ids) == len(names) + 1
    assert ids[0] == "A1"
    for name in ids:
        assert name.replace("_", "a").replace("-", "a").replace(".", "a").isalnum()
        assert name.isascii()
        assert not name[0].isdigit()


@pytest.mark.parametrize(
    ("angle", "sweep"), [(0, 2 * pi), (0.3, pi), (1, -pi / 2), (0, 1.5 * pi), (2, -2 * pi)]
)
def test_arcs_run_through_the_right_places(angle: float, sweep: float) -> None:
    arc = Arc(Point(100, 200), 40, angle, sweep)
    (path,) = [
        path
        for path in _root(
            Drawing((Group("g", (Path((arc,), Style.RAFT),)),)), width=400, height=400
        ).iter(f"{SVG}path")
        if path.attrib["class"] == "raft-outline"
    ]
    start, *arcs = path.attrib["d"].split("A")

    places = [start.lstrip("M"), *(part.split(" ")[-1] for part in arcs)]
    for place in places:
        x, y = map(float, place.split(","))
        assert hypot(x - 100, 400 - y - 200) == pytest.approx(40, abs=1e-5)
    flags = {tuple(part.split(" ")[2:5]) for part in arcs}
    assert flags == {("0", "0", "0" if sweep > 0 else "1")}
    assert len(arcs) > abs(sweep) / pi


def test_the_same_drawing_gives_the_same_bytes() -> None:
    first, second = (
        render_svg(draw_raft(make_design(), unit="mm"), width=581, height=560, title="t")
        for _ in range(2)
    )

    assert first == second


def test_a_turned_text_turns_about_its_own_place() -> None:
    text = Text(Point(10, 20), "up", 4, Style.LABEL, angle=90)
    (found,) = [
        found
        for found in _root(Drawing((Group("g", (text,)),)), height=100).iter(f"{SVG}text")
        if found.text == "up"
    ]

    assert found.attrib["transform"] == "rotate(-90 10 80)"


def test_lines_keep_their_ends() -> None:
    path = Path((Line(Point(1.25, 2), Point(3, 4.5)),), Style.CUT)
    root = _root(Drawing((Group("g", (path,)),)), height=10)

    assert root.find(f"{SVG}g/{SVG}path").attrib["d"] == "M1.25,8L3,5.5"


def test_every_group_is_titled_by_its_name_whatever_is_in_it() -> None:
    root = _root(Drawing((Group("R1 <b>&amp;\u202e", ()), Group("A1", ()))))

    titles = [group.findtext(f"{SVG}title") for group in root.iter(f"{SVG}g")]
    assert titles == ["R1 <b>&amp;", "A1", "reference-line-100-mm"]


def test_the_reference_line_keeps_its_id_against_a_thing_of_its_name() -> None:
    root = _root(Drawing((Group("reference-line-100-mm", ()),)))

    *_, last = root.iter(f"{SVG}g")
    assert last.attrib["id"] == "reference-line-100-mm"
    assert last.find(f"{SVG}path").attrib["class"] == "reference-line"


def test_words_as_outlines_are_paths_and_nothing_else_changes() -> None:
    drawing = draw_raft(make_design(), unit="mm")
    text, lines = (
        ET.fromstring(render_svg(drawing, width=581, height=560, title="t", letters=letters))  # noqa: S314 - our own
        for letters in ("text", "outlines")
    )

    words = [found.text for found in text.iter(f"{SVG}text")]
    assert not list(lines.iter(f"{SVG}text"))
    paths = [path for path in lines.iter(f"{SVG}path") if "letters" in path.attrib["class"]]
    assert [path.attrib["aria-label"] for path in paths] == words
    assert all(path.attrib["d"].endswith("Z") for path in paths)
    for kind in ("circle", "g"):
        found, same = (
            [each.attrib for each in root.iter(f"{SVG}{kind}")] for root in (text, lines)
        )
        assert found == same


def test_what_reaches_beyond_the_thing_is_in_sight_too() -> None:
    beyond = Path((Line(Point(-50, -20), Point(700, 600)),), Style.OBSTACLE)
    root = _root(Drawing((Group("g", (beyond,)),)))
    left, top, width, height = map(float, root.attrib["viewBox"].split())

    assert left < -50
    assert left + width > 700
    assert top < 560 - 600
    assert top + height > 560 + 20 + 15
