"""What the station Grow says on the road, loaded before its panel is."""

from math import floor

from geometry.crops.table import find_crop
from geometry.tongue import number, tr
from layout_gui.panels.dates import date_text
from layout_gui.panels.now import Now
from layout_gui.panels.words import DASH


def grow_words(now: Now) -> tuple[str, str]:
    """Return the figure and the line of the station; empty while no crop is known.

    Where something is sown in a rhythm, what comes out a week goes before what is published.
    """
    running = running_words(now)
    return running if running[0] else crop_words(now)


def running_words(now: Now) -> tuple[str, str]:
    """Return what all runs give a week, and when there is something to pick first."""
    good = [made for made in now.plan.run_fit.plans if not made.lack]
    if not good:
        return "", ""
    first = min((made.first_harvest for made in good if made.first_harvest), default=None)
    return (
        tr("{n} a week", n=sum(floor(made.per_week) for made in good)),
        tr("ripe from {day}", day=date_text(first)) if first else tr("no day of sowing yet"),
    )


def crop_words(now: Now) -> tuple[str, str]:
    """Return how long the crop is afloat, and its name; empty while no crop is known."""
    crop = find_crop(now.planting.crop, now.project.crops) if now.planting else None
    if crop is None:
        return "", ""
    if crop.days is None:
        return tr(crop.name), tr("days not noted") if crop.is_own else tr("days not published")
    return tr("{days} days", days=day_range(*crop.days)), tr("{name}, afloat", name=tr(crop.name))


def day_range(low: float, high: float) -> str:
    """Write two numbers as a range, or one where they are the same."""
    return number(low) if low == high else f"{number(low)}{DASH}{number(high)}"
