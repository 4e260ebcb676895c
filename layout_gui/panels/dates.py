"""Days as people here write them, in one place."""

from datetime import date

from PySide6.QtCore import QDate, QLocale

from geometry.errors import GeometryError
from geometry.flow.period import day_fault
from geometry.tongue import spoken, tr


def today() -> date:
    """Return the day as the wall calendar has it."""
    return date.today()  # noqa: DTZ011


def _locale() -> QLocale:
    """The habits of this computer where it speaks the program's language, else those of the latter.

    A day must not change its meaning with a word beside it.
    """
    own, language = QLocale(), spoken().language
    return own if own.name().startswith(language) else QLocale(language)


def date_text(day: date) -> str:
    """Write a day short, with the year in full."""
    return _locale().toString(QDate(day.year, day.month, day.day), _short())


def day_and_month(day: date) -> str:
    """Write a day without its year."""
    return _locale().toString(QDate(day.year, day.month, day.day), "d MMM")


def read_day(text: str) -> date:
    """Read a day as people here write it, or as 2026-03-31 anywhere.

    Raises:
        GeometryError: it is none, or of no year in which plants are grown; says what to write.
    """
    day = _read(text.strip())
    if found := day_fault(day):
        raise GeometryError("{} {}; {}.".format(tr("The day"), *found))
    return day


def _read(plain: str) -> date:
    found = _locale().toDate(plain, _short())
    if found.isValid():
        return date(found.year(), found.month(), found.day())
    try:
        return date.fromisoformat(plain)
    except ValueError:
        example = date_text(date(2026, 3, 31))
        raise GeometryError(
            tr(
                "“{text}” is no day of the calendar; write one such as {example} or 2026-03-31.",
                text=plain,
                example=example,
            )
        ) from None


def _short() -> str:
    """The short form of a day with four digits for the year: two of them are read as 1926."""
    form = _locale().dateFormat(QLocale.FormatType.ShortFormat)
    return form if "yyyy" in form else form.replace("yy", "yyyy")
