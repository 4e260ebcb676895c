"""What the five stations say."""

from dataclasses import replace

from geometry.checks.finding import Finding
from geometry.model.bed import One, Split
from geometry.model.outlines import Disc
from geometry.model.project import Accepted, Project
from geometry.units import Length, Unit
from layout_gui.panels.now import Now
from layout_gui.panels.station_facts import home_of, open_findings, stations
from layout_gui.panels.stations import Station
from layout_gui.panels.words import TIMES
from tests.layout_gui.panels.desk import make_bench, make_document, make_project, now_of


def said(now: Now, *, made: bool = False, grow: tuple[str, str] = ("", "")) -> dict[str, Station]:
    return {station.name: station for station in stations(now, made=made, grow=grow)}


def now_with(*findings: Finding, accepted: tuple[Accepted, ...] = ()) -> Now:
    document = make_document(replace(make_project(), accepted=accepted))
    return replace(now_of(document), plan=replace(document.plan, findings=findings))


def test_a_project_without_a_bed_is_open_everywhere() -> None:
    document = make_document(Project("nothing yet"))

    road = said(now_of(document))

    assert [station.sign for station in road.values()] == ["open"] * 5
    assert road["Bed"].line == "not measured yet"


def test_each_station_says_its_figure_in_the_units_of_the_project() -> None:
    for unit, bed, rafts in (
        ("mm", f"1200 {TIMES} 600 mm", f"2 of 588 {TIMES} 580 mm"),
        ("cm", f"120 {TIMES} 60 cm", f"2 of 58.8 {TIMES} 58 cm"),
        ("in", f"47 1/4 {TIMES} 23 5/8 in", f"2 of 23 1/8 {TIMES} 22 13/16 in"),
    ):
        units: Unit = unit  # type: ignore[assignment]
        document = make_document(make_project(units=units))
        road = said(now_of(document), grow=("24 days", "basil"))

        assert road["Bed"].figure == bed
        assert road["Rafts"].figure == rafts
        assert road["Holes"].figure == "18 plants"
        assert road["Make"].figure == "1 sheet"
        assert road["Grow"].figure == "24 days"


def test_the_count_of_the_road_is_the_count_of_the_plan() -> None:
    document = make_document(make_project(make_bench(rafts=Split(3, 2))))
    now = now_of(document)

    assert said(now)["Holes"].figure == f"{now.plan.plants} plants"
    assert str(now.bed_plan.ceiling if now.bed_plan else "") in said(now)["Holes"].line


def test_a_round_bed_has_one_measure_and_one_raft_no_joint() -> None:
    document = make_document(
        make_project(make_bench(outline=Disc(Length.of(1200)), rafts=One(), obstacles=()))
    )

    road = said(now_of(document))

    assert road["Bed"].figure == "1200 mm"
    assert road["Rafts"].line == "walls 10 mm"


def test_a_bed_among_others_says_which_it_is() -> None:
    document = make_document(make_project(make_bench(), make_bench(name="Other")))

    assert said(now_of(document))["Bed"].line == "Bench, 1 of 2"


def test_an_export_of_just_this_project_is_done() -> None:
    now = now_of(make_document(make_project()))

    assert said(now)["Make"].sign == "open"
    assert said(now, made=True)["Make"].sign == "done"


def test_a_finding_asks_for_a_look_at_its_own_station() -> None:
    now = now_with(
        Finding("skew", "question", "Bench"),
        Finding("sheet-fit", "problem", "Bench"),
        Finding("pin-idle", "note", "Bench"),
    )

    assert {name: station.sign for name, station in said(now).items()} == {
        "Bed": "look",
        "Rafts": "done",
        "Holes": "done",
        "Make": "look",
        "Grow": "open",
    }


def test_a_finding_left_with_a_note_asks_for_nothing() -> None:
    finding = Finding("skew", "question", "Bench")
    now = now_with(finding, accepted=(Accepted(finding.key, "the liner folds there"),))

    assert open_findings(now) == ()
    assert said(now)["Bed"].sign == "done"


def test_a_number_that_looks_like_a_slip_is_settled_where_it_was_typed() -> None:
    homes = {
        subject: home_of(Finding("unit-slip", "question", "Bench", subject=subject))
        for subject in (
            "planting.spacing",
            "outline.length",
            "clearance",
            "joint_gap",
            "cutting.kerf",
        )
    }

    assert homes == {
        "planting.spacing": "Holes",
        "outline.length": "Bed",
        "clearance": "Bed",
        "joint_gap": "Rafts",
        "cutting.kerf": "Rafts",
    }
