"""Hypothesis strategies for whole projects, every kind of everything."""

from dataclasses import replace
from fractions import Fraction
from typing import cast

from hypothesis import strategies as st

from geometry.model.bed import Bed, Fit, Obstacle, One, Split, Spot
from geometry.model.guide_line import GuideLine
from geometry.model.lock import LOCK_KINDS, Lock
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.planting import DIRECTIONS, IN_USE, JOINT_RULES, PATTERNS, Blank, Pin, Planting
from geometry.model.project import Accepted, Choice, Details, Project
from geometry.model.sheet import Cutting, Score, Sheet
from geometry.model.supplies import (
    Coverage,
    Packed,
    Paint,
    Strip,
    Supplies,
    Volume,
    parse_coverage,
    parse_volume,
)
from geometry.model.wanted import Density, parse_wanted
from geometry.model.zone import Zone, ZoneRules
from geometry.units import ZERO, Length

names = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=12)


def _typed(sixteenths: int) -> Length:
    return Length.of(f"{sixteenths // 16} {sixteenths % 16}/16 in")


sizes = (
    st.integers(1, 10**6).map(Length.of)
    | st.integers(10, 10**9).map(lambda n: Length(Fraction(n, 1000)))
    | st.integers(2, 10**4).map(lambda n: Length(Fraction(n, 3)))
    | st.integers(1, 10**4).map(_typed)
    | st.floats(0.02, 10**6).map(Length.of)
)
gaps = sizes | st.just(ZERO)
places = sizes | sizes.map(lambda length: Length(-length.exact))


def _l_shape(length: Length, width: Length, share: int, other: int) -> LShape:
    notch = Length(length.exact * share / 1000), Length(width.exact * other / 1000)
    return LShape(length, width, *notch)


shares = st.integers(1, 999)
outlines = st.one_of(
    st.builds(Rectangle, sizes, sizes),
    sizes.map(lambda size: Rectangle(size, size, Length(size.exact / 2))),
    st.builds(
        Measured,
        st.lists(sizes, min_size=1, max_size=3).map(tuple),
        st.lists(sizes, min_size=1, max_size=2).map(tuple),
        st.just(()) | st.tuples(sizes, sizes),
    ),
    st.builds(Disc, sizes),
    st.builds(RoundEnded, sizes, sizes),
    st.builds(_l_shape, sizes, sizes, shares, shares),
    st.builds(Tapered, sizes, sizes, sizes),
    st.builds(Polygon, st.lists(st.tuples(sizes, sizes), min_size=3, max_size=6).map(tuple)),
)
spots = st.builds(Spot, places, places)
obstacles = st.builds(Obstacle, names, outlines, spots, st.none(), gaps, st.none() | gaps) | (
    st.builds(Obstacle, names, outlines, st.none(), spots, gaps)
)
steps = st.sampled_from(["1 mm", "5 mm", "1/16 in", "0.1 mm", "50 mm"]).map(Length.of)
plantings = st.builds(
    Planting,
    spacing=sizes,
    hole_diameter=sizes,
    crop=st.just("") | names,
    pattern=st.sampled_from(PATTERNS),
    rows=st.sampled_from(DIRECTIONS),
    row_spacing=st.none() | sizes,
    edge_margin=gaps,
    web=gaps,
    joints=st.sampled_from(JOINT_RULES),
    spread=st.booleans(),
    round_to=st.none() | steps,
    in_use=st.sampled_from(IN_USE),
    pins=st.lists(
        st.builds(Pin, names, places, places, st.none() | st.tuples(places, places)), max_size=3
    ).map(tuple),
    blanks=st.lists(st.builds(Blank, names, places, places), max_size=3).map(tuple),
)
zone_rules = st.builds(
    ZoneRules,
    crop=st.none() | names,
    pattern=st.none() | st.sampled_from(PATTERNS),
    rows=st.none() | st.sampled_from(DIRECTIONS),
    spacing=st.none() | sizes,
    row_spacing=st.none() | sizes,
    edge_margin=st.none() | gaps,
    web=st.none() | gaps,
    hole_diameter=st.none() | sizes,
    spread=st.none() | st.booleans(),
    in_use=st.none() | st.sampled_from(IN_USE),
)
corners = st.tuples(places, places)
zones = st.one_of(
    st.builds(Zone, names, zone_rules, outlines, centre=corners),
    st.builds(Zone, names, zone_rules, outlines, corner=corners),
    st.builds(Zone, names, zone_rules, rafts=st.lists(names, min_size=1, max_size=3).map(tuple)),
)


def _with_zones(bed: Bed, found: list[Zone]) -> Bed:
    return replace(bed, zones=tuple(found)) if bed.planting else bed


plain_beds = st.builds(
    Bed,
    names,
    outlines,
    gaps,
    gaps,
    st.lists(obstacles, max_size=2).map(tuple),
    st.one_of(
        st.builds(Split, st.integers(1, 100), st.integers(1, 100), places, places),
        st.builds(Fit, sizes, sizes),
        st.just(One()),
    ),
    st.none() | plantings,
)


def _sound_sheet(sheet: Sheet) -> Sheet:
    is_small = sheet.tolerance.exact < min(sheet.length.exact, sheet.width.exact)
    return sheet if is_small else replace(sheet, tolerance=ZERO)


scores = st.builds(Score, sizes, st.none() | sizes) | st.builds(Score, st.none(), sizes)
beds = st.builds(
    _with_zones, plain_beds, st.lists(zones, max_size=2, unique_by=lambda zone: zone.name)
)
sheets = st.builds(
    Sheet,
    names,
    sizes,
    sizes,
    st.none() | sizes,
    st.none() | st.integers(0, 10**6).map(lambda cents: Fraction(cents, 100)),
    st.none() | st.integers(0, 10**6),
    gaps,
    st.booleans(),
    st.none() | scores,
    st.none() | st.integers(1, 20_000).map(lambda tenths: Fraction(tenths, 10)),
).map(_sound_sheet)
densities = st.integers(1, 10**6).map(lambda n: Density(Fraction(n, 1000))) | st.sampled_from(
    ["24/m2", "2.2 per ft²", "0.1/ft2"]
).map(lambda text: cast("Density", parse_wanted(text)))


def _asking(choice: Choice, wanted: int | Density | None) -> Choice:
    """A choice that asks for plants instead of a spacing."""
    match wanted:
        case None:
            return choice
        case int():
            return replace(choice, spacing=None, count=wanted)
        case _:
            return replace(choice, spacing=None, density=wanted)


choices = st.builds(
    _asking,
    st.builds(
        Choice,
        names,
        names,
        st.none() | st.sampled_from(PATTERNS),
        st.none() | st.sampled_from(DIRECTIONS),
        st.none() | sizes,
        st.none() | sizes,
        st.none() | gaps,
    ),
    st.none() | st.integers(1, 2_000_000) | densities,
)


prices = st.none() | st.integers(0, 10**6).map(lambda cents: Fraction(cents, 100))
packed = st.builds(Packed, st.none() | st.integers(1, 10**6), prices)
volumes = st.integers(1, 10**6).map(lambda n: Volume(Fraction(n, 100))) | st.sampled_from(
    ["1 gal", "2,5 L", "750 ml"]
).map(lambda text: parse_volume(text, None))
coverages = st.integers(1, 10**4).map(lambda n: Coverage(Fraction(n, 100))) | st.sampled_from(
    ["350 ft2/gal", "8 m²/L", "9,5 m2 per litre"]
).map(lambda text: parse_coverage(text, None))
supplies = st.builds(
    Supplies,
    st.lists(sizes, max_size=3).map(tuple),
    st.integers(0, 100),
    packed,
    packed,
    st.builds(Strip, st.none() | sizes, prices),
    st.builds(Paint, coverages, st.integers(0, 20), st.none() | volumes, prices),
)


guide_lines = st.builds(GuideLine, names, st.sampled_from(["x", "y"]), places, st.booleans())
locks = st.builds(Lock, names, st.sampled_from(LOCK_KINDS), names)


def _project(
    project: Project, kept: list[Choice], lines: list[GuideLine], locked: list[Lock]
) -> Project:
    if not project.beds:
        return project
    bed = project.beds[-1].name
    return replace(
        project,
        choices=tuple(replace(choice, bed=bed) for choice in kept),
        guide_lines=tuple(replace(line, bed=bed) for line in lines),
        locks=tuple(dict.fromkeys(replace(lock, bed=bed) for lock in locked)),
    )


projects = st.builds(
    _project,
    st.builds(
        Project,
        names | st.just(""),
        st.sampled_from(["mm", "cm", "in"]),
        st.lists(beds, max_size=3, unique_by=lambda bed: bed.name).map(tuple),
        st.lists(sheets, max_size=2).map(tuple),
        st.builds(
            Cutting,
            gaps,
            gaps,
            st.booleans(),
            st.sampled_from(["sheets", "cost"]),
            gaps,
            st.none() | sizes,
        ),
        details=st.builds(
            Details,
            names | st.just(""),
            names | st.just(""),
            st.lists(names, max_size=3).map("\n".join),
        ),
        accepted=st.lists(st.builds(Accepted, names, names), max_size=2).map(tuple),
        supplies=st.just(Supplies()) | supplies,
    ),
    st.lists(choices, max_size=2),
    st.lists(guide_lines, max_size=2),
    st.lists(locks, max_size=2),
)
