"""Weeks as files: read back by other programs, and by the rules of RFC 5545 themselves."""

import csv
import json
import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar
from pypdf import PdfReader

from geometry.plan import make_plan
from layout_gui import __main__ as way_in
from layout_gui.__main__ import COMMANDS, main
from layout_gui.output.export import file_names, offered_names
from layout_gui.project.file import load

RULES = {
    "crop": "lettuce, head",
    "pattern": "square",
    "spacing": "8 in",
    "edge_margin": "4 in",
    "hole_diameter": "2 in",
    "joints": "separate",
}
BED = {
    "outline": {"kind": "rectangle", "length": "192 in", "width": "48 in"},
    "rafts": {"kind": "split", "along": 4, "across": 2},
    "planting": RULES,
}
RUN = {
    "name": "=Ensalada, única y muy muy larga para doblar la línea del calendario",
    "first": "2026-12-28",
    "target": 34,
    "seed_pack": 100,
    "stands": 3,
    "stages": [
        {"name": "semillero", "days": 7, "survival": 0.9},
        {"name": "final", "days": 21, "survival": 0.95, "bed": "+Norte"},
    ],
}
FILES = ("weeks.pdf", "tasks.csv", "weeks.csv", "tasks.ics")


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "yard.raft.json"
    content = {
        "format": "raftwright", "version": 1, "name": "Yard",
        "beds": [{"name": "+Norte", **BED}], "runs": [RUN],
    }  # fmt: skip
    path.write_text(json.dumps(content), encoding="utf-8")
    return path


def export(project: Path, out: str, *more: str, only: str = ",".join(FILES)) -> Path:
    folder = project.parent / out
    assert main(["export", str(project), "--out", str(folder), "--only", only, *more]) == 0
    return folder


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_tables_of_weeks_are_read_back(project: Path) -> None:
    out = export(project, "out")

    tasks = rows(out / "tasks.csv")
    # 34 wanted of rafts of 18 at 95 %: 2 rafts give 34.2; 36 plants from 40 seeds at 90 %.
    assert tasks[0]["task"] == "order seeds"
    sown = [row for row in tasks if row["task"] == "sow"]
    assert (sown[0]["day"], sown[0]["week"], sown[0]["count"]) == ("2026-12-28", "2026-W53", "40")
    picked = next(row for row in tasks if row["task"] == "pick")
    assert (picked["day"], picked["until"]) == ("2027-01-25", "2027-01-27")
    assert (picked["count"], picked["of"]) == ("34", "36")
    # What a spreadsheet would take for a formula has an apostrophe in front.
    assert {row["run"][:2] for row in tasks} == {"'="}
    assert picked["from_rafts"] == "'+Norte: R1 R2"
    held = [row for row in rows(out / "weeks.csv") if row["week"] == "2027-W01"]
    assert [(row["place"], row["batch"], row["plants"], row["comes"]) for row in held] == [
        ("R1", "1", "18", "2027-01-04"), ("R2", "1", "18", "2027-01-04"),
    ]  # fmt: skip


def test_the_calendar_is_what_rfc_5545_asks_for(project: Path) -> None:
    content = (export(project, "out") / "tasks.ics").read_bytes()

    # 3.1: lines end in CR LF and hold no more than 75 octets, folded between letters.
    assert content.endswith(b"END:VCALENDAR\r\n")
    lines = content.split(b"\r\n")
    assert not any(b"\r" in line or b"\n" in line for line in lines)
    assert all(len(line) <= 75 and line.decode("utf-8") is not None for line in lines)
    assert any(line.startswith(b" ") for line in lines)
    whole = content.decode("utf-8").replace("\r\n ", "")
    # 3.3.11: commas in texts have a backslash. 3.6: version and maker stand in each calendar.
    assert "SUMMARY:=Ensalada\\, única" in whole
    assert {"VERSION:2.0", "PRODID:-//Raftwright//Weeks//EN"} <= set(whole.split("\r\n"))
    uids = re.findall(r"^UID:(.*)\r$", whole, re.MULTILINE)
    assert len(set(uids)) == len(uids) == whole.count("BEGIN:VEVENT")

    events = {str(each["summary"]): each for each in Calendar.from_ical(content).walk("VEVENT")}
    tasks = rows(project.parent / "out" / "tasks.csv")
    assert len(tasks) == len(uids)
    picked = next(each for words, each in events.items() if "batch 1: pick 34" in words)
    # 3.6.1: DTEND is the day after the last one; a day has no time and so no zone.
    assert (picked.decoded("dtstart"), picked.decoded("dtend")) == (
        date(2027, 1, 25), date(2027, 1, 28),
    )  # fmt: skip
    assert all(e.decoded("dtend") - e.decoded("dtstart") >= timedelta(1) for e in events.values())
    again = export(project, "again", only="tasks.ics") / "tasks.ics"
    assert again.read_bytes() == content


def test_a_task_that_moves_keeps_its_name_in_calendars(project: Path) -> None:
    def days(folder: str) -> dict[str, Any]:
        content = (export(project, folder, only="tasks.ics") / "tasks.ics").read_bytes()
        walk = Calendar.from_ical(content).walk("VEVENT")
        return {str(event["uid"]): event.decoded("dtstart") for event in walk}

    before = days("before")
    text = project.read_text(encoding="utf-8")
    project.write_text(text.replace("2026-12-28", "2026-12-29"), encoding="utf-8")
    after = days("after")

    assert all(after[uid] - day == timedelta(1) for uid, day in before.items() if uid in after)
    assert len(before.keys() & after.keys()) > len(before) / 2


def test_pages_tell_the_rhythm_and_have_boxes_to_tick(project: Path) -> None:
    out = export(project, "out", "--from", "2027-01-25", "--weeks", "2")
    pages = [page.extract_text() for page in PdfReader(out / "weeks.pdf").pages]

    assert "A batch every 7 days, the first on Mon 2026-12-28." in pages[0]
    assert "40 seeds" in pages[0]
    told = "\n".join(pages[1:])
    assert "Week 4: Mon 2027-01-25 to Sun 2027-01-31" in told
    assert "Week 5: Mon 2027-02-01" in told
    assert "Week 6" not in told
    assert "pick 34 plants from +Norte R1, R2, by Wed 2027-01-27" in told.replace("\n", " ")


def test_weeks_are_only_written_when_asked_for_and_no_calendar_without_a_task(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = make_plan(load(project))
    assert not set(FILES) & set(file_names(plan))
    assert set(FILES) <= set(offered_names(plan))

    content = json.loads(project.read_text(encoding="utf-8"))
    project.write_text(json.dumps(content | {"runs": []}), encoding="utf-8")
    out = export(project, "none", only="weeks.pdf,tasks.csv,weeks.csv")
    assert rows(out / "tasks.csv") == []
    assert "Nothing is sown yet" in PdfReader(out / "weeks.pdf").pages[0].extract_text()
    capsys.readouterr()
    assert main(["export", str(project), "--out", str(out), "--only", "tasks.ics"]) == 2
    assert "no task in these weeks" in capsys.readouterr().err

    # Beside other files it is left out, and said; the status owns up to it.
    both = ["export", str(project), "--out", str(out / "more"), "--only", "holes.csv,tasks.ics"]
    assert main(both) == 1
    assert [path.name for path in (out / "more").iterdir()] == ["holes.csv"]
    printed = capsys.readouterr()
    assert "no task in these weeks" in printed.err
    assert "tasks.ics" not in printed.out


def test_the_command_prints_weeks(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["weeks", str(project), "--weeks", "3"]) == 0
    printed = capsys.readouterr().out
    assert printed.splitlines()[0] == "Week 51: Mon 2026-12-14 to Sun 2026-12-20"
    assert "  Mon 2026-12-28  =Ensalada" in printed

    assert main(["weeks", str(project), "--from", "2027-01-25", "--weeks", "1", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    (week,) = told["weeks"]
    assert (week["week"], told["rafts_without_place"]) == ("2027-W04", 0)
    picked = next(task for task in week["tasks"] if task["task"] == "pick")
    assert picked["from_rafts"] == [{"bed": "+Norte", "rafts": ["R1", "R2"]}]
    for wrong in (["--weeks", "0"], ["--from", "2027-02-29"], ["--from", "9999-12-31"]):
        with pytest.raises(SystemExit) as refused:
            main(["weeks", str(project), *wrong])
        assert refused.value.code == 2


def test_the_command_says_why_a_run_gives_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    off = [{"first": "2027-01-01", "last": "2030-01-01"}]
    tray = {"stages": [{"name": "tray", "days": 9}], "first": "2027-01-04"}
    runs = [{"name": "A", **tray}, {"name": "B", "target": 9, "pauses": off, **tray}]
    file = tmp_path / "idle.raft.json"
    file.write_text(json.dumps({"format": "raftwright", "version": 1, "runs": runs}))
    for command in ("weeks", "check"):
        assert main([command, str(file)]) == 0
        printed = capsys.readouterr().out
        assert "A: Say how many you want, or in which bed they float." in printed
        assert "B: No batch is sown and ripe in time: look at its pauses" in printed


def test_every_command_is_known_by_its_name() -> None:
    (chosen,) = [
        action.choices
        for action in way_in._command_parser()._actions
        if isinstance(action.choices, dict)
    ]
    assert set(chosen) == set(COMMANDS)
