"""Scales of drawings on workshop pages: 1 to a round number."""

_SCALES = (
    1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16, 18, 20, 25, 30, 40, 50, 60, 75, 80, 100, 125,
    150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 3000, 5000, 10000,
)  # fmt: skip


def best_scale(length: float, width: float, room_x: float, room_y: float) -> int:
    """Return the largest scale, 1 to so many, at which a drawing fits a room."""
    needed = max(length / room_x, width / room_y)
    return next((scale for scale in _SCALES if scale >= needed), int(needed) + 1)
