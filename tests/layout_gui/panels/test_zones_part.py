"""The zones in the fields of the station Holes."""

import pytest
from pytestqt.qtbot import QtBot

from geometry.crops.table import CROPS, find_crop
from geometry.model.outlines import Disc, Rectangle
from geometry.model.zone import Zone
from geometry.units import Length
from layout_gui.document.selection import Selection
from layout_gui.panels.fields import LengthField, TextField
from layout_gui.panels.holes_panel import HolesPanel
from layout_gui.panels.last_line import truth
from layout_gui.panels.now import Now
from layout_gui.panels.station_facts import stations
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project

pytestmark = OFFSCREEN


class Shown:
    """The panel at a document, following the selection as the window lets it."""

    def __init__(self, qtbot: QtBot) -> None:
        self.document = make_document(make_project())
        self.selection = Selection()
        self.selection.set_bed("Bench")
        self.panel = HolesPanel(self.document, self.selection)
        qtbot.addWidget(self.panel)
        self.document.plan_changed.connect(lambda _plan: self.show())
        self.selection.changed.connect(self.show)
        self.show()
        self.panel.show()

    @property
    def now(self) -> Now:
        chosen = self.selection
        document = self.document
        return Now(
            document.project, document.plan, chosen.bed, chosen.rafts, chosen.holes, chosen.zone
        )

    def show(self) -> None:
        self.panel.show_now(self.now)

    @property
    def zones(self) -> tuple[Zone, ...]:
        return self.document.project.beds[0].zones

    def commit(self, name: str, value: object) -> None:
        self.panel.zones.form.editor(name).committed.emit(value)  # type: ignore[union-attr]


@pytest.fixture
def shown(qtbot: QtBot) -> Shown:
    return Shown(qtbot)


def test_add_makes_a_zone_with_another_crop_and_picks_it(shown: Shown) -> None:
    shown.panel.zones.items.buttons["Add"].click()

    (zone,) = shown.zones
    assert zone.name == "zone 1"
    assert isinstance(zone.shape, Rectangle)
    assert zone.rules.crop == next(c.name for c in CROPS if c.name != "lettuce, head")
    assert shown.selection.zone == "zone 1"
    assert shown.document.undo_stack.undoText() == "Add zone zone 1"
    assert "plant" in shown.panel.zones.items.list.item(0).text()


def test_a_raft_gets_another_crop_from_the_panel(shown: Shown) -> None:
    shown.selection.set_rafts(["R2"])
    shown.panel.zones.raft_button.click()

    (zone,) = shown.zones
    assert zone.rafts == ("R2",)
    assert {crop.crop for crop in shown.document.plan.beds[0].crops} == {
        "lettuce, head",
        zone.rules.crop,
    }


def test_every_field_writes_its_own_value_as_an_undo_step(shown: Shown) -> None:
    shown.panel.zones.items.buttons["Add"].click()
    for name, value, words in (
        ("zone-name", "herbs", "Name herbs"),
        ("zone-x", Length.of(100), "From the left 100 mm"),
        ("zone-y", Length.of(90), "From the bottom 90 mm"),
        ("zone-pattern", "square", "Pattern square"),
        ("zone-spacing", Length.of(110), "Spacing 110 mm"),
        ("zone-hole_diameter", Length.of(35), "Hole 35 mm"),
        ("zone-edge_margin", Length.of(40), "Edge to centre 40 mm"),
        ("zone-rows", "across", "Rows run across the bed"),
        ("zone-web", Length.of(20), "Least foam 20 mm"),
        ("zone-spread", False, "Spread out off"),
        ("zone-in_use", "every second", "In use every second hole"),
        ("zone-kind", Disc, "Outline round"),
        ("zone-diameter", Length.of(250), "Across 250 mm"),
    ):
        shown.commit(name, value)
        assert shown.document.undo_stack.undoText() == words

    (zone,) = shown.zones
    assert zone.shape == Disc(Length.of(250))
    assert zone.corner == (Length.of(100), Length.of(90))
    assert (zone.rules.pattern, zone.rules.spacing) == ("square", Length.of(110))
    assert (zone.rules.hole_diameter, zone.rules.in_use) == (Length.of(35), "every second")
    assert (zone.rules.rows, zone.rules.web, zone.rules.spread) == ("across", Length.of(20), False)
    shown.commit("zone-spacing", None)
    assert shown.zones[0].rules.spacing is None
    assert shown.document.undo_stack.undoText() == "Spacing as the bed"


def test_a_crop_of_the_table_brings_its_spacing(shown: Shown) -> None:
    shown.panel.zones.items.buttons["Add"].click()
    shown.commit("zone-crop", "pak choi")

    crop = find_crop("pak choi")
    assert crop is not None
    assert shown.zones[0].rules.spacing == crop.spacing


def test_whole_rafts_are_typed_and_have_no_place(shown: Shown) -> None:
    shown.panel.zones.raft_button.click()
    form = shown.panel.zones.form
    shown.commit("zone-rafts", "R2, R1")

    assert shown.zones[0].rafts == ("R2", "R1")
    assert form.editor("zone-x").isHidden()
    assert isinstance(form.editor("zone-rafts"), TextField)
    shown.commit("zone-rafts", " ")
    assert shown.zones[0].rafts == ("R2", "R1")
    assert "Name one raft" in form.rows["zone-rafts"].note.text()


def test_remove_takes_the_picked_zone_out(shown: Shown) -> None:
    shown.panel.zones.items.buttons["Add"].click()
    shown.panel.zones.raft_button.click()
    shown.selection.set_zone("zone 1")
    shown.panel.zones.items.buttons["Remove"].click()

    assert [zone.name for zone in shown.zones] == ["zone 2"]
    assert not shown.panel.zones.form.isHidden()


def test_picking_in_the_list_selects_for_the_canvas(shown: Shown) -> None:
    shown.panel.zones.items.buttons["Add"].click()
    shown.panel.zones.raft_button.click()
    shown.panel.zones.items.list.setCurrentRow(0)

    assert shown.selection.zone == "zone 1"
    editor = shown.panel.zones.form.editor("zone-length")
    assert isinstance(editor, LengthField)
    assert not editor.isHidden()


def test_plugged_holes_and_crops_are_counted_where_the_eye_falls(shown: Shown) -> None:
    # Two rafts of 3 x 3: 5 of 9 on the checkerboard stay in use on each.
    shown.panel.form.editor("in_use").committed.emit("every second")  # type: ignore[union-attr]
    note = shown.panel.form.rows["in_use"].note.text()
    assert note.startswith("10 in use now, ")
    assert note.endswith("apart, 8 plugged")
    assert "10 in use now" in truth(shown.now)
    (holes,) = [
        station
        for station in stations(shown.now, made=False, grow=("", ""))
        if station.name == "Holes"
    ]
    assert holes.line == "10 in use now, 8 plugged"

    shown.panel.form.editor("in_use").committed.emit("all")  # type: ignore[union-attr]
    shown.selection.set_rafts(["R2"])
    shown.panel.zones.raft_button.click()
    assert "9 lettuce, head, " in truth(shown.now)


def test_without_planting_there_are_no_zones_to_see(qtbot: QtBot, shown: Shown) -> None:
    assert not shown.panel.zones.isHidden()
    with qtbot.waitSignal(shown.panel.zones.draw_wanted):
        shown.panel.zones.draw_button.click()
