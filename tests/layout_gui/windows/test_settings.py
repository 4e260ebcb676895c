"""What the window remembers between two runs."""

from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray, QSettings

from geometry.units import Length
from layout_gui.windows.settings import MOST_RECENT, TEXT_PERCENTS, Settings


@pytest.fixture
def store(tmp_path: Path) -> QSettings:
    return QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)


def again(store: QSettings) -> Settings:
    store.sync()
    return Settings(QSettings(store.fileName(), QSettings.Format.IniFormat))


def test_recent_files_come_newest_first_and_each_once(store: QSettings, tmp_path: Path) -> None:
    settings = Settings(store)
    assert settings.recent == ()

    for name in ("a", "b", "a"):
        settings.remember(tmp_path / name)

    assert again(store).recent == (tmp_path / "a", tmp_path / "b")
    assert again(store).folder == tmp_path


def test_only_so_many_are_kept_and_the_list_can_be_cleared(
    store: QSettings, tmp_path: Path
) -> None:
    settings = Settings(store)
    for number in range(MOST_RECENT + 3):
        settings.remember(tmp_path / str(number))
    assert len(again(store).recent) == MOST_RECENT

    settings.forget_recent()

    assert again(store).recent == ()


def test_a_single_recent_file_is_still_a_list(store: QSettings, tmp_path: Path) -> None:
    Settings(store).remember(tmp_path / "only")

    assert again(store).recent == (tmp_path / "only",)


def test_a_folder_that_is_gone_is_not_offered(store: QSettings, tmp_path: Path) -> None:
    settings = Settings(store)
    before = settings.folder
    settings.export_folder = tmp_path / "gone"
    settings.remember(tmp_path / "gone" / "bench.raft.json")

    assert again(store).folder == before
    assert again(store).export_folder == before
    settings.export_folder = tmp_path
    assert again(store).export_folder == tmp_path


def test_theme_and_places_are_kept_and_nonsense_is_not_believed(store: QSettings) -> None:
    settings = Settings(store)
    assert settings.theme == "system"

    settings.theme = "dark"
    settings.set_bytes("geometry", QByteArray(b"abc"))

    assert again(store).theme == "dark"
    assert again(store).bytes("geometry") == QByteArray(b"abc")
    store.setValue("theme", "purple")
    assert again(store).theme == "system"
    assert again(store).bytes("columns") == QByteArray()


def test_the_paper_is_remembered(store: QSettings) -> None:
    assert Settings(store).page_texts == ()
    Settings(store).page_texts = ("A4", "210.0", "297.0")

    assert again(store).page_texts == ("A4", "210.0", "297.0")
    store.setValue("page-setup", 7)
    assert again(store).page_texts == ()


def test_high_contrast_switches_and_lengths_are_remembered(store: QSettings) -> None:
    settings = Settings(store)
    assert settings.flag("snaps", True) is True
    assert settings.length("grid-step") is None

    settings.theme = "contrast"
    settings.set_flag("snaps", False)
    settings.set_length("grid-step", Length.of("3/4 in"))

    assert again(store).theme == "contrast"
    assert again(store).flag("snaps", True) is False
    assert again(store).length("grid-step") == Length.of("19.05 mm")
    store.setValue("grid-step", "rubbish")
    assert again(store).length("grid-step") is None


@pytest.mark.parametrize("percent", TEXT_PERCENTS)
def test_the_size_of_text_is_remembered(store: QSettings, percent: int) -> None:
    assert Settings(store).text_percent == 100
    Settings(store).text_percent = percent
    assert again(store).text_percent == percent
    store.setValue("text-percent", "9000")
    assert again(store).text_percent == 100
