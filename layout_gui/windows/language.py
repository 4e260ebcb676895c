"""The language of the window: as the desktop wishes or as chosen, with Qt's own texts."""

from typing import Final, Literal

from PySide6.QtCore import QLibraryInfo, QLocale, QTranslator
from PySide6.QtWidgets import QApplication

from geometry.tongue import set_tongue
from layout_gui.tongues import LANGUAGES, tongue_of

LanguageChoice = Literal["desktop", "en", "es"]
LANGUAGE_CHOICES: Final[tuple[LanguageChoice, ...]] = ("desktop", "en", "es")


def speak(choice: LanguageChoice, app: QApplication) -> None:
    """Speak a language from now on; what is on screen already keeps the words it has."""
    system = QLocale.system()
    language = desktop_language(system) if choice == "desktop" else choice
    sign = system.decimalPoint() if _code(system.name()) == language else ""
    set_tongue(tongue_of(language, sign))
    if language == "en":
        return
    QLocale.setDefault(system if sign else QLocale(language))
    translator = QTranslator(app)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if translator.load(f"qtbase_{language}", folder):
        app.installTranslator(translator)


def desktop_language(locale: QLocale) -> str:
    """Return the first language that the desktop asks for and that we speak; else English."""
    wanted = (_code(name) for name in locale.uiLanguages())
    return next((code for code in wanted if code in LANGUAGES), "en")


def _code(name: str) -> str:
    return name.replace("_", "-").partition("-")[0].lower()
