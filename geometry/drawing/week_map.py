"""A bed seen from above in one week: which batch stands on which raft, told by letter and hatch."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import Final

import shapely

from geometry.drawing.lettering import clipped, line
from geometry.drawing.marks import Box, Mark, Path, frame, polyline, stroke
from geometry.drawing.room import outline_points
from geometry.drawing.styles import Style
from geometry.drawing.task_words import weekday
from geometry.drawing.text_width import text_width
from geometry.drawing.transforms import Shift
from geometry.flow.period import Week
from geometry.flow.room import Stand
from geometry.model.curves import Point
from geometry.model.measure import bounds
from geometry.tongue import mark, plural, tr
from geometry.weeks import BedWeeks, PlaceInWeek, Weeks

HATCHES: Final[tuple[tuple[tuple[float, float], ...], ...]] = (
    ((45, 3.0),),
    ((-45, 3.0),),
    ((0, 2.4),),
    ((90, 2.4),),
    ((45, 3.6), (-45, 3.6)),
    ((0, 3.0), (90, 3.0)),
    ((45, 1.5),),
    ((0, 1.3),),
)
"""Angle and distance in mm of the lines of each hatch."""

_LABEL_MM: Final = 3.0
_SMALL_MM: Final = 2.2
_LEAST_MM: Final = 1.8


@dataclass(frozen=True, slots=True)
class StageKey:
    """How a stage of a run is told apart: by a letter and a hatch. ``words`` name it."""

    letter: str
    hatch: int
    words: str


def stage_keys(weeks: Weeks) -> dict[tuple[int, int], StageKey]:
    """Return the keys of all stages on rafts, by run and stage."""
    found: dict[tuple[int, int], StageKey] = {}
    for run, made in enumerate(weeks.runs):
        for at, stage in enumerate(made.stages):
            if stage.sites:
                name, crop = clipped(stage.stage.name), clipped(made.run.name)
                words = tr("{run}: {stage}", run=crop, stage=name)
                count = len(found)
                found[run, at] = StageKey(_letter(count), count % len(HATCHES), words)
    return found


def _letter(number: int) -> str:
    more, last = divmod(number, 26)
    return (_letter(more - 1) if more else "") + chr(ord("A") + last)


def batch_label(who: Stand, keys: Mapping[tuple[int, int], StageKey]) -> str:
    """Name a batch in its stage: A3; without a number where batches share rafts."""
    key = keys[who.demand.run, who.demand.stage]
    return f"{key.letter}{who.demand.batch or ''}"


def plants_words(who: Stand) -> str:
    """Count the plants on a raft; how many are on one that batches share is not told apart."""
    return plural(who.plants, "plant") if who.demand.batch else tr("shared")


def events(place: PlaceInWeek) -> tuple[str, ...]:
    """Say what happens in a place in its week, as "out Mon" and "in Mon"."""
    texts = []
    if place.gone is not None and place.goes == place.gone.demand.end:
        texts.append(tr("out {day}", day=weekday(place.goes)))
    if place.now is not None and place.comes is not None:
        is_new = place.comes == place.now.demand.first
        words = mark("in {day}") if is_new else mark("pushed {day}")
        texts.append(tr(words, day=weekday(place.comes)))
    return tuple(texts)


def bed_words(bed: BedWeeks) -> str:
    """Name a bed, and say which way its rafts are pushed."""
    name = clipped(bed.name)
    if bed.crop:
        name = tr("{bed}, {crop}", bed=name, crop=clipped(tr(bed.crop)))
    if not bed.lanes:
        return name
    places = bed.lanes[0].places
    return tr(
        "{bed}: rafts go in at {first} and out at {last}",
        bed=name, first=places[0], last=places[-1],
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class MapSize:
    """A bed on the page: how many mm of it are one mm of paper, and how large it becomes."""

    scale: float
    width: float
    height: float


def map_size(bed: BedWeeks, most: tuple[float, float]) -> MapSize:
    """Return how large a bed is drawn within so much width and height."""
    left, bottom, right, top = bounds(bed.bed.layout.outline)
    scale = min(most[0] / (right - left), most[1] / (top - bottom))
    return MapSize(scale, (right - left) * scale, (top - bottom) * scale)


def draw_bed(
    bed: BedWeeks,
    week: Week,
    keys: Mapping[tuple[int, int], StageKey],
    at: Point,
    size: MapSize,
) -> Iterator[Mark]:
    """Draw a bed with its upper left corner ``at`` a point of the page."""
    left, bottom, _, top = bounds(bed.bed.layout.outline)
    shift = Shift(at.x - left * size.scale, at.y - size.height - bottom * size.scale, size.scale)
    assert top > bottom  # noqa: S101 - a bed with rafts has an area
    yield Path(tuple(map(shift.curve, bed.bed.layout.outline.curves)), Style.WATER, closed=True)
    in_week = {each.place: each for each in bed.in_week(week)}
    for raft in bed.bed.layout.rafts:
        loop = raft.loop_in_bed
        place = in_week[raft.name]
        ring = shapely.Polygon(shift.points(outline_points(loop)))
        if place.now is not None:
            key = keys[place.now.demand.run, place.now.demand.stage]
            yield from hatch(ring, key.hatch)
        yield Path(tuple(map(shift.curve, loop.curves)), Style.RAFT, closed=True)
        yield from _label(place, keys, Box(*ring.bounds))


def hatch(area: shapely.Polygon, number: int) -> Iterator[Mark]:
    """Fill an area with the lines of a hatch; all areas of a page share one grid of lines."""
    x, y = area.centroid.x, area.centroid.y
    reach = hypot(area.bounds[2] - area.bounds[0], area.bounds[3] - area.bounds[1]) / 2 + 1
    for degrees, apart in HATCHES[number]:
        along = cos(radians(degrees)), sin(radians(degrees))
        across = -along[1], along[0]
        middle = round((x * across[0] + y * across[1]) / apart)
        count = int(reach / apart) + 1
        base = x * along[0] + y * along[1]
        lines = [
            [
                (
                    (base + end) * along[0] + offset * across[0],
                    (base + end) * along[1] + offset * across[1],
                )
                for end in (-reach, reach)
            ]
            for offset in (apart * (middle + n) for n in range(-count, count + 1))
        ]
        for part in shapely.get_parts(shapely.intersection(shapely.linestrings(lines), area)):
            if part.geom_type == "LineString" and not part.is_empty:
                start, *_, end = part.coords
                yield stroke(Point(*start[:2]), Point(*end[:2]), Style.RULE)


def _label(
    place: PlaceInWeek, keys: Mapping[tuple[int, int], StageKey], box: Box
) -> Iterator[Mark]:
    """Write what fits into a raft, on white: its batch, what happens, its plants, its name."""
    texts = [(place.place, _SMALL_MM)]
    if place.now is not None:
        batch = batch_label(place.now, keys)
        texts = [(f"{place.place}: {batch}", _LABEL_MM)]
        if text_width(texts[0][0], _SMALL_MM, bold=True) + 1.8 > box.width:
            texts = [(batch, _LABEL_MM), (place.place, _SMALL_MM)]
    if happens := events(place):
        wide = text_width(", ".join(happens), _LEAST_MM) + 1.0
        texts.append((", ".join(happens) if wide <= box.width else happens[-1], _SMALL_MM))
    if place.now is not None:
        texts.append((plants_words(place.now), _SMALL_MM))
    fitting: list[tuple[str, float]] = []
    room = box.height - 1.0
    for text, height in texts:
        size = min(height, (box.width - 1.0) / max(text_width(text, 1, bold=True), 1e-9))
        size = min(size, room / 1.25)
        if size < _LEAST_MM:
            continue
        fitting.append((text, size))
        room -= size * 1.25
    y = (box.bottom + box.top) / 2 + sum(size * 1.25 for _, size in fitting) / 2
    x = (box.left + box.right) / 2
    for number, (text, size) in enumerate(fitting):
        is_bold = number == 0 and place.now is not None
        half = min(text_width(text, size, bold=is_bold) / 2 + 0.4, box.width / 2 - 0.4)
        if place.now is not None:
            yield frame(Box(x - half, y - size * 1.25, x + half, y), Style.WHITE)
        style = Style.TITLE if is_bold else Style.LABEL
        yield line(x, y - size * 0.98, text, size, style=style, anchor="middle")
        y -= size * 1.25


def draw_key(key: StageKey, at: Point) -> Iterator[Mark]:
    """Draw the small square of a key and its words, its upper left corner ``at`` a point."""
    box = Box(at.x, at.y - 5.0, at.x + 9.0, at.y)
    yield from hatch(shapely.box(*box), key.hatch)
    yield polyline(
        [Point(box.left, box.bottom), Point(box.right, box.bottom), Point(box.right, box.top),
         Point(box.left, box.top)],
        Style.RAFT, closed=True,
    )  # fmt: skip
    wide = text_width(key.letter, _LABEL_MM, bold=True) / 2 + 0.4
    x, y = (box.left + box.right) / 2, at.y - 3.6
    yield frame(Box(x - wide, y - 0.4, x + wide, y + 2.6), Style.WHITE)
    yield line(x, y, key.letter, _LABEL_MM, style=Style.TITLE, anchor="middle")


def key_rows(
    keys: Sequence[StageKey], width: float, height: float
) -> tuple[tuple[tuple[StageKey, float], ...], ...]:
    """Spread keys over lines of so much width: each with its place from the left."""
    rows: list[list[tuple[StageKey, float]]] = [[]]
    at = 0.0
    for key in keys:
        wide = 11.0 + text_width(key.words, height) + 6.0
        if at + wide > width and rows[-1]:
            rows.append([])
            at = 0.0
        rows[-1].append((key, at))
        at += wide
    return tuple(map(tuple, rows))
