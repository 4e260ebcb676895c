"""The command that compares templates, and the pegboard among the documents it can write."""

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from layout_gui.__main__ import main

SAMPLES = Path(__file__).parents[2] / "sample_projects"
BENCH = str(SAMPLES / "school-bench.raft.json")
KINDS = ["template.pdf", "strip.pdf", "corners.pdf", "cell.pdf", "jig.pdf", "pegboard.pdf",
         "trace.pdf"]  # fmt: skip


def test_every_kind_is_told_with_its_pages_and_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["templates", BENCH, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)

    rafts = told["rafts"]
    assert [raft["design"] for raft in rafts] == ["greenhouse-bench-1"]
    kinds = {each["file"]: each for each in rafts[0]["templates"]}
    assert list(kinds) == KINDS
    assert kinds["template.pdf"]["pages"] == 13
    for each in kinds.values():
        assert (each["pages"] > 0) is (each["error_mm"] is not None) is (each["reason"] is None)
    assert all(each["pages"] < 13 for name, each in kinds.items() if name != "template.pdf")


def test_the_pages_told_are_those_that_are_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["templates", BENCH, "--json"])
    kinds = {each["file"]: each for each in
             json.loads(capsys.readouterr().out)["rafts"][0]["templates"]}  # fmt: skip

    main(["export", BENCH, "--out", str(tmp_path), "--only", ",".join(KINDS[1:])])

    for name in KINDS[1:]:
        pages = len(PdfReader(tmp_path / name).pages)
        assert pages == (kinds[name]["pages"] or 1), "a kind left out has a page that says why"


def test_words_for_people_in_their_language(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["templates", BENCH, "--language", "es"]) == 0
    told = capsys.readouterr().out

    assert "Tira: " in told
    assert "páginas" in told


@pytest.mark.parametrize("pegs", ["12", "a,b", "1,2,3", "-1,2", "300,2"])
def test_pegs_that_cannot_be_are_refused(pegs: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as refused:
        main(["templates", BENCH, f"--pegs={pegs}"])

    assert refused.value.code == 2
    assert "--pegs" in capsys.readouterr().err
