"""Zones in the project file and in edits."""

import json
from dataclasses import replace
from typing import Any

import pytest

from geometry.errors import GeometryError
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.project import edits, file
from layout_gui.project.faults import ProjectFileError
from layout_gui.wording.findings import finding_title


def mm(value: float) -> Length:
    return Length.of(value)


HERBS: dict[str, Any] = {
    "name": "herbs",
    "shape": {"kind": "disc", "diameter": "12 in", "centre": [300, 290]},
    "planting": {"crop": "basil", "spacing": 100, "in_use": "every second"},
}
RAFTS: dict[str, Any] = {"rafts": ["R2"], "planting": {"pattern": "square"}}


def content(*zones: dict[str, Any], planted: bool = True) -> bytes:
    bed: dict[str, Any] = {
        "name": "Bench",
        "outline": {"kind": "rectangle", "length": 2360, "width": 580},
        "rafts": {"kind": "split", "along": 4},
        "zones": list(zones),
    }
    if planted:
        bed["planting"] = {"spacing": 200, "hole_diameter": 50}
    return json.dumps({"format": "raftwright", "version": 1, "beds": [bed]}).encode()


def read(*zones: dict[str, Any]) -> Project:
    return file.loads(content(*zones), "bench.raft.json")


def faults(data: bytes) -> str:
    with pytest.raises(ProjectFileError) as refused:
        file.loads(data, "bench.raft.json")
    return str(refused.value)


def test_zones_are_read_with_what_they_have_of_their_own() -> None:
    herbs, rafts = read(HERBS, RAFTS).beds[0].zones

    assert herbs == Zone(
        "herbs",
        ZoneRules(crop="basil", spacing=mm(100), in_use="every second"),
        Disc(Length.of("12 in")),
        centre=(mm(300), mm(290)),
    )
    assert rafts == Zone("zone 2", ZoneRules(pattern="square"), rafts=("R2",))


def test_zones_are_written_without_what_they_leave_to_the_bed() -> None:
    text = file.dumps(read(HERBS)).decode()

    written = json.loads(text)["beds"][0]["zones"]
    assert written == [HERBS]
    assert file.dumps(file.loads(text.encode(), "x.raft.json")) == text.encode()


@pytest.mark.parametrize(
    ("zones", "place", "what"),
    [
        ([{"name": "a", "planting": {}}], "/beds/0/zones/0", "needs a shape or rafts"),
        ([HERBS | {"rafts": ["R1"]}], "/beds/0/zones/0", "needs a shape or rafts"),
        ([HERBS, HERBS], "/beds/0/zones/1/name", "is the name of another zone"),
        ([HERBS | {"planting": {"spacing": 0}}], "/beds/0/zones/0/planting/spacing", "above 0"),
        ([HERBS | {"planting": {"joints": "separate"}}], "/beds/0/zones/0/planting/joints",
         "is not a key that belongs here"),
        ([{"shape": {"kind": "disc", "diameter": 9}}], "/beds/0/zones/0/shape", "has no place"),
        ([RAFTS | {"rafts": []}], "/beds/0/zones/0/rafts", "at least one"),
    ],
)  # fmt: skip
def test_what_no_zone_can_be_is_refused_in_its_place(
    zones: list[dict[str, Any]], place: str, what: str
) -> None:
    sentence = faults(content(*zones))

    assert f"{place}: " in sentence
    assert what in sentence


def test_zones_need_a_planted_bed() -> None:
    assert "/beds/0/zones: stand in a bed without planting" in faults(content(HERBS, planted=False))


def project() -> Project:
    planting = Planting(mm(200), mm(50), crop="lettuce", edge_margin=mm(60))
    bed = Bed(
        "Bench", Rectangle(mm(2360), mm(580)), mm(10), mm(5), rafts=Split(4, 1), planting=planting
    )
    return Project("test", beds=(bed,))


ZONE = Zone("herbs", ZoneRules(crop="basil"), Disc(mm(300)), centre=(mm(300), mm(290)))


def test_a_zone_is_added_changed_and_removed() -> None:
    added = edits.add_zone(project(), "Bench", ZONE)
    changed = edits.set_zone(
        added, "Bench", "herbs", name="mint", spacing=mm(90), shape=Disc(mm(250))
    )
    (zone,) = changed.beds[0].zones

    assert (zone.name, zone.rules, zone.shape) == (
        "mint",
        ZoneRules(crop="basil", spacing=mm(90)),
        Disc(mm(250)),
    )
    assert edits.remove_zone(changed, "Bench", "mint") == project()


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda it: edits.add_zone(it, "Bench", ZONE), "the name of another zone"),
        (lambda it: edits.set_zone(it, "Bench", "herbs", name=""), "give the zone a name"),
        (lambda it: edits.set_zone(it, "Bench", "herbs", spacing=mm(0)), "must be above 0"),
        (lambda it: edits.set_zone(it, "Bench", "herbs", rafts=("R1",)), "or both"),
        (lambda it: edits.remove_zone(it, "Bench", "mint"), "There is no zone"),
    ],
)
def test_what_no_file_could_hold_is_refused(edit: Any, words: str) -> None:
    added = edits.add_zone(project(), "Bench", ZONE)

    with pytest.raises(GeometryError) as refused:
        edit(added)

    assert words in str(refused.value)


def test_cures_take_rafts_and_zones_away() -> None:
    stray = Zone("all", ZoneRules(), rafts=("R1", "R9"))
    lost = Zone("far", ZoneRules(), Disc(mm(300)), centre=(mm(300), mm(9000)))
    before = edits.add_zone(edits.add_zone(project(), "Bench", stray), "Bench", lost)
    plan = make_plan(before)

    told = {finding.subject: finding for finding in plan.findings}
    after = edits.apply_cure(before, plan, told["all"])
    after = edits.apply_cure(after, make_plan(after), told["far"])

    assert [zone.rafts for zone in after.beds[0].zones] == [("R1",)]
    assert make_plan(after).findings == ()


def test_a_moved_hole_of_a_zone_stays_with_its_crop() -> None:
    zoned = edits.add_zone(project(), "Bench", ZONE)
    plan = make_plan(zoned).beds[0]
    holes = plan.rafts[0].design.holes
    at = int(holes.numbers.argmax())
    x, y = holes.xy[at].tolist()

    moved = edits.move_holes(zoned, plan, {("R1", holes.names[at]): (x + 2, y)})

    after = make_plan(moved).beds[0].rafts[0].design.holes
    assert after.numbers[at] == 1
    assert after.pinned[at]


def test_a_length_of_a_zone_is_set_by_its_key() -> None:
    small = edits.add_zone(
        project(), "Bench", replace(ZONE, rules=ZoneRules(crop="basil", spacing=mm(6)))
    )
    plan = make_plan(small)
    (asked,) = [finding for finding in plan.findings if finding.code == "unit-slip"]

    cured = edits.apply_cure(small, plan, asked)

    assert cured.beds[0].zones[0].rules.spacing == Length.of(152.4)
    assert finding_title(asked, "mm") == "Is the spacing of zone 1 really 6 mm?"
