"""Pots are added, measured, named and taken out, and plantings follow."""

from dataclasses import replace

import pytest

from geometry.afloat.starting_pots import STARTING_POTS
from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.units import ZERO, Length
from layout_gui.project.edits_pots import (
    add_pot,
    drill,
    remove_pot,
    set_pot,
    set_wobble,
    uses_of,
)

NET, _, PLUG = STARTING_POTS


def planted() -> Project:
    zones = (Zone("z", ZoneRules(hole_diameter=Length.of(60)), rafts=("R1",)),)
    bed = Bed("Bed", Rectangle(Length.of(900), Length.of(600)),
              planting=Planting(Length.of(200), Length.of(50)), zones=zones)  # fmt: skip
    return Project("Pots", beds=(bed,))


def test_the_first_pot_of_a_bed_is_taken_by_it_and_the_next_has_a_name_of_its_own() -> None:
    project, first = add_pot(planted(), NET, "Bed")
    project, second = add_pot(project, NET, "Bed")

    assert (first, second) == ("net pot, 2 in rim", "net pot, 2 in rim 2")
    assert uses_of(project, first) == (("Bed", ""),)
    assert uses_of(project, second) == ()


def test_a_new_name_goes_wherever_the_pot_is_named_and_a_removed_pot_is_named_nowhere() -> None:
    project, name = add_pot(planted(), NET, "Bed")
    bed = project.beds[0]
    zone = replace(bed.zones[0], rules=replace(bed.zones[0].rules, pot=name))
    project = replace(project, beds=(replace(bed, zones=(zone,)),))

    named = set_pot(project, name, name="mine")
    assert uses_of(named, "mine") == (("Bed", ""), ("Bed", "z"))
    assert uses_of(named, name) == ()

    bare = remove_pot(named, "mine")
    assert bare.pots == ()
    assert bare.beds == planted().beds


def test_a_collar_brings_its_hole_and_takes_it_along() -> None:
    plug = replace(PLUG, collar=ZERO, collar_hole=ZERO)
    project, name = add_pot(planted(), plug)

    collared = set_pot(project, name, collar=Length.of(55))
    assert collared.pots[0].collar_hole == plug.body
    assert set_pot(collared, name, collar=ZERO).pots == project.pots


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"foot": Length.of(60)}, "Foot must be at most as wide as the body"),
        ({"rim": Length.of(40)}, "Rim must be at least as wide as the body"),
        ({"collar": Length.of(70)}, "Collar must be 0 for a pot with a rim"),
        ({"name": " "}, "A pot needs a name"),
        ({"depth": ZERO}, "Depth must be above 0"),
    ],
)
def test_what_no_file_may_hold_is_refused(changes: dict[str, object], words: str) -> None:
    project, name = add_pot(planted(), NET)

    with pytest.raises(GeometryError, match=words):
        set_pot(project, name, **changes)


def test_a_saw_makes_the_holes_of_the_bed_or_of_a_zone() -> None:
    saw = Length.of("1 3/4 in")

    assert drill(planted(), "Bed", "", saw).beds[0].planting.hole_diameter == saw  # type: ignore[union-attr]
    assert drill(planted(), "Bed", "z", saw).beds[0].zones[0].rules.hole_diameter == saw
    assert set_wobble(planted(), Length.of(1)).allowances.wobble == Length.of(1)
    with pytest.raises(GeometryError, match="Wobble must not be below 0"):
        set_wobble(planted(), Length.of(-1))
