"""Crops kept for other projects: written whole, read exactly, damage told and never lost."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from geometry.model.own_crop import OwnCrop
from geometry.units import Length
from layout_gui.project.crop_file import CropFile

CHARD = OwnCrop(
    "rainbow chard", Length.of("47 5/8 in"), 35, Length.of(40), None, Fraction(5, 2), "a\nb"
)


def test_what_is_kept_is_read_again_exactly(tmp_path: Path) -> None:
    file = CropFile(tmp_path / "deep" / "crops.json")

    assert file.read().crops == ()
    file.keep(CHARD)
    file.keep(OwnCrop("basil", Length.of(170)))
    file.keep(replace(CHARD, name="Rainbow Chard", days=40))
    assert file.read().crops == (
        OwnCrop("basil", Length.of(170)),
        replace(CHARD, name="Rainbow Chard", days=40),
    )
    assert '"47 5/8 in"' in file.path.read_text("utf-8")
    file.forget("BASIL")
    assert [crop.name for crop in file.read().crops] == ["Rainbow Chard"]


def test_a_damaged_file_is_told_and_put_aside_before_it_changes(tmp_path: Path) -> None:
    file = CropFile(tmp_path / "crops.json")
    file.path.write_text("{half", "utf-8")

    assert "is damaged" in file.read().trouble
    file.keep(CHARD)
    assert file.read().trouble == ""
    assert (tmp_path / "crops-unread-1.json").read_text("utf-8") == "{half"


def test_one_bad_crop_costs_no_other(tmp_path: Path) -> None:
    file = CropFile(tmp_path / "crops.json")
    file.keep(CHARD)
    text = file.path.read_text("utf-8").replace(
        '  "crops": [', '  "crops": [{"name": "x", "spacing": -1}, 7,'
    )
    file.path.write_text(text, "utf-8")

    known = file.read()
    assert known.crops == (CHARD,)
    assert known.trouble.startswith("2 crops in crops.json cannot be read")
    newer = text.replace('"version": 1', '"version": 2')
    file.path.write_text(newer, "utf-8")
    assert "newer Raftwright" in file.read().trouble
