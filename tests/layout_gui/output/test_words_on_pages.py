"""No word of any page stands on another or leaves the paper: all documents, samples, tongues."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from geometry.drawing.cut_sheet import compose_cut_sheet
from geometry.drawing.marks import Box, Drawing, Group, Text
from geometry.drawing.paper import PAPERS, Page, PageSetup, Picture
from geometry.drawing.styles import Style
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.curves import Point
from geometry.model.outlines import Disc, LShape, Rectangle
from geometry.model.planting import Blank, Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import PlacedRaft, Plan, make_plan, with_best_cut
from geometry.tongue import speaking
from geometry.units import Length, Unit
from layout_gui.output.documents import DOCUMENTS
from layout_gui.project import file
from layout_gui.tongues import tongue_of
from tests.builders import make_bed_plan, make_design, make_holes, make_shape
from tests.builders import make_plan as make_laid_plan
from tests.layout_gui.output.page_words import words_on_words, words_outside

SAMPLES = sorted((Path(__file__).parents[3] / "sample_projects").glob("*.raft.json"))
SMALL = ("first-raft", "round-pool", "school-bench")
LONG = "Invernadero de la escuela del barrio alto, banco largo junto a la puerta norte"


@cache
def _sample(path: Path) -> Plan:
    return with_best_cut(make_plan(file.loads(path.read_bytes(), path.name)))


def _faults(pages: Iterator[Page] | tuple[Page, ...], border: float = 9.5) -> list[str]:
    return [
        f"{page.name}: {found}"
        for page in pages
        if (found := [*words_on_words(page), *words_outside(page, border)])
    ]


def test_the_test_sees_words_on_words_and_words_outside() -> None:
    def page(*texts: Text) -> Page:
        return Page(100, 100, "p", (Picture(Drawing((Group("g", texts),))),))

    first = Text(Point(50, 50), "left side", 5, Style.LABEL)
    across = Text(Point(55, 40), "upright", 5, Style.LABEL, angle=90)
    below = Text(Point(50, 40), "left side", 5, Style.LABEL, "right")
    edge = Text(Point(95, 20), "too long", 5, Style.LABEL)

    assert words_on_words(page(first, across)) == [("left side", "upright")]
    assert words_on_words(page(first, below)) == []
    assert words_outside(page(first, edge), 5) == ["too long"]
    clipped = Picture(Drawing((Group("g", (first, across)),)), Box(0, 0, 40, 100))
    assert words_on_words(Page(100, 100, "p", (clipped,))) == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_cut_sheets_of_the_samples(path: Path) -> None:
    """In Spanish, whose words are the longer ones, and where there are few pages in English too."""
    languages = ["es", "en"] if path.name.partition(".")[0] in SMALL else ["es"]
    for language in languages:
        with speaking(tongue_of(language)):
            assert not _faults(compose_cut_sheet(_sample(path))), language


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda document: document.file)
def test_all_documents_of_the_small_samples(document: object) -> None:
    """In Spanish, whose words are the longer ones."""
    with speaking(tongue_of("es")):
        for path in SAMPLES:
            if path.name.partition(".")[0] in SMALL:
                laid = document.lay(_sample(path), PageSetup())  # type: ignore[attr-defined]
                assert not _faults(laid.pages(), border=9.0)


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
def test_cut_sheets_on_any_paper(paper: object) -> None:
    (path,) = [path for path in SAMPLES if path.name.startswith("backyard")]

    setup = PageSetup(paper, border_mm=12)  # type: ignore[arg-type]
    assert not _faults(compose_cut_sheet(_sample(path), setup.plain), border=11.9)


def _bench(units: Unit, **changes: object) -> Plan:
    bed = Bed(
        LONG,
        changes.pop("outline", Rectangle(Length.of(2400), Length.of(1200))),  # type: ignore[arg-type]
        clearance=Length.of(10),
        joint_gap=Length.of(5),
        rafts=Split(2, 2),
        obstacles=(
            Obstacle(
                "tubo de retorno con su abrazadera y la llave de paso del fondo",
                Disc(Length.of(60)),
                centre=Spot(Length.of(300), Length.of(300)),
                clearance=Length.of(20),
            ),
        ),
        planting=Planting(Length.of(150), Length.of(50), crop=LONG, edge_margin=Length.of(60)),
    )
    sheet = Sheet(
        LONG, Length.of(2500), Length.of(1250), Length.of(50), Fraction(31), density=Fraction(32)
    )
    cutting = Cutting(Length.of(3), Length.of(8), saw_depth=Length.of(38))
    project = Project(LONG, units, (replace(bed, **changes),), (sheet,), cutting)  # type: ignore[arg-type]
    return with_best_cut(make_plan(project))


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_long_names_in_any_unit(units: Unit, language: str) -> None:
    with speaking(tongue_of(language)):
        assert not _faults(compose_cut_sheet(_bench(units)))


def test_one_hole_and_none() -> None:
    lone = make_design("lone-1", make_shape(300, 200), make_holes([(150, 100)]))
    bare = make_design("bare-1", make_shape(300, 200), make_holes([]))
    tiny = make_design("tiny-1", make_shape(60, 60), make_holes([(30, 30)], diameter=50))
    rafts = [
        PlacedRaft(f"R{n}", design, 400.0 * n, 0, turned=n % 2 == 0)
        for n, design in enumerate((lone, bare, tiny), start=1)
    ]

    assert not _faults(compose_cut_sheet(make_laid_plan(make_bed_plan(rafts))))


def test_two_thousand_holes_and_holes_at_random() -> None:
    rng = np.random.default_rng(7)
    spread = rng.uniform(15, 985, (160, 2)).tolist()
    names = [f"{letter}{n}" for letter in "ABCDEFGH" for n in range(1, 21)]
    wild = make_holes([(x, y / 2) for x, y in spread], diameter=10, names=names)
    many = [(25 + 50 * n, 15 + 29.4 * row) for row in range(40) for n in range(50)]
    signs = [a + b for a in ("", "A") for b in "ABCDEFGHJKLMNPQRSTUVWXYZ"]
    rows = [f"{signs[row]}{n + 1}" for row in range(40) for n in range(50)]
    rafts = [
        PlacedRaft("R1", make_design("wild-1", make_shape(1000, 500), wild), 0, 0),
        PlacedRaft(
            "R2",
            make_design(
                "dense-1", make_shape(2500, 1200), make_holes(many, diameter=25, names=rows)
            ),
            1100,
            0,
        ),
    ]

    plan = make_laid_plan(make_bed_plan(rafts), units="in")
    pages = [page for page in compose_cut_sheet(plan) if page.name.startswith("Cut sheet ")]
    assert not _faults(tuple(pages))
    listed = {
        mark.text
        for page in pages
        for group in page.pictures[0].drawing.groups
        for mark in group.marks
        if isinstance(mark, Text)
    }
    assert {*names, *rows} <= listed


def test_many_designs_on_an_odd_outline() -> None:
    plan = _bench(
        "mm",
        outline=LShape(Length.of(2400), Length.of(1200), Length.of(700), Length.of(500)),
        rafts=Split(4, 3),
    )

    assert len(plan.beds[0].designs) > 5
    assert not _faults(compose_cut_sheet(plan))


def test_blanks_and_turned_rafts_change_nothing() -> None:
    planting = Planting(
        Length.of(150),
        Length.of(40),
        edge_margin=Length.of(60),
        joints="interchangeable",
        blanks=(Blank("R1", Length.of(100), Length.of(100)),),
    )

    assert not _faults(
        compose_cut_sheet(_bench("mm", outline=Disc(Length.of(1200)), planting=planting))
    )
