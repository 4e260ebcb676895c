"""A comparison as a PDF and as a table, read back by pypdf and by the csv module."""

import csv
from collections import deque
from dataclasses import replace
from pathlib import Path

import pytest

from geometry.compare.comparison import Comparison, compare_bed
from geometry.model.project import Choice
from geometry.units import Length
from layout_gui.output.export import UnknownFileError, export_comparison
from layout_gui.output.tables import CHOICES_HEADER
from tests.layout_gui.output.pdf_reading import read
from tests.layout_gui.panels.desk import make_bench, make_project

BENCH = make_bench(obstacles=())
PROJECT = replace(
    make_project(BENCH), choices=(Choice("=2+2", "Bench", spacing=Length.of("7 1/2 in")),)
)


@pytest.fixture(scope="module")
def whole() -> Comparison:
    return deque(compare_bed(PROJECT, BENCH, series=("square",)), maxlen=1)[0]


def test_the_table_has_a_row_a_choice_and_runs_no_formula(
    tmp_path: Path, whole: Comparison
) -> None:
    path = export_comparison(PROJECT, (("Bench", whole),), tmp_path / "a.csv")

    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert tuple(rows[0]) == CHOICES_HEADER
    assert len(rows) == len(whole.results)
    for row, result in zip(rows, whole.results, strict=True):
        assert int(row["plants"]) == result.plants
        assert int(row["more_than_now"]) == result.plants - whole.results[0].plants
        assert float(row["spacing_mm"]) == result.planting.spacing.mm
        assert float(row["density_per_m2"]) == pytest.approx(result.density_per_m2)
        assert float(row["density_per_ft2"]) == pytest.approx(result.density_per_m2 * 0.09290304)
        assert float(row["least_foam_mm"]) == pytest.approx(result.least_web_mm)
        assert row["won_pattern"] == result.pattern
    assert (rows[0]["choice"], rows[0]["kept"]) == ("now", "no")
    assert (rows[1]["choice"], rows[1]["kept"]) == ("'=2+2", "yes")
    assert rows[1]["spacing_mm"] == "190.5"
    assert {row["published_plant_g"] for row in rows} == {""}
    for row, result in zip(rows, whole.results, strict=True):
        assert result.growing is not None
        assert row["leaves_touch_day"] == f"{result.growing.touch_day}"
        assert float(row["cover_at_harvest"]) == pytest.approx(result.growing.at_harvest)


def test_the_pages_are_a_pdf_that_says_the_same(tmp_path: Path, whole: Comparison) -> None:
    path = export_comparison(PROJECT, (("Bench", whole),), tmp_path / "a.PDF")

    said = "\n".join(page.extract_text() for page in read(path.read_bytes()).pages)
    assert "Bench: choices side by side" in said
    assert "=2+2" in said
    assert f"{whole.results[0].plants}" in said
    again = export_comparison(PROJECT, (("Bench", whole),), tmp_path / "b.pdf")
    assert again.read_bytes() == path.read_bytes()


def test_a_file_is_replaced_only_when_that_was_asked(tmp_path: Path, whole: Comparison) -> None:
    path = tmp_path / "a.csv"
    path.write_text("mine")

    with pytest.raises(FileExistsError, match="there already"):
        export_comparison(PROJECT, (("Bench", whole),), path)
    assert path.read_text() == "mine"
    export_comparison(PROJECT, (("Bench", whole),), path, replaces=True)
    assert path.read_text().startswith("bed,choice")
    assert [each.name for each in tmp_path.iterdir()] == ["a.csv"]


def test_other_names_and_folders_that_are_not_there_are_refused(
    tmp_path: Path, whole: Comparison
) -> None:
    with pytest.raises(UnknownFileError, match=r"\.pdf or \.csv"):
        export_comparison(PROJECT, (("Bench", whole),), tmp_path / "a.txt")
    with pytest.raises(OSError, match="gone"):
        export_comparison(PROJECT, (("Bench", whole),), tmp_path / "gone" / "a.csv")
