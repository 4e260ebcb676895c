"""A field that turns a thing by a typed angle; it is empty again once that is done."""

from collections.abc import Callable
from fractions import Fraction

from geometry.errors import GeometryError
from geometry.tongue import mark, tr
from layout_gui.panels.form import Field
from layout_gui.panels.now import Now
from layout_gui.project import edits_things
from layout_gui.project.things import Thing


def read_degrees(text: str) -> Fraction:
    """Read an angle in degrees as it is typed: "30", "-22,5°".

    Raises:
        GeometryError: It is no number, or more than a whole turn.
    """
    plain = text.strip().removesuffix("°").strip().replace(",", ".").replace("\N{MINUS SIGN}", "-")
    try:
        degrees = Fraction(plain)
    except (ValueError, ZeroDivisionError):
        raise GeometryError(
            tr("“{text}” is no angle; write degrees, such as 30.", text=text)
        ) from None
    if abs(degrees) > 360:
        raise GeometryError(tr("A whole turn is 360 degrees; write less."))
    return degrees


def turn_field(prefix: str, thing: Callable[[Now], Thing | None]) -> Field:
    """Describe the field that turns the thing of this moment, shown while it has a shape."""

    def shown(now: Now) -> bool:
        found = thing(now)
        if now.bed is None or found is None or not edits_things.has_thing(now.bed, found):
            return False
        return edits_things.find_standing(now.bed, found).shape is not None

    return Field(
        f"{prefix}turn",
        mark("Turn by"),
        "text",
        read=lambda _now: "",
        write=lambda now, text: edits_things.turn_standing(
            now.project,
            now.bed.name if now.bed else "",
            thing(now) or Thing("obstacle", -1),
            read_degrees(text),
        ),
        shown=shown,
        empty_means=mark("degrees"),
        hint=mark("Against the clock about its middle; with a minus the other way"),
    )
