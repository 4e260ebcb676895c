"""The measurements that stand for an outline."""

from fractions import Fraction

from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)


def outline_sizes(outline: Outline) -> tuple[Fraction, ...]:
    """Return the one or two measurements that stand for an outline: length and width."""
    match outline:
        case Measured(widths, lengths):
            return (
                min(length.exact for length in lengths),
                min(width.exact for width in widths),
            )
        case Disc(diameter):
            return (diameter.exact,)
        case Tapered(length, start, end):
            return (length.exact, max(start.exact, end.exact))
        case Polygon(points):
            xs = [x.exact for x, _ in points]
            ys = [y.exact for _, y in points]
            return (max(xs) - min(xs), max(ys) - min(ys))
        case Rectangle() | RoundEnded() | LShape():
            return (outline.length.exact, outline.width.exact)
