"""The road from older files, tried with a step made up for the test."""

from typing import Any

from layout_gui.project.faults import Fault
from layout_gui.project.migrations import STEPS, VERSION, migrate


def one_to_two(content: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in content.items() if key != "title"} | {
        "name": content["title"]
    }


def two_to_three(content: dict[str, Any]) -> dict[str, Any]:
    return content | {"name": content["name"].upper()}


def test_an_old_file_goes_through_every_step_up_to_today() -> None:
    old = {"format": "raftwright", "version": 1, "title": "north"}
    new = migrate(old, version=3, steps={1: one_to_two, 2: two_to_three})
    assert new == {"format": "raftwright", "version": 3, "name": "NORTH"}
    assert old == {"format": "raftwright", "version": 1, "title": "north"}


def test_a_file_of_today_takes_no_step() -> None:
    content = {"format": "raftwright", "version": VERSION, "title": "north"}
    assert migrate(content) == content


def test_a_newer_file_is_refused_politely_whatever_else_it_holds() -> None:
    fault = migrate({"format": "raftwright", "version": 9, "beds": 5})
    assert isinstance(fault, Fault)
    assert fault.sentence("x.raft.json") == (
        "x.raft.json: /version: the file is of version 9, made by a newer program; this one reads "
        "1; open it with the newer program, nothing was changed here."
    )


def test_every_older_version_has_its_step() -> None:
    assert set(STEPS) == set(range(1, VERSION))
