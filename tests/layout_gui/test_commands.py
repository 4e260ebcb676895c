"""The commands: what they print and write, and the status they end with."""

import csv
import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from layout_gui import __main__ as way_in
from layout_gui.__main__ import main
from layout_gui.commands import common

PIPE = {"name": "standpipe", "shape": {"kind": "disc", "centre": [500, 110], "diameter": 40}}
# Rows of 200 mm on a raft of 1000 x 420 less 10 mm at each wall: 980 x 400 and a margin of 100 mm
# leave 780 x 200 for centres, that is 4 x 2 holes.
PROJECT: dict[str, Any] = {
    "format": "raftwright",
    "version": 1,
    "name": "Yard",
    "beds": [
        {
            "name": "Trough",
            "outline": {"kind": "rectangle", "length": 1000, "width": 420},
            "clearance": 10,
            "planting": {
                "crop": "basil",
                "pattern": "square",
                "spacing": 200,
                "edge_margin": 100,
                "hole_diameter": 50,
            },
        }
    ],
}
Write = Callable[[dict[str, Any]], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def project_file(changes: dict[str, Any]) -> Path:
        changes = dict(changes)
        content = json.loads(json.dumps(PROJECT))
        planting = content["beds"][0]["planting"]
        planting |= changes.pop("planting", {})
        content["beds"][0] |= changes.pop("bed", {})
        content |= changes
        path = tmp_path / "yard.raft.json"
        path.write_text(json.dumps(content))
        return path

    return project_file


# A hole put 40 mm from another spoils the spacing.
SPOILT = {"planting": {"pins": [{"raft": "R1", "x": 490, "y": 200}]}}


def run(*arguments: object) -> int:
    return main([str(argument) for argument in arguments])


def test_export_writes_what_is_asked_for_and_says_where(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "a" / "b"
    only = "holes.csv, summary.json"
    assert run("export", write({}), "--out", out, "--only", only) == common.DONE
    written = [out / "holes.csv", out / "summary.json"]
    assert capsys.readouterr().out.splitlines() == [str(path) for path in written]
    assert sorted(out.iterdir()) == written
    with written[0].open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    assert len(rows) == 8
    assert {row["crop"] for row in rows} == {"basil"}
    assert json.loads(written[1].read_text("utf-8"))["total"]["plants"] == 8


def test_problems_are_told_and_change_the_status_until_they_are_accepted(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write(SPOILT)
    assert run("export", path, "--out", tmp_path, "--only", "holes.csv") == common.PROBLEMS
    assert "yard.raft.json: problem: Trough: Holes R1" in capsys.readouterr().err
    assert (tmp_path / "holes.csv").exists()

    assert run("check", path, "--json") == common.PROBLEMS
    told = json.loads(capsys.readouterr().out)
    assert told["problems"] == sum(each["severity"] == "problem" for each in told["findings"]) > 0
    first = told["findings"][0]
    assert first["code"] == "spacing"
    assert first["bed"] == "Trough"
    assert first["amount_mm"] < first["limit_mm"] == 200
    assert first["cure"]["label"]
    assert first["title"]
    assert first["text"]
    assert first["accepted"] is None

    notes = [{"key": each["key"], "note": "on purpose"} for each in told["findings"]]
    accepted = write(SPOILT | {"accepted": notes})
    assert run("check", accepted, "--json") == common.DONE
    told = json.loads(capsys.readouterr().out)
    assert told["problems"] == 0
    assert {each["accepted"] for each in told["findings"]} == {"on purpose"}
    assert run("check", accepted) == common.DONE
    said = capsys.readouterr().out
    assert "Left as it is: on purpose" in said
    assert "Nothing is left to settle before cutting." in said


def test_check_names_the_winner_and_the_findings(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("check", write({"bed": {"obstacles": [PIPE | {"clearance": 25}]}})) == common.DONE
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("Trough: square")
    assert "plants" in lines[0]
    assert run("check", write({"bed": {"clearance": 300}})) == common.PROBLEMS
    said = capsys.readouterr().out
    assert "problem: Trough: There is no room for a raft." in said
    assert "Nothing is left" not in said


def test_check_says_what_the_cutting_needs_and_what_is_proved(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    boards = {"sheets": [{"name": "board", "length": 1250, "width": 600, "price": 14}]}
    assert run("check", write(boards)) == common.DONE
    said = capsys.readouterr().out
    assert "Cutting: 1 sheet for 14.00; no plan needs fewer" in said
    assert run("check", write({}), "--json") == common.DONE
    assert json.loads(capsys.readouterr().out)["cutting"] == ""


def test_a_question_is_no_problem_but_is_left_to_settle(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("check", write({"planting": {"hole_diameter": 4}})) == common.DONE
    said = capsys.readouterr().out
    assert "question: Trough: Is the hole diameter really 4 mm?" in said
    assert "Nothing is left" not in said


def test_an_outline_that_is_none_is_a_finding(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    bow = {"kind": "polygon", "points": [[0, 0], [900, 900], [900, 0], [0, 900]]}
    assert run("check", write({"bed": {"outline": bow}})) == common.PROBLEMS
    assert "The outline of the bed is no outline" in capsys.readouterr().out


def test_compare_tells_what_plants_weighed_at_such_a_density(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    # 1/w on the line through 321 g at 13/m² and 276 g at 17/m² (Toth and others 2016).
    square = {"kind": "rectangle", "length": 1000, "width": 1000}
    heads = {"spacing": 250, "edge_margin": 125, "crop": "lettuce, head"}
    bed = {"outline": square, "clearance": 0}
    path = write({"bed": bed, "planting": heads})
    assert run("compare", path, "--json") == common.DONE
    now, *others = json.loads(capsys.readouterr().out)["beds"][0]["choices"]
    assert (now["density_per_m2"], now["own_plant_g"]) == (16, None)
    assert now["published_plant_g"] == pytest.approx(1 / (0.25 / 321 + 0.75 / 276))
    assert any(choice["published_plant_g"] is None for choice in others)
    assert run("compare", path) == common.DONE
    table = capsys.readouterr().out
    assert "a plant, published" in table
    assert "286 g" in table
    assert "not a promise" in table
    assert "your log" not in table


def test_compare_lays_the_choices_side_by_side(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = {"name": "closer", "bed": "Trough", "spacing": 180}
    path = write({"choices": [kept]})
    assert run("compare", path, "--json") == common.DONE
    (bed,) = json.loads(capsys.readouterr().out)["beds"]
    assert bed["name"] == "Trough"
    now, closer = bed["choices"][:2]
    assert (now["name"], now["spacing_mm"], now["plants"]) == ("", 200, 8)
    assert now["leaves"]["harvest_day"] == 38  # basil: the middle of 35 to 42 days, FAO 589
    assert now["leaves"]["assumed"] == ["planted as the hole", "middle days"]
    assert closer["leaves"]["touch_day"] < now["leaves"]["touch_day"]
    # 780 mm hold 1 + floor(780 / 180) = 5 in a row, 200 mm hold 2 rows.
    assert (closer["name"], closer["spacing_mm"], closer["plants"]) == ("closer", 180, 10)
    spacing, margin, clearance = bed["thresholds"]
    assert spacing == {
        "length": "spacing",
        "now_mm": 200,
        "plants": 8,
        # Three gaps of 260 along 780 mm and one of 200 across; the narrower ends it.
        "same_up_to_mm": 200,
        # Four gaps of 195.
        "more_at_mm": 195,
        "more_plants": 10,
        "step_mm": 0.1,
    }
    assert (margin["length"], clearance["length"]) == ("edge_margin", "clearance")
    assert run("compare", path) == common.DONE
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Trough"
    assert lines[1].split()[0] == "choice"
    assert lines[1].endswith("leaves touch  at harvest  98 % covered")
    assert lines[2].startswith("as it stands, square")
    assert lines[3].startswith("closer")
    assert any("as wide as their hole (common practice, no source)" in line for line in lines)
    assert "The same 8 plants fit up to 200 mm; at 195 mm you gain 2." in lines
    bare = write({"bed": {"planting": None}})
    assert run("compare", bare) == common.DONE
    assert "nothing to compare" in capsys.readouterr().out


def test_compare_tells_of_better_joints_and_of_what_the_rule_costs(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    planting = {
        "spacing": 200, "hole_diameter": 50, "edge_margin": 60, "pattern": "square",
        "joints": "separate",
    }  # fmt: skip
    bed = {
        "name": "Bench", "outline": {"kind": "rectangle", "length": 1290, "width": 580},
        "joint_gap": 10, "rafts": {"kind": "split", "along": 2}, "planting": planting,
        "clearance": 0,
    }  # fmt: skip
    path = write({"beds": [bed]})
    assert run("compare", path, "--json") == common.DONE
    (found,) = json.loads(capsys.readouterr().out)["beds"]
    # Rafts of 640: 520 mm for centres are three columns of three, 80 mm more are a fourth.
    shift = found["split_shift"]
    assert (shift["shift_along_mm"], shift["shift_across_mm"]) == (80, 0)
    assert (shift["plants_now"], shift["plants"], shift["gain"]) == (18, 21, 3)
    assert (shift["raft_designs_now"], shift["raft_designs"], shift["exact"]) == (1, 2, True)
    assert shift["text"].startswith("Moving the joints 80 mm along the bed gives 3 more plants")
    # Half of 200 less half of 10 at both ends leaves 450: three columns, as many as bed-wide.
    assert found["joints"] == {
        "rule": "separate",
        "interchangeable": 18,
        "bed_wide": 18,
        "cost": 0,
        "text": "Interchangeable rafts would hold 18 as well.",
    }
    bed["rafts"] = {"kind": "split", "along": 2, "shift_along": "80 mm"}
    moved = write({"beds": [bed]})
    assert run("export", moved, "--out", str(moved.parent / "out"), "--only", "summary.json") == 0
    summary = json.loads((moved.parent / "out" / "summary.json").read_text("utf-8"))
    assert summary["beds"][0]["plants"] == 21


def test_compare_writes_a_table_and_pages_and_replaces_nothing(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write({})
    table, page = tmp_path / "out.csv", tmp_path / "out.pdf"

    assert run("compare", path, "--csv", table, "--page", page) == common.DONE
    assert capsys.readouterr().out.split() == [str(table), str(page)]
    rows = table.read_text("utf-8").splitlines()
    assert rows[0].startswith("bed,choice,kept,pattern")
    assert len(rows) > 10
    assert page.read_bytes().startswith(b"%PDF")

    before = table.read_bytes()
    assert run("compare", path, "--csv", table) == common.REFUSED
    assert "is there already" in capsys.readouterr().err
    assert table.read_bytes() == before
    assert run("compare", path, "--csv", tmp_path / "x.txt") == common.REFUSED
    assert run("compare", path, "--page", tmp_path / "gone" / "x.pdf") == common.REFUSED
    assert "x.pdf" in capsys.readouterr().err


def test_compare_finds_the_spacing_for_wanted_plants(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write({})
    assert run("compare", path, "--want", "10", "--json") == common.DONE
    (bed,) = json.loads(capsys.readouterr().out)["beds"]
    assert bed == {
        "name": "Trough",
        "wanted": {
            "plants": 10,
            "spacing_mm": 195,
            "gives": {
                "plants": 10,
                "density_per_m2": pytest.approx(10 / 0.42),
                "pattern": "square",
                "rows": "along",
            },
        },
    }
    assert run("compare", path, "--want", "10") == common.DONE
    assert capsys.readouterr().out == (
        "Trough: 10 plants, 23.8 per m²: spacing up to 195 mm, square along\n"
    )
    assert run("compare", path, "--want", "9999", "--json") == common.DONE
    (bed,) = json.loads(capsys.readouterr().out)["beds"]
    assert bed["wanted"]["spacing_mm"] is None
    assert bed["wanted"]["gives"]["plants"] > 10
    with pytest.raises(SystemExit, match="2"):
        run("compare", path, "--want", "a lot")
    assert "is no number of plants" in capsys.readouterr().err


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("schema") == common.DONE
    assert json.loads(capsys.readouterr().out)["title"] == "Project"


@pytest.mark.parametrize("command", ["export", "check", "compare"])
def test_what_cannot_be_read_is_refused_and_nothing_is_written(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    out = tmp_path / "out"
    extra = ["--out", out] if command == "export" else []
    path = write({"planting": {"spacing": -1, "web": "x", "colour": 5}})
    assert run(command, path, *extra) == common.REFUSED
    printed = capsys.readouterr()
    assert printed.out == ""
    places = [line.split(": ")[1] for line in printed.err.splitlines()]
    assert sorted(places) == [
        "/beds/0/planting/colour",
        "/beds/0/planting/spacing",
        "/beds/0/planting/web",
    ]
    assert run(command, tmp_path / "none", *extra) == common.REFUSED
    assert "there is no such file" in capsys.readouterr().err
    assert not out.exists()


def test_what_is_beyond_the_bounds_is_refused(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fit = {"kind": "fit", "length": 0.01, "width": 0.01}
    path = write({"bed": {"rafts": fit}})
    assert run("export", path, "--out", tmp_path / "out") == common.REFUSED
    (sentence,) = capsys.readouterr().err.splitlines()
    assert sentence.startswith("yard.raft.json: ")
    assert "100 000" in sentence
    assert not (tmp_path / "out").exists()


def test_an_unknown_file_or_a_folder_that_is_none_is_refused(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write({})
    out = tmp_path / "out"
    assert run("export", path, "--out", out, "--only", "holes.cvs") == common.REFUSED
    assert "holes.cvs" in capsys.readouterr().err
    assert not out.exists()
    assert run("export", path, "--out", path, "--only", "holes.csv") == common.REFUSED
    assert "cannot be written" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [
        ["export", "x"],
        ["export", "x", "--out", "y", "--only", ","],
        ["check"],
        ["check", "x", "--colour"],
        ["--colour"],
    ],
)
def test_wrong_arguments_are_refused_in_one_sentence(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == common.REFUSED
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_without_a_command_the_window_opens(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[tuple[list[Path], str | None]] = []

    def window(projects: list[Path], language: str | None) -> int:
        opened.append((projects, language))
        return 7

    monkeypatch.setattr(way_in, "_window", window)
    assert main([]) == 7
    assert main(["yard.raft.json", "pond.raft.json", "--language", "es"]) == 7
    both = [Path("yard.raft.json"), Path("pond.raft.json")]
    assert opened == [([], None), (both, "es")]


LOADED = """
import json, sys
from layout_gui.__main__ import main
heavy = {"PySide6", "reportlab", "ezdxf", "fontTools", "pyqtgraph", "PIL"}
for arguments in json.loads(sys.argv[1]):
    status = main(arguments)
    print(sorted(heavy & set(sys.modules)), status, file=sys.stderr)
"""


def test_what_is_asked_for_as_well_comes_beside_the_rest(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["export", write({}), "--out", tmp_path, "--only", "holes.csv"]

    assert run(*asked, "--also", "summary.json") == common.DONE
    assert [Path(line).name for line in capsys.readouterr().out.split()] == [
        "holes.csv",
        "summary.json",
    ]
    assert run(*asked, "--also", "holes.cvs") == common.REFUSED


def test_a_command_loads_only_what_its_work_needs(write: Write, tmp_path: Path) -> None:
    tables = ["export", write({}), "--out", tmp_path, "--only", "holes.csv,summary.json"]
    commands = [[str(word) for word in tables], ["check", str(write({}))], ["schema"]]
    done = subprocess.run(
        [sys.executable, "-c", LOADED, json.dumps(commands)],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == "[] 0\n" * len(commands)


def test_a_reader_that_has_enough_ends_the_command_quietly(write: Write) -> None:
    command = [sys.executable, "-m", "layout_gui", "schema"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == b""


# Centres have 100 x 100 mm. At 53.5 mm rows hold 6 of any pattern; 7 fit and 8 are proved not to.
ONE_MORE = {
    "bed": {"outline": {"kind": "rectangle", "length": 160, "width": 160}},
    "planting": {
        "pattern": "best",
        "spacing": 53.5,
        "edge_margin": 20,
        "hole_diameter": 10,
        "joints": "separate",
    },
}
SHORT = ("--seconds", "20")


def test_squeezing_prints_what_it_won_and_saves_it(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = write(ONE_MORE), tmp_path / "more.raft.json"
    before = path.read_bytes()

    assert run("squeeze", path, "--save", out, *SHORT) == common.DONE

    said = capsys.readouterr().out.splitlines()
    assert "Trough: 1 more hole on raft R1: 7 instead of 6. No arrangement holds more." in said[0]
    assert said[-2] == "Trough: 1 more in all, 7 plants instead of 6."
    assert said[-1] == str(out)
    assert path.read_bytes() == before
    assert run("check", out) == common.DONE
    assert run("export", out, "--out", tmp_path, "--only", "holes.csv,summary.json") == 0
    rows = (tmp_path / "holes.csv").read_text("utf-8").splitlines()[1:]
    summary = json.loads((tmp_path / "summary.json").read_text("utf-8"))
    assert len(rows) == summary["total"]["plants"] == 7


def test_squeezing_says_when_the_most_is_there_already(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changes = ONE_MORE | {"planting": ONE_MORE["planting"] | {"spacing": 53.6}}
    out = tmp_path / "more.raft.json"

    assert run("squeeze", write(changes), "--bed", "Trough", "--save", out, *SHORT) == 0

    said = capsys.readouterr().out
    assert "Raft R1 has 6 holes: the most that any arrangement holds." in said
    assert "more.raft.json was not written, as nothing was won." in said
    assert not out.exists()


def test_squeezing_goes_on_from_raft_to_raft(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changes = {
        "bed": {
            "outline": {"kind": "rectangle", "length": 300, "width": 160},
            "rafts": {"kind": "split", "along": 2, "across": 1},
            "clearance": 10,
        },
        "planting": ONE_MORE["planting"] | {"joints": "separate"},
    }
    alike = write(changes)
    assert run("squeeze", alike, "--raft", "R2", *SHORT) == common.DONE
    assert "The same holes go on all 2 rafts like it." in capsys.readouterr().out

    changes["planting"] = ONE_MORE["planting"] | {"joints": "bed-wide"}
    assert run("squeeze", write(changes), "--seconds", "1") == common.DONE
    said = capsys.readouterr().out
    assert "raft R1" in said
    assert "raft R2" in said


def test_squeezing_owns_up_to_rows_of_another_pattern(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    """At 70.7 mm a square grid holds 4, rows of another pattern the most there is: 5."""
    changes = ONE_MORE | {"planting": ONE_MORE["planting"] | {"spacing": 70.7, "pattern": "square"}}

    assert run("squeeze", write(changes), *SHORT) == common.DONE
    assert "Rows of another pattern hold 5" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--bed", "Pond"), "no bed “Pond”"),
        (("--raft", "R7"), "no raft R7"),
        (("--seconds", "0"), "seconds above 0"),
        (("--seconds", "soon"), "seconds above 0"),
        (("--seconds", "nan"), "seconds above 0"),
    ],
)
def test_squeezing_refuses_what_is_not_there(
    write: Write,
    arguments: tuple[str, ...],
    sentence: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    try:
        status = run("squeeze", write({}), *arguments)
    except SystemExit as end:
        status = int(end.code or 0)

    assert status == common.REFUSED
    assert sentence in capsys.readouterr().err


def test_squeezing_refuses_to_write_where_it_cannot(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "nowhere" / "more.raft.json"

    assert run("squeeze", write(ONE_MORE), "--save", out, *SHORT) == common.REFUSED
    assert "nowhere" in capsys.readouterr().err


def test_squeezing_without_plants_has_nothing_to_do(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write({})
    content = json.loads(path.read_text())
    del content["beds"][0]["planting"]
    path.write_text(json.dumps(content))

    assert run("squeeze", path) == common.DONE
    assert "nothing to squeeze" in capsys.readouterr().out
    assert run("squeeze", path, "--bed", "Trough") == common.REFUSED


def test_export_takes_the_paper_the_printer_and_the_pages(write: Write, tmp_path: Path) -> None:
    options = ("--paper", "Letter", "--border", "6", "--overlap", "1/2 in", "--bars", "99.6,100")
    only = ("--only", "template.pdf", "--pages", "1-2")
    assert run("export", write({}), "--out", tmp_path, *only, *options) == common.DONE

    pages = PdfReader(tmp_path / "template-part.pdf").pages
    assert len(pages) == 2
    assert float(pages[0].mediabox.width) == pytest.approx(612, abs=0.01)
    assert "1.0040 across" in " ".join(pages[0].extract_text().split())


@pytest.mark.parametrize(
    "option",
    [
        ("--paper", "A9"),
        ("--border", "2"),
        ("--overlap", "a lot"),
        ("--bars", "99"),
        ("--pages", "0"),
    ],
)
def test_paper_that_cannot_be_is_refused_in_one_sentence(
    option: tuple[str, str], write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        run("export", write({}), "--out", tmp_path / "out", *option)

    assert stopped.value.code == common.REFUSED
    assert len(capsys.readouterr().err.strip().splitlines()) == 1
    assert not (tmp_path / "out").exists()


def test_a_folder_without_a_name_is_refused(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    """A script whose variable is empty must not fill the folder it runs in."""
    with pytest.raises(SystemExit) as stopped:
        run("export", write({}), "--out", "")

    assert stopped.value.code == common.REFUSED
    assert "Name a folder" in capsys.readouterr().err


def test_pages_of_a_template_that_is_not_asked_for_are_refused(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"

    only = ("--only", "holes.csv", "--pages", "1")
    assert run("export", write({}), "--out", out, *only) == common.REFUSED

    assert "--pages chooses pages of template.pdf" in capsys.readouterr().err
    assert not out.exists()


def test_the_pages_of_each_document_are_counted_on_standard_error(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A frame of foam with one hole leaves pages without anything on them."""
    wide = {"kind": "rectangle", "length": 1000, "width": 820}
    path = write({"bed": {"outline": wide}, "planting": {"spacing": 2000, "edge_margin": 50}})
    out = tmp_path / "out"

    run("export", path, "--out", out, "--only", "template.pdf")
    printed = capsys.readouterr()
    counted = len(PdfReader(out / "template.pdf").pages)

    assert printed.out.splitlines() == [str(out / "template.pdf")]
    found = re.search(r"template.pdf: (\d+) pages of (.*), (\d+) blank ones left out", printed.err)
    assert found
    assert int(found[1]) == counted

    run("export", path, "--out", out, "--only", "template.pdf", "--paper", "roll:610")
    told = capsys.readouterr().err

    assert "template.pdf: 3 pages, the long ones from a roll 610 mm wide" in told
    assert "comes in 2 strips" in told
