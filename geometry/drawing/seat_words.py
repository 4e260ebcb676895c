"""How a pot sits, in words for screen and paper."""

from typing import Final

from geometry.afloat.pots import Seat, Seated
from geometry.tongue import mark, tr
from geometry.units import TOLERANCE_MM, format_length

SEAT_WORDS: Final[dict[Seat, str]] = {
    "tight": mark("tight"),
    "slip": mark("slips in"),
    "loose": mark("loose"),
    "falls through": mark("falls through"),
    "stands proud": mark("stands proud"),
    "does not go in": mark("does not go in"),
}
"""Each fit in a word or two, marked."""


def seat_words(seated: Seated) -> str:
    """Say how a pot sits and by how much: its play, its rim on the foam, or how proud it stands.

    In millimetres for everyone: no tape shows a play in inches.
    """
    word = tr(SEAT_WORDS[seated.seat])
    play, lip = format_length(seated.play, "mm"), format_length(seated.lip, "mm")
    match seated.seat:
        case "falls through":
            return word
        case "does not go in":
            return tr(
                "{seat}, {short} too narrow", seat=word, short=format_length(-seated.play, "mm")
            )
        case _ if seated.proud > TOLERANCE_MM:
            proud = format_length(seated.proud, "mm")
            return tr("{seat}, its rim {proud} above the foam", seat=word, proud=proud)
        case _ if seated.lip > TOLERANCE_MM:
            return tr("{seat}, {play} of play, rim on {lip} of foam", seat=word, play=play, lip=lip)
        case _:
            return tr("{seat}, {play} of play", seat=word, play=play)
