"""The best pattern on odd outlines, against numpy and shapely trying one lattice at some shifts.

python tests/benchmarks/outlines.py
"""

import resource
import time
from collections.abc import Callable
from fractions import Fraction

import numpy as np
import shapely

from geometry.beds.outline import outline_loop
from geometry.holes.any_outline import place_on_any_outline
from geometry.holes.region import KeepOut, Part, Region
from geometry.holes.sites import Placement
from geometry.model.measure import bounds, shifted
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded, Tapered
from geometry.rafts.layout import Side
from geometry.units import Length

RUNS = 5
SHIFTS = 400
MARGIN, SPACING = 40, 140.0
SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")
POND = [(0, 300), (2500, 0), (6000, 400), (7000, 3000), (4500, 5200), (3900, 3800), (900, 4100)]
STONES = [(1500, 1500), (3000, 2000), (5000, 1200), (5200, 3100), (2200, 3000)]


def mm(value: float) -> Length:
    return Length(Fraction(round(value)))


def keep_out(outline: Outline, x: float, y: float) -> KeepOut:
    return KeepOut(shifted(outline_loop(outline), round(x), round(y)), 30.0)


def region(outline: Outline, *keep_outs: KeepOut) -> Region:
    part = Part(outline_loop(outline), dict.fromkeys(SIDES, Fraction(MARGIN)))
    return Region((part,), keep_outs)


def outlines(scale: float) -> dict[str, Region]:
    """Beds of about 70 holes times the square of the scale."""
    f = scale
    ell = LShape(mm(1300 * f), mm(1200 * f), mm(600 * f), mm(500 * f))
    corners = [(0, 90), (500, 0), (1300, 200), (1100, 900), (300, 840)]
    return {
        "disc": region(Disc(mm(1300 * f))),
        "L": region(ell),
        "round-ended": region(RoundEnded(mm(1600 * f), mm(800 * f))),
        "tapered": region(Tapered(mm(1500 * f), mm(900 * f), mm(700 * f))),
        "L, 2 obstacles": region(
            ell,
            keep_out(Disc(mm(80)), 300 * f, 800 * f),
            keep_out(Rectangle(mm(120), mm(200)), 900 * f, 100 * f),
        ),
        "free polygon": region(Polygon(tuple((mm(x * f), mm(y * f)) for x, y in corners))),
    }


def pond() -> Region:
    """A free polygon of seven corners with five obstacles, about 24 square metres."""
    stones = (keep_out(Disc(mm(120)), x - 60, y - 60) for x, y in STONES)
    return region(Polygon(tuple((mm(x), mm(y)) for x, y in POND)), *stones)


def lay(area: Region, spacing: float) -> tuple[Placement, ...]:
    return place_on_any_outline(
        Region(area.parts, area.keep_outs),  # nothing worked out before
        spacing=spacing,
        row_spacing=None,
        pattern="best",
        direction="best",
        spread=True,
    )


def floor(area: Region, spacing: float) -> int:
    """Count one hexagonal lattice in the outline at some shifts."""
    left, bottom, right, top = bounds(area.parts[0].loop)
    ring = [(curve.start.x, curve.start.y) for curve in area.directions]
    shape = shapely.Polygon(ring) if len(ring) > 2 else shapely.box(left, bottom, right, top)
    shapely.prepare(shape)
    x, y = np.meshgrid(np.arange(left, right, spacing), np.arange(bottom, top, spacing * 0.75**0.5))
    x = x + (np.arange(len(x)) % 2 * spacing / 2)[:, None]
    shifts = np.random.default_rng(1).uniform(0, spacing, (SHIFTS, 2))
    return max(
        int(shapely.contains_xy(shape, (x + dx).ravel(), (y + dy).ravel()).sum())
        for dx, dy in shifts
    )


def best_ms(work: Callable[[], object], runs: int = RUNS) -> tuple[float, float]:
    """Best time of the processor and best time by the clock."""
    times = []
    for _ in range(runs):
        start, busy = time.perf_counter(), time.process_time()
        work()
        times.append((time.process_time() - busy, time.perf_counter() - start))
    used, taken = zip(*times, strict=True)
    return min(used) * 1000, min(taken) * 1000


def report(name: str, area: Region, spacing: float, runs: int = RUNS) -> None:
    best, *_ = lay(area, spacing)
    ours, clock = best_ms(lambda: lay(area, spacing), runs)
    least, _ = best_ms(lambda: floor(area, spacing), runs)
    print(
        f"{name:<15} {len(best):>6,} holes, {best.pattern:<10} {best.direction:<8} "
        f"{ours:8.0f} ms ({clock:.0f} by the clock), floor {least:5.0f}, ratio {ours / least:5.1f}"
    )


def main() -> None:
    for scale in (0.9, 4.0):
        for name, area in outlines(scale).items():
            report(name, area, SPACING)
    report("pond", pond(), 116.0, 2)
    report("pond", pond(), 30.0, 1)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MB")


if __name__ == "__main__":
    main()
