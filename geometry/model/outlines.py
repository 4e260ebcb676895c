"""The kinds of outline a bed or an obstacle can have, as measured."""

from dataclasses import dataclass

from geometry.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle, its corners rounded when ``corner_radius`` is above zero."""

    length: Length
    width: Length
    corner_radius: Length = ZERO


@dataclass(frozen=True, slots=True)
class Measured:
    """A rectangle-like bed as a tape found it: the smallest length and width are safe.

    One to three widths, one or two lengths, no diagonal or two.
    """

    widths: tuple[Length, ...]
    lengths: tuple[Length, ...]
    diagonals: tuple[Length, ...] = ()


@dataclass(frozen=True, slots=True)
class Disc:
    """A round tank."""

    diameter: Length


@dataclass(frozen=True, slots=True)
class RoundEnded:
    """Straight sides and two half-round ends; the ends' radius is half the shorter side."""

    length: Length
    width: Length


@dataclass(frozen=True, slots=True)
class LShape:
    """A rectangle whose upper right corner is notched out."""

    length: Length
    width: Length
    notch_length: Length
    notch_width: Length


@dataclass(frozen=True, slots=True)
class Tapered:
    """A symmetrical trapezium: ``width_start`` at x = 0, ``width_end`` at x = length."""

    length: Length
    width_start: Length
    width_end: Length


@dataclass(frozen=True, slots=True)
class Polygon:
    """A free outline of three or more corners, not crossing itself."""

    points: tuple[tuple[Length, Length], ...]


Outline = Rectangle | Measured | Disc | RoundEnded | LShape | Tapered | Polygon
