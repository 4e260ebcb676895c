"""Project files: what is read, what is refused and in which words, and how they are saved."""

import copy
import json
import os
import random
import shutil
import signal
import stat
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import fields
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from geometry.model.bed import One, Spot
from geometry.model.outlines import Rectangle
from geometry.model.project import Project
from geometry.units import ZERO, Length
from layout_gui.project import file
from layout_gui.project.faults import FileAccessError, ProjectFileError
from tests.strategies import projects

BENCH: dict[str, Any] = {
    "format": "raftwright",
    "version": 1,
    "name": "North bench",
    "beds": [
        {
            "name": "Bench bed",
            "outline": {"kind": "rectangle", "length": 2360, "width": 580},
            "clearance": 10,
            "joint_gap": "1/4 in",
            "obstacles": [
                {
                    "name": "standpipe",
                    "shape": {"kind": "disc", "centre": [2300, 60], "diameter": 40},
                    "clearance": 25,
                }
            ],
            "rafts": {"kind": "split", "along": 4, "across": 1},
            "planting": {
                "crop": "lettuce, head",
                "spacing": 200,
                "hole_diameter": 50.8,
                "pins": [{"raft": "R1", "x": 100, "y": 100.125, "home": [90, 100]}],
                "blanks": [{"raft": "R2", "x": 1, "y": 2}],
            },
        }
    ],
    "sheets": [{"length": 1250, "width": 600, "price": 14.5, "quantity": None}],
    "cutting": {"kerf": 3, "turn": False},
    "choices": [{"name": "wider", "bed": "Bench bed", "spacing": "8 in"}],
    "accepted": [{"key": "web Bench bed R1 A1", "note": "the grower's own risk"}],
    "growth": [
        {
            "crop": "lettuce, head",
            "widths": [{"day": 4, "width": 60}, {"day": 21, "width": "7 1/2 in"}],
        }
    ],
    "guide_lines": [
        {"bed": "Bench bed", "x": "1/2 in"},
        {"bed": "Bench bed", "y": 9, "locked": True},
    ],
    "details": {"author": "A. Grower", "revision": "B", "notes": "One line.\nAnother."},
    "supplies": {
        "saws": [50, "2 in"],
        "spares": 10,
        "pots": {"pack": 50, "price": 6.5},
        "plugs": {"price": 0.2},
        "strip": {"roll": "10 m", "price": 8},
        "paint": {"coverage": "350 ft2/gal", "coats": 1, "tin": 2.5, "price": 30},
    },
}
SMALL: dict[str, Any] = {
    "format": "raftwright",
    "version": 1,
    "beds": [{"outline": {"kind": "disc", "diameter": 900}}],
}


def read(content: Any) -> Project:
    data = content if isinstance(content, bytes) else json.dumps(content).encode()
    return file.loads(data, "bench.raft.json")


def faults(content: Any) -> list[str]:
    with pytest.raises(ProjectFileError) as refused:
        read(content)
    return str(refused.value).splitlines()


def bench_with(value: Any, *keys: str | int) -> dict[str, Any]:
    content = copy.deepcopy(BENCH)
    at: Any = content
    for key in keys[:-1]:
        at = at[key]
    at[keys[-1]] = value
    return content


def test_what_is_left_out_has_the_documented_defaults() -> None:
    project = read(SMALL)
    assert project.name == "bench"
    assert project.units == "mm"
    (bed,) = project.beds
    assert bed.name == "Bed 1"
    assert (bed.clearance, bed.joint_gap, bed.obstacles, bed.planting) == (ZERO, ZERO, (), None)
    assert bed.rafts == One()
    assert (project.cutting.kerf, project.cutting.trim, project.cutting.turn) == (ZERO, ZERO, True)
    planting = read(BENCH).beds[0].planting
    assert planting is not None
    assert (planting.pattern, planting.rows, planting.joints) == ("best", "best", "bed-wide")
    assert (planting.row_spacing, planting.edge_margin, planting.web) == (None, ZERO, ZERO)
    assert planting.spread


def test_numbers_are_read_exactly_and_text_with_its_unit() -> None:
    bed = read(BENCH).beds[0]
    assert bed.planting is not None
    assert bed.planting.hole_diameter.exact == Fraction(508, 10)
    assert bed.joint_gap.exact == Fraction(254, 40)
    assert bed.joint_gap.typed == "1/4 in"
    tenth = read(bench_with(0.1, "beds", 0, "clearance")).beds[0].clearance
    assert tenth.exact == Fraction(1, 10)


def test_the_spacing_comes_from_the_crop_table_when_the_file_gives_none() -> None:
    content = copy.deepcopy(BENCH)
    del content["beds"][0]["planting"]["spacing"]
    planting = read(content).beds[0].planting
    assert planting is not None
    assert planting.spacing == Length.of(200)
    content["beds"][0]["planting"]["crop"] = "moon lettuce"
    (sentence,) = faults(content)
    assert sentence == (
        "bench.raft.json: /beds/0/planting/spacing: is missing, and the crop table does not have "
        '“moon lettuce”; write one, such as 200 or "8 in".'
    )


def test_a_polygon_obstacle_without_a_place_stands_where_its_points_say() -> None:
    shape = {"kind": "polygon", "points": [[30, 20], [60, 10], [50, 70]]}
    content = bench_with(shape, "beds", 0, "obstacles", 0, "shape")
    (obstacle,) = read(content).beds[0].obstacles
    assert (obstacle.centre, obstacle.corner) == (None, Spot(Length.of(30), Length.of(10)))


def test_a_byte_order_mark_is_no_fault() -> None:
    assert read(b"\xef\xbb\xbf" + json.dumps(SMALL).encode()) == read(SMALL)


@given(projects)
@settings(max_examples=30, deadline=None)
def test_what_is_written_reads_back_as_the_same_project_and_the_same_bytes(
    project: Project,
) -> None:
    data = file.dumps(project)
    again = file.loads(data, "x.raft.json")
    assert again == project
    assert file.dumps(again) == data


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ('"47 5/8 in"', '"47 5/8 in"'),
        ('"7½ in"', '"7½ in"'),
        ("1e2", "100"),
        ("581.0", "581"),
        ("0.1", "0.1"),
        ('"100/3 mm"', '"100/3 mm"'),
    ],
)
def test_lengths_are_written_back_as_typed_or_as_the_shortest_number(
    typed: str, written: str
) -> None:
    text = json.dumps(SMALL).replace("900", typed)
    assert f'"diameter": {written}' in file.dumps(read(text.encode())).decode()


def test_the_written_form_is_the_documented_one() -> None:
    assert file.dumps(read(SMALL)).decode() == (
        """{
  "format": "raftwright",
  "version": 1,
  "name": "bench",
  "units": "mm",
  "beds": [
    {
      "name": "Bed 1",
      "outline": {"kind": "disc", "diameter": 900},
      "clearance": 0,
      "joint_gap": 0,
      "rafts": {"kind": "one"}
    }
  ],
  "cutting": {"kerf": 0, "trim": 0, "turn": true, "aim": "cost", "keep_offcut": 150}
}
"""
    )


PLANTING = ("beds", 0, "planting")
SPACING = (*PLANTING, "spacing")
OUTLINE = ("beds", 0, "outline")
NAME = ("beds", 0, "name")


@pytest.mark.parametrize(
    ("content", "start", "end"),
    [
        (bench_with(0, *SPACING), "/beds/0/planting/spacing: must be above 0; ", '200 or "8 in".'),
        (bench_with(-1, *SPACING), "/beds/0/planting/spacing: must be above 0; ", '"8 in".'),
        (
            bench_with(0.05, *PLANTING, "round_to"),
            "/beds/0/planting/round_to: must be at least 0.1 mm; ", "",
        ),
        (
            bench_with("3 in", *PLANTING, "round_to"),
            "/beds/0/planting/round_to: must be at most 50 mm; ", "",
        ),
        (bench_with(0.001, *SPACING), "/beds/0/planting/spacing: must be at least 0.01 mm; ", ""),
        (bench_with("200", *SPACING), "/beds/0/planting/spacing: “200” has no unit; ", 'mm".'),
        (bench_with("1 200 mm", *SPACING), "/beds/0/planting/spacing: “1 200 mm”: two num", ""),
        (bench_with("7 furlongs", *SPACING), "/beds/0/planting/spacing: “7 furlongs”: “fur", ""),
        (bench_with(True, *SPACING), "/beds/0/planting/spacing: is no length; ", ""),
        (bench_with([1], *SPACING), "/beds/0/planting/spacing: is no length; ", ""),
        (bench_with(float("nan"), *SPACING), "/beds/0/planting/spacing: is no finite numb", ""),
        (bench_with(float("inf"), *SPACING), "/beds/0/planting/spacing: is no finite numb", ""),
        (bench_with(10**6 + 1, *SPACING), "/beds/0/planting/spacing: must be at most 1000 m", ""),
        (bench_with(10**400, *SPACING), "/beds/0/planting/spacing: has more digits", ""),
        (bench_with(-5, "beds", 0, "clearance"), "/beds/0/clearance: must not be below 0; ", ""),
        (bench_with(0, *OUTLINE, "length"), "/beds/0/outline/length: must be above 0; ", ""),
        (bench_with(300, *OUTLINE, "corner_radius"), "/beds/0/outline/corner_radius: must be ", ""),
        (bench_with("oval", *OUTLINE, "kind"), "/beds/0/outline/kind: is no kind", '"polygon".'),
        (bench_with({"length": 5}, *OUTLINE), "/beds/0/outline/kind: is missing; add ", ""),
        (bench_with({"kind": "disc"}, *OUTLINE), "/beds/0/outline/diameter: is missing; ", ""),
        (bench_with(None, *OUTLINE), "/beds/0/outline: must be an object; ", ""),
        (
            bench_with({"kind": "measured", "widths": [5, 5, 5, 5], "lengths": [9]}, *OUTLINE),
            "/beds/0/outline/widths: is too long; at most 3 are taken; ", "",
        ),
        (
            bench_with(
                {"kind": "measured", "widths": [5], "lengths": [9], "diagonals": [10]}, *OUTLINE
            ),
            "/beds/0/outline/diagonals: must be two or none; ", "",
        ),
        (
            bench_with({"kind": "polygon", "points": [[0, 0], [1, 1]]}, *OUTLINE),
            "/beds/0/outline/points: is too short; at least 3 are needed; ", "",
        ),
        (
            bench_with({"kind": "polygon", "points": [[0, 0], [1, 1], [2, "x"]]}, *OUTLINE),
            "/beds/0/outline/points/2/1: “x” is no length; ", "",
        ),
        (
            bench_with(
                {"kind": "L", "length": 9, "width": 9, "notch_length": 9, "notch_width": 1},
                *OUTLINE,
            ),
            "/beds/0/outline/notch_length: must be less than the length; ", "",
        ),
        (
            bench_with({"kind": "disc", "diameter": 5}, "beds", 0, "obstacles", 0, "shape"),
            "/beds/0/obstacles/0/shape: has no place; ", "",
        ),
        (
            bench_with([1, 2], "beds", 0, "obstacles", 0, "shape", "corner"),
            "/beds/0/obstacles/0/shape: has a centre and a corner; ", "",
        ),
        (bench_with(5, *PLANTING, "spaceing"), "/beds/0/planting/spaceing: is not", '"spacing"?'),
        (bench_with(5, *OUTLINE, "clearance"), "/beds/0/outline/clearance: is not a key", ""),
        (bench_with(5, "a/b~c"), "/a~1b~0c: is not a key that belongs here; take it out, ", ""),
        (bench_with("Square", *PLANTING, "pattern"), "/beds/0/planting/pattern: is none of", ""),
        (bench_with(1, *PLANTING, "spread"), "/beds/0/planting/spread: must be true or fal", ""),
        (bench_with("yes", "cutting", "turn"), "/cutting/turn: must be true or false; ", ""),
        (bench_with(1.5, "beds", 0, "rafts", "along"), "/beds/0/rafts/along: must be a who", ""),
        (bench_with(True, "beds", 0, "rafts", "along"), "/beds/0/rafts/along: must be a who", ""),
        (bench_with(0, "beds", 0, "rafts", "along"), "/beds/0/rafts/along: must be at leas", ""),
        (bench_with(10**5, "beds", 0, "rafts", "across"), "/beds/0/rafts: the project has m", ""),
        (bench_with(-1, "sheets", 0, "quantity"), "/sheets/0/quantity: must be at least 0; ", ""),
        (bench_with("14", "sheets", 0, "price"), "/sheets/0/price: is no number; ", ""),
        (bench_with(600, "sheets", 0, "tolerance"), "/sheets/0/tolerance: must be less than ", ""),
        (bench_with(-1, "sheets", 0, "tolerance"), "/sheets/0/tolerance: must not be below 0", ""),
        (bench_with(1, "sheets", 0, "offcut"), "/sheets/0/offcut: must be true or false; ", ""),
        (bench_with({}, "sheets", 0, "score"), "/sheets/0/score: has no lines; ", ""),
        (bench_with({"across": 0}, "sheets", 0, "score"), "/sheets/0/score/across: must", ""),
        (bench_with("few", "cutting", "aim"), "/cutting/aim: is none of", ""),
        (bench_with(-5, "cutting", "keep_offcut"), "/cutting/keep_offcut: must not be below", ""),
        (bench_with(0, "cutting", "saw_depth"), "/cutting/saw_depth: must be above 0; ", ""),
        (bench_with(0, "sheets", 0, "density"), "/sheets/0/density: must be above 0 and at", ""),
        (bench_with(-0.5, "sheets", 0, "price"), "/sheets/0/price: must be from 0 to ", ""),
        (bench_with("x" * 201, *NAME), "/beds/0/name: must be at most 200 characters; ", ""),
        (bench_with("a\nb", *NAME), "/beds/0/name: must not hold control characters", ""),
        (bench_with("\ud800", *NAME), "/beds/0/name: must not hold control characters", ""),
        (bench_with("", *NAME), "/beds/0/name: must not be empty; ", ""),
        (bench_with(5, *NAME), "/beds/0/name: must be text; ", ""),
        (bench_with("km", "units"), "/units: is none of the choices; write ", '"in".'),
        (bench_with("x", "choices", 0, "bed"), "/choices/0/bed: there is no bed “x”; ", ""),
        (bench_with(40, "choices", 0, "count"), "/choices/0/count: stands beside spacing; ", ""),
        (bench_with(0, "choices", 0, "count"), "/choices/0/count: ", ""),
        (bench_with("24", "choices", 0, "density"), "/choices/0/density: names no area; ", ""),
        (bench_with("x/m2", "choices", 0, "density"), "/choices/0/density: ", "2.2/ft2."),
        (bench_with(0, "choices", 0, "density"), "/choices/0/density: must be above 0", ""),
        (bench_with([], "choices", 0, "density"), "/choices/0/density: ", ""),
        (bench_with({}, "beds"), "/beds: must be a list; ", ""),
        (bench_with([BENCH["beds"][0]] * 2, "beds"), "/beds/1/name: “Bench bed” is the ", ""),
        (bench_with("other", "format"), "/format: is not the format of a project; ", ""),
        ({}, "/format: is missing; ", ""),
        ([], "is not a project; ", ""),
        (bench_with("1", "version"), "/version: is no version; ", '"version": 1.'),
        (bench_with(True, "version"), "/version: is no version; ", ""),
        (bench_with(0, "version"), "/version: is no version; ", ""),
        (bench_with(2, "version"), "/version: the file is of version 2, made by a newer p", ""),
        (b"", "is empty; ", ""),
        (b'{"format": }', "line 1, column 12: is not JSON (expecting value); ", ""),
        (b'{"a": 1,}', "line 1, column 9: is not JSON (", ""),
        (b"\xff\xfe{", "byte 0: is not UTF-8 text; ", ""),
        (b"[" * 100_000, "is nested more than 64 levels deep; ", ""),
        (b"[" * 65 + b"]" * 65, "is nested more than 64 levels deep; ", ""),
        (b" " * (64 * 2**20 + 1), "is larger than 64 MB; ", ""),
        (json.dumps(SMALL).replace("900", "1e400").encode(), "/beds/0/outline/diameter: has m", ""),
        (json.dumps(SMALL).replace("900", "1e-400").encode(), "/beds/0/outline/diameter: has", ""),
        (json.dumps(SMALL).replace("900", "9" * 5000).encode(), "/beds/0/outline/diameter: is", ""),
        (
            json.dumps(SMALL).replace("900", "1e999999999999999999999").encode(),
            "/beds/0/outline/diameter: is no finite number; ", "",
        ),
        (
            json.dumps(SMALL).replace("900}", '900, "diameter": 800}').encode(),
            "/beds/0/outline/diameter: stands there twice; ", "",
        ),
        (bench_with(dict.fromkeys(map(str, range(200))), "cutting"), "/cutting: has 200 keys", ""),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_place_and_its_cure(content: Any, start: str, end: str) -> None:
    (sentence,) = faults(content)
    assert sentence.startswith(f"bench.raft.json: {start}")
    assert sentence.endswith(end or ".")
    assert sentence.isprintable()


def test_depth_up_to_the_bound_is_only_judged_by_the_keys() -> None:
    (sentence,) = faults(b"[" * 64 + b"]" * 64)
    assert "is not a project" in sentence


def test_all_faults_are_told_together() -> None:
    content = bench_with(0, *SPACING)
    content["beds"][0]["clearence"] = 5
    content["sheets"][0]["length"] = "long"
    del content["beds"][0]["outline"]["width"]
    places = [sentence.split(": ")[1] for sentence in faults(content)]
    assert sorted(places) == [
        "/beds/0/clearence",
        "/beds/0/outline/width",
        "/beds/0/planting/spacing",
        "/sheets/0/length",
    ]


def test_of_very_many_faults_only_the_first_are_listed() -> None:
    sentences = faults(bench_with([{"length": 0, "width": 0}] * 100, "sheets"))
    assert len(sentences) == 51
    assert sentences[-1] == "bench.raft.json: 150 more faults are not listed."


def _mutated(chance: random.Random, data: bytes) -> bytes:
    """Damage a file the way disks, editors and people do."""
    tokens = [
        b"null", b"true", b"-1", b"1e999", b"NaN", b'"\\ud800"', b"{}", b"[]", b'"5 in"', b'""',
        b'"kind"', b"[[[", b"]]", b"\xff", b"\x00", b'"disc"', b"1" * 40, b"0.1e-50", b"{", b",",
    ]  # fmt: skip
    at = chance.randrange(len(data))
    match chance.randrange(5):
        case 0:
            return data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]
        case 1:
            return data[:at] + data[at + chance.randrange(40) :]
        case 2:
            return data[:at] + chance.choice(tokens) + data[at:]
        case 3:
            other = chance.randrange(len(data))
            return data[:at] + data[other : other + 60] + data[at:]
        case _:
            parts = data.split(b": ")
            place = chance.randrange(1, len(parts))
            value = parts[place]
            ends = [value.find(mark) for mark in (b",", b"}", b"]") if mark in value]
            parts[place] = chance.choice(tokens) + value[min(ends, default=0) :]
            return b": ".join(parts)


def test_no_damage_to_a_file_brings_anything_but_sentences() -> None:
    chance = random.Random(1)  # noqa: S311  # the same damage each time
    original = json.dumps(BENCH).encode()
    read_well = 0
    for _ in range(4000):
        data = original
        for _ in range(chance.randrange(1, 4)):
            data = _mutated(chance, data)
        told: tuple[str, ...] = ("read.",)
        try:
            file.dumps(file.loads(data, "x.raft.json"))
            read_well += 1
        except ProjectFileError as error:
            told = error.sentences
        assert told
        assert all(text.isprintable() and text[-1] in ".?" for text in told)
    assert 0 < read_well < 1000


def test_saving_keeps_the_previous_copy_and_leaves_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "bench.raft.json"
    first, second = read(SMALL), read(BENCH)
    file.save(path, first)
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench.raft.json"]
    path.chmod(0o640)
    file.save(path, second)
    assert file.load(path) == second
    assert file.load(tmp_path / "bench.raft.json~") == first
    assert len(list(tmp_path.iterdir())) == 2
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_saving_follows_a_symbolic_link(tmp_path: Path) -> None:
    real = tmp_path / "disk" / "real.raft.json"
    real.parent.mkdir()
    file.save(real, read(SMALL))
    link = tmp_path / "link.raft.json"
    link.symlink_to(real)
    file.save(link, read(BENCH))
    assert link.is_symlink()
    assert file.load(real) == read(BENCH)
    assert (tmp_path / "disk" / "real.raft.json~").exists()


def test_a_project_without_a_name_is_called_after_its_file(tmp_path: Path) -> None:
    path = tmp_path / "South pond.raft.json"
    path.write_text(json.dumps(SMALL))
    assert file.load(path).name == "South pond"


def _folder(path: Path) -> None:
    path.mkdir()


def _pipe(path: Path) -> None:
    os.mkfifo(path)


def _circle(path: Path) -> None:
    path.symlink_to(path)


@pytest.mark.parametrize(
    ("make", "reason"),
    [
        (str, "there is no such file"),
        (_folder, "it is a folder"),
        (_pipe, "something else stands in its place"),
        (_circle, "links lead round in a circle"),
    ],
)
def test_what_cannot_be_opened_is_told_in_a_sentence(
    tmp_path: Path, make: Callable[[Path], object], reason: str
) -> None:
    path = tmp_path / "x.raft.json"
    make(path)
    with pytest.raises(FileAccessError) as refused:
        file.load(path)
    assert str(refused.value).startswith(f"{path}: cannot be read: ")
    assert reason in str(refused.value)


@pytest.mark.parametrize("name", ["missing/x.raft.json", "x" * 300, "a\0b"])
def test_what_cannot_be_saved_is_told_in_a_sentence(tmp_path: Path, name: str) -> None:
    with pytest.raises(FileAccessError, match="cannot be saved: "):
        file.save(tmp_path / name, read(SMALL))
    assert list(tmp_path.iterdir()) == []


def test_a_read_only_file_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.raft.json"
    file.save(path, read(SMALL))
    # The tests may run as a user who may write everything.
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(FileAccessError, match="may not be used"):
        file.save(path, read(BENCH))
    assert file.load(path) == read(SMALL)


AS_NOBODY = """
import os, sys
from pathlib import Path
from layout_gui.project import file
project = file.load(Path(sys.argv[1]))
os.setgid(65534)
os.setuid(65534)
for path in map(Path, sys.argv[1:]):
    try:
        file.save(path, project)
    except OSError as error:
        print(error)
"""


@pytest.mark.skipif(
    sys.platform == "win32" or os.geteuid() != 0, reason="only root can become somebody else"
)
def test_folders_and_files_that_may_not_be_written_are_told_apart(tmp_path: Path) -> None:
    home = Path(tempfile.mkdtemp())  # the folders of tests are their owner's alone
    home.chmod(0o755)
    path = home / "bench.raft.json"
    path.write_text(json.dumps(BENCH))
    open_folder = home / "open"
    open_folder.mkdir()
    open_folder.chmod(0o777)
    mine = open_folder / "mine.raft.json"
    mine.write_text(json.dumps(BENCH))
    mine.chmod(0o644)
    path.chmod(0o666)
    done = subprocess.run(
        [sys.executable, "-c", AS_NOBODY, path, home / "new.raft.json", mine, home / "no" / "x"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    locked = "cannot be saved: its folder may not be written to; choose another folder."
    file_locked = "cannot be saved: it may not be used; check its permissions or choose another"
    assert done.stdout.splitlines() == [
        f"{path}: {locked}",
        f"{home}/new.raft.json: {locked}",
        f"{mine}: {file_locked} folder.",
        f"{home}/no/x: cannot be saved: its folder is not there; choose another folder.",
    ]
    assert path.read_text() == mine.read_text() == json.dumps(BENCH)
    assert {each.name for each in home.iterdir()} == {"bench.raft.json", "open"}
    shutil.rmtree(home)


def test_the_version_kept_beside_it_has_its_time(tmp_path: Path) -> None:
    path = tmp_path / "x.raft.json"
    file.save(path, read(SMALL))
    os.utime(path, (1_000, 1_000))
    file.save(path, read(BENCH))
    file.save(path, read(BENCH), keeps_previous=False)
    assert (tmp_path / "x.raft.json~").stat().st_mtime == 1_000
    assert file.load(tmp_path / "x.raft.json~") == read(SMALL)


LIMITED = """
import resource, signal, sys
from pathlib import Path
from layout_gui.project import file
project = file.load(Path(sys.argv[1]))
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))
try:
    file.save(Path(sys.argv[1]), project)
except OSError as error:
    print(error)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="limits of this kind are POSIX")
def test_a_save_that_runs_out_of_room_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "x.raft.json"
    path.write_text(json.dumps(BENCH))
    done = subprocess.run(
        [sys.executable, "-c", LIMITED, path], capture_output=True, text=True, check=True
    )
    assert "cannot be saved: the file is too large for this disk" in done.stdout
    assert path.read_text() == json.dumps(BENCH)
    assert [entry.name for entry in tmp_path.iterdir()] == ["x.raft.json"]


ENDLESS = """
import sys
from dataclasses import replace
from pathlib import Path
from layout_gui.project import file
path = Path(sys.argv[1])
project = file.load(path)
for number in range(10**9):
    file.save(path, replace(project, name=str(number)))
    print(number, flush=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such kill there")
def test_a_kill_in_the_middle_of_a_save_loses_nothing(tmp_path: Path) -> None:
    path = tmp_path / "x.raft.json"
    path.write_text(json.dumps(BENCH))
    for kill in range(5):
        with subprocess.Popen(
            [sys.executable, "-c", ENDLESS, path], stdout=subprocess.PIPE, text=True
        ) as saver:
            assert saver.stdout is not None
            saver.stdout.readline()
            time.sleep(0.0013 * kill)
            saver.send_signal(signal.SIGKILL)
            done = [line for line in saver.stdout if line.endswith("\n")]
        project = file.load(path)
        assert project.beds == read(BENCH).beds
        assert int(project.name) >= int(done[-1] if done else 0)
        assert file.load(tmp_path / "x.raft.json~").beds == project.beds


def test_what_killed_saves_left_behind_is_swept_away(tmp_path: Path) -> None:
    path = tmp_path / "x.raft.json"
    names = (".x.raft.json.old.part", ".x.raft.json.new.part", ".y.raft.json.old.part")
    for name in names:
        (tmp_path / name).write_text("half")
        if "old" in name:
            os.utime(tmp_path / name, (0, 0))
    file.save(path, read(SMALL))
    assert {entry.name for entry in tmp_path.iterdir()} == {path.name, *names[1:]}


def test_the_schema_comes_from_the_models() -> None:
    schema = json.loads(file.schema_text())
    keys = {each.name for each in fields(Project)}
    assert set(schema["properties"]) == keys | {"format", "version"}
    planting = schema["$defs"]["Planting"]
    assert planting["additionalProperties"] is False
    assert set(planting["required"]) == {"hole_diameter"}
    assert planting["properties"]["joints"]["enum"] == ["bed-wide", "interchangeable", "separate"]
    assert schema["$defs"]["Split"]["properties"]["along"]["maximum"] == 100_000


def test_the_model_package_is_enough_for_what_edits_need() -> None:
    """Opening the window or a command must not load the schema library before a file is opened."""
    code = (
        "import sys, layout_gui.project.faults, layout_gui.project.bounds;"
        "print('pydantic' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_values_that_only_geometry_can_judge_are_read() -> None:
    content = bench_with(
        {"kind": "polygon", "points": [[0, 0], [10, 10], [10, 0], [0, 10]]}, *OUTLINE
    )
    read(content)
    tight = read(bench_with(5000, "beds", 0, "clearance")).beds[0]
    assert isinstance(tight.outline, Rectangle)
