"""The five stations, and what each has to say before there is a bed."""

from dataclasses import dataclass
from typing import Final, Literal

from geometry.tongue import mark, tr
from layout_gui.panels.words import DASH

StationName = Literal["Bed", "Rafts", "Holes", "Make", "Grow"]
Sign = Literal["done", "open", "look"]

STATION_WORDS: Final[dict[StationName, str]] = {
    "Bed": mark("Bed"),
    "Rafts": mark("Rafts"),
    "Holes": mark("Holes"),
    "Make": mark("Make"),
    "Grow": mark("Grow"),
}
STATIONS: Final[tuple[StationName, ...]] = ("Bed", "Rafts", "Holes", "Make", "Grow")


@dataclass(frozen=True, slots=True)
class Station:
    """What one station says: its key figure, one supporting line, and its sign.

    ``to_settle`` counts the findings that are open here, notes left aside.
    """

    name: StationName
    figure: str
    line: str
    sign: Sign
    to_settle: int = 0


def no_stations() -> tuple[Station, ...]:
    """Say what every station has to say while there is no bed."""
    return (
        Station("Bed", DASH, tr("not measured yet"), "open"),
        Station("Rafts", DASH, tr("after the bed"), "open"),
        Station("Holes", DASH, tr("nothing planted yet"), "open"),
        Station("Make", DASH, tr("after the holes"), "open"),
        Station("Grow", DASH, tr("choose a crop first"), "open"),
    )
