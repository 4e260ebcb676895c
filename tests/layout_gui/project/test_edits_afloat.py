"""What is found about rafts in the water, and that its cure clears it."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from geometry.checks.finding import Finding, SetLength, TakeFoam, TakePot
from geometry.checks.floats import weakest_of
from geometry.model.bed import Bed, Split
from geometry.model.limits import Limits
from geometry.model.outlines import Rectangle
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.water import Water
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.project.edits import apply_cure
from layout_gui.wording.cures import cure_label, no_cure_reason
from layout_gui.wording.findings import finding_line

mm = Length.of
CODES = frozenset(
    {"sinks", "freeboard", "tilts", "pot-dry", "pot-drowned", "aground", "heavy", "weak-line"}
)


def _project(
    *, thickness: float | str | None = 50, pot: Pot | None = None, grams: float | None = None,
    limits: Limits | None = None, water: Water | None = None, spacing: float = 200,
    size: tuple[float, float] = (1200, 600), hole: float = 44,
) -> Project:  # fmt: skip
    planting = Planting(
        mm(spacing), mm(hole), crop="lettuce of ours", pattern="square", edge_margin=mm(60),
        pot=pot.name if pot else "",
    )  # fmt: skip
    bed = Bed(
        "Bench", Rectangle(mm(size[0]), mm(size[1])), rafts=Split(), planting=planting,
        water=water or Water(),
    )  # fmt: skip
    sheet = Sheet("board", mm(2500), mm(1250), None if thickness is None else mm(thickness))
    crops = () if grams is None else (OwnCrop("lettuce of ours", mm(200), grams=Fraction(grams)),)
    return Project(
        "Trial", beds=(bed,), sheets=(sheet,), pots=(pot,) if pot else (), crops=crops,
        limits=limits or Limits(),
    )  # fmt: skip


def _pot(depth: float = 50, grams: float | None = None, rim: float = 50) -> Pot:
    weight = None if grams is None else Fraction(grams)
    return Pot("net pot", mm(44), mm(depth), mm(32), mm(rim), mm(2), weight)


def _found(project: Project) -> list[Finding]:
    return [each for each in make_plan(project).findings if each.code in CODES]


@pytest.mark.parametrize("thickness", [None, 20, 50])
def test_nothing_is_found_where_nothing_was_noted(thickness: float | None) -> None:
    # 400 plants a square metre of the usual weights would sink any board.
    dense = _project(thickness=thickness, spacing=50)

    assert _found(dense) == []
    (raft,) = make_plan(dense).waters[0].rafts.values()
    assert (raft.afloat is None) is (thickness is None)
    if raft.afloat is not None:
        assert raft.afloat.assumed == ("foam", "head", "pot")
        assert raft.afloat.harvest.floating.sinks


def _cured(project: Project, code: str) -> tuple[Finding, Project]:
    found = {each.code: each for each in _found(project)}
    assert code in found, found
    plan = make_plan(project)
    made = apply_cure(project, plan, found[code])
    assert code not in {each.code for each in _found(made)}
    line = finding_line(found[code], "mm", plan)
    cure = found[code].cure
    assert cure is not None
    assert "Raft R1" in line or "raft R1" in line
    assert cure_label(cure, "in")
    return found[code], made


@pytest.mark.parametrize(
    ("code", "project", "cure"),
    [
        # 29 kg/m2 on 20 mm, which carry 19 at most; 38 mm carry them with less than 10 to spare.
        ("sinks", _project(thickness=20, grams=1000), TakeFoam(20, 50)),
        ("sinks", _project(thickness="3/4 in", grams=1000), TakeFoam(19.05, 50.8)),
        ("freeboard", _project(thickness=25, grams=500), TakeFoam(25, 30)),
        # By hand: 50 - (120 g x 18 / 0.69 m2 + 1.6 kg/m2) / 998 = 45.3 mm of freeboard.
        ("pot-dry", _project(pot=_pot(47)), TakePot("net pot", 49)),
        ("aground", _project(pot=_pot(100), water=Water(mm(80), low=mm(40))), None),
        ("tilts", _project(thickness=20, grams=560), None),
    ],
)  # fmt: skip
def test_the_cure_clears_what_was_found(code: str, project: Project, cure: Any) -> None:
    found, made = _cured(project, code)

    assert cure is None or found.cure == cure
    if code == "aground":
        assert isinstance(found.cure, SetLength)
        assert 0 < made.beds[0].water.low.mm < 40


def test_a_pot_under_water_is_found_where_the_raft_is_not_known_to_sink() -> None:
    # 120 g a pot at 400 a square metre: 48 kg/m2 on a board that carries 19 kg/m2.
    project = _project(thickness=20, pot=_pot(), spacing=50, hole=44)

    found = {each.code: each for each in _found(project)}

    assert "sinks" not in found
    assert found["pot-drowned"].severity == "problem"
    _cured(project, "pot-drowned")


@pytest.mark.parametrize(
    ("changes", "codes"),
    [
        ({"grams": 900}, {("heavy", "question")}),
        ({"limits": Limits(lift_one=Fraction(5))}, {("heavy", "note")}),
        (
            {"limits": Limits(lift_one=Fraction(4), lift_two=Fraction(5))},
            {("heavy", "question")},
        ),
        ({"limits": Limits(sound=Fraction(9, 10))}, {("weak-line", "question")}),
        ({"limits": Limits(sound=Fraction(7, 10))}, set()),
        ({"limits": Limits(freeboard=mm(45))}, {("freeboard", "question")}),
    ],
)
def test_limits_of_the_growers_own_are_asked_about(
    changes: dict[str, Any], codes: set[tuple[str, str]]
) -> None:
    thick = {"thickness": 100} if "grams" in changes else {}
    found = _found(_project(size=(2400, 600), **thick, **changes))

    assert {(each.code, each.severity) for each in found} == codes
    for each in found:
        assert each.cure is not None or "No single change" not in no_cure_reason(each)


def test_only_the_raft_that_changed_is_looked_at_again() -> None:
    project = _project(pot=_pot(), grams=200)
    project = replace(
        project, beds=tuple(replace(project.beds[0], name=name) for name in ("One", "Two"))
    )
    before = make_plan(project)
    planting = project.beds[1].planting
    assert planting is not None
    wider = replace(project.beds[1], planting=replace(planting, spacing=mm(250)))

    after = make_plan(replace(project, beds=(project.beds[0], wider)), before)

    assert after.waters[0].rafts["one-1"] is before.waters[0].rafts["one-1"]
    assert after.waters[1].rafts["two-1"].afloat != before.waters[1].rafts["two-1"].afloat


def test_the_weakest_line_of_a_design_is_looked_for_once() -> None:
    looked = make_plan(_project()).waters[0]
    (raft,) = looked.rafts.values()

    line = weakest_of(raft.design, looked.surroundings)

    assert line is not None
    assert line is weakest_of(raft.design, looked.surroundings)
