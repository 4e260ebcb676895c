"""Words change with the tongue; what other programs read does not, not by a byte."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from geometry.errors import GeometryError
from geometry.tongue import ENGLISH, set_tongue, speaking, spoken, tr
from layout_gui.__main__ import main
from layout_gui.child_process import ChildProcess
from layout_gui.project.file import load, save
from layout_gui.tongues import tongue_of
from layout_gui.windows.language import desktop_language, speak

SAMPLES = Path(__file__).parents[2] / "sample_projects"
SAMPLE = SAMPLES / "lined-trough.raft.json"


def test_tables_drawings_and_summary_are_the_same_in_every_tongue(tmp_path: Path) -> None:
    folders = {language: tmp_path / language for language in ("en", "es")}
    for language, folder in folders.items():
        main(["--language", language, "export", str(SAMPLE), "--out", str(folder)])

    english, spanish = folders["en"], folders["es"]
    names = {path.name for path in english.iterdir()}
    assert {path.name for path in spanish.iterdir()} == names
    for name in sorted(names):
        alike = (english / name).read_bytes() == (spanish / name).read_bytes()
        assert alike == (not name.endswith(".pdf")), name


def test_a_project_is_saved_alike_in_every_tongue(tmp_path: Path) -> None:
    for sample in sorted(SAMPLES.glob("*.raft.json")):
        project = load(sample)
        save(tmp_path / "en.raft.json", project)
        with speaking(tongue_of("es")):
            assert load(sample) == project
            save(tmp_path / "es.raft.json", project)
        first, second = (tmp_path / f"{name}.raft.json" for name in ("en", "es"))
        assert first.read_bytes() == second.read_bytes()


def test_commands_speak_english_unless_they_are_told_otherwise(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LANG", "es_ES.UTF-8")
    monkeypatch.setenv("LANGUAGE", "es")

    main(["check", str(SAMPLE)])
    plain = capsys.readouterr().out
    for told in (["--language=es", "check"], ["--language", "es", "check"]):
        main([*told, str(SAMPLE)])
        spanish = capsys.readouterr().out
        assert "Se deja como está" in spanish
        assert "plantas" in spanish
        assert len(spanish.splitlines()) == len(plain.splitlines())
    main(["check", str(SAMPLE), "--language", "es"])

    assert capsys.readouterr().out == spanish
    assert "plants" in plain
    assert spoken() is ENGLISH


def test_machines_read_the_same_keys_and_codes(capsys: pytest.CaptureFixture[str]) -> None:
    def told(language: str) -> dict[str, object]:
        main(["check", str(SAMPLE), "--json", "--language", language])
        content: dict[str, object] = json.loads(capsys.readouterr().out)
        return content

    def without_words(value: object) -> object:
        if isinstance(value, dict):
            words = {"title", "text", "label", "cutting", "no_cure"}
            return {key: without_words(part) for key, part in value.items() if key not in words}
        return [without_words(part) for part in value] if isinstance(value, list) else value

    assert without_words(told("es")) == without_words(told("en"))
    assert told("es") != told("en")


def test_an_unknown_language_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as refused:
        main(["check", str(SAMPLE), "--language", "xx"])

    assert refused.value.code == 2
    assert "xx" in capsys.readouterr().err


def _refuse(_tell: Callable[[object], None]) -> None:
    raise GeometryError(tr("There is no bed yet."))


def test_work_in_a_child_process_speaks_as_its_parent() -> None:
    with speaking(tongue_of("es")):
        child = ChildProcess(_refuse)
        news = list(child.news(60))

    assert news == [("failed", "Todavía no hay estanque.")]


class _Locale:
    def __init__(self, *names: str) -> None:
        self.names = names

    def uiLanguages(self) -> list[str]:  # noqa: N802  as Qt calls it
        return list(self.names)


@pytest.mark.parametrize(
    ("asked", "language"),
    [
        (("es-MX", "en"), "es"),
        (("de-DE", "de", "es_ES"), "es"),
        (("en-GB", "es"), "en"),
        (("de",), "en"),
        ((), "en"),
    ],
)
def test_the_desktop_is_heard(asked: tuple[str, ...], language: str) -> None:
    assert desktop_language(_Locale(*asked)) == language  # type: ignore[arg-type]


def test_the_words_of_qt_are_spoken_too(qapp: object) -> None:
    from PySide6.QtCore import QCoreApplication, QLocale, QTranslator  # noqa: PLC0415
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415

    assert isinstance(qapp, QApplication)
    usual = QLocale()
    try:
        speak("es", qapp)
        assert spoken().language == "es"
        assert QCoreApplication.translate("QPlatformTheme", "Cancel") == "Cancelar"
    finally:
        set_tongue(ENGLISH)
        QLocale.setDefault(usual)
        for translator in qapp.findChildren(QTranslator):
            qapp.removeTranslator(translator)
