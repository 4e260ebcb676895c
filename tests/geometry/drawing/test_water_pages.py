"""The water pages: one for each bed, its figures in words, nothing on anything else."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from geometry.drawing.bed_part import bed_part
from geometry.drawing.marks import Text
from geometry.drawing.paper import COMMON, Page
from geometry.drawing.water_pages import lay_water
from geometry.model.bed import Bed
from geometry.model.outlines import Disc, Polygon, Rectangle
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.supplies import parse_volume
from geometry.model.water import Walls, Water
from geometry.plan import Plan, make_plan
from geometry.tongue import speaking
from geometry.units import ZERO, Length, Unit
from layout_gui.tongues import tongue_of
from tests.layout_gui.output.page_words import words_on_words, words_outside

BED = Bed(
    "bench",
    Rectangle(Length.of(2400), Length.of(1200)),
    planting=Planting(
        Length.of(200), Length.of(50), crop="lettuce, head", edge_margin=Length.of(100)
    ),
    water=Water(Length.of(200), Length.of(40), Length.of(20), metered=parse_volume("480 L", "mm")),
)
TANK = replace(BED, name="tank", outline=Disc(Length.of(1500)), water=Water())
TENT = replace(
    BED,
    name="tent",
    outline=Polygon(((ZERO, ZERO), (Length.of(900), ZERO), (ZERO, Length.of(700)))),
    water=Water(Length.of(200), walls=Walls(Length.of(100), Length.of(800), Length.of(600))),
)


def _plan(unit: Unit = "mm", *beds: Bed) -> Plan:
    crop = OwnCrop("lettuce, head", Length.of(200), days=28)
    return make_plan(Project("p", unit, beds=beds or (BED, TANK, TENT), crops=(crop,)))


def _said(pages: Iterable[Page]) -> list[str]:
    return [
        " ".join(
            mark.text
            for picture in page.pictures
            for group in picture.drawing.groups
            for mark in group.marks
            if isinstance(mark, Text)
        )
        for page in pages
    ]


def test_each_bed_has_a_page() -> None:
    known, unknown, odd = _said(lay_water(_plan()).pages())
    assert "480 L as metered; by length, width and depth 576 L" in known
    assert "the bed takes 83% of that" in known
    # 96 L of 576 metered at 480: 40 mm of 2.88 m² are 115.2 L, of which the bed takes 480/576.
    assert "96 L fill it up again" in known
    assert "note what lettuce, head weighs when it is picked" in known
    assert "1 to 2" in known
    # 25 mm of rain: 72 L on 2.88 m²; 20 mm of headroom take 57.6 · 480/576 = 48 L of them.
    assert "25 mm of rain bring 72 L: 13% of the mix" in known
    assert "24 L do not fit below the high level" in known
    for page in (known, unknown, odd):
        assert "residual-current device" in page
        assert "A child can drown" in page
        assert "oxygen, mg/L" in page
    assert "straight down to the floor" in unknown
    assert "two sizes are not enough" in odd


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_no_word_stands_on_another(unit: Unit, language: str) -> None:
    with speaking(tongue_of(language)):
        laid = lay_water(_plan(unit))
        assert laid.total == 3
        for page in laid.pages():
            assert words_on_words(page) == []
            assert words_outside(page, 9.5) == []


def test_the_bed_page_of_the_cut_sheet_tells_the_water_too() -> None:
    plan = _plan()
    deep, dry = (len(bed_part(plan, bed, COMMON).rows) for bed in plan.beds[:2])
    bare = make_plan(replace(plan.project, beds=(replace(BED, water=Water()),)))
    assert len(bed_part(bare, bare.beds[0], COMMON).rows) < deep
    assert dry < deep
