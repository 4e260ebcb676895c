"""What the station Grow says on the road, loaded before its panel is."""

from geometry.crops.table import find_crop
from geometry.tongue import number, tr
from layout_gui.panels.now import Now
from layout_gui.panels.words import DASH


def grow_words(now: Now) -> tuple[str, str]:
    """Return the figure and the line of the station; empty while no crop is known."""
    crop = find_crop(now.planting.crop, now.project.crops) if now.planting else None
    if crop is None:
        return "", ""
    if crop.days is None:
        return tr(crop.name), tr("days not noted") if crop.is_own else tr("days not published")
    return tr("{days} days", days=day_range(*crop.days)), tr("{name}, afloat", name=tr(crop.name))


def day_range(low: float, high: float) -> str:
    """Write two numbers as a range, or one where they are the same."""
    return number(low) if low == high else f"{number(low)}{DASH}{number(high)}"
