"""Where words stand on a page, and which of them stand on others or leave the paper."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.lettering import text_box
from geometry.drawing.marks import Box, Text
from geometry.drawing.paper import Page
from geometry.drawing.styles import Style

_UNDER = (Style.PAGE_NAME, Style.LOUD)
_TOUCH_MM = 0.15
"""So much may two boxes share: boxes are a little larger than their letters."""


def boxes_of(page: Page) -> Iterator[tuple[Text, Box]]:
    """Give every text that shows on a page, with what of its box shows.

    What lies large and pale under the drawing of a template is left out.
    """
    for picture in page.pictures:
        for group in picture.drawing.groups:
            for mark in group.marks:
                box = text_box(mark)
                if box is None or not isinstance(mark, Text) or mark.style in _UNDER:
                    continue
                if picture.clip is not None:
                    if not box.meets(picture.clip):
                        continue
                    box = Box(
                        max(box.left, picture.clip.left),
                        max(box.bottom, picture.clip.bottom),
                        min(box.right, picture.clip.right),
                        min(box.top, picture.clip.top),
                    )
                yield mark, box


def words_on_words(page: Page) -> list[tuple[str, str]]:
    """Name the pairs of texts that stand on each other."""
    texts = list(boxes_of(page))
    if not texts:
        return []
    sides: NDArray[np.float64] = np.array([box.grown(-_TOUCH_MM) for _, box in texts])
    left, bottom, right, top = sides.T
    found: list[tuple[str, str]] = []
    for number in range(len(texts) - 1):
        rest = slice(number + 1, None)
        hit = (left[rest] < right[number]) & (left[number] < right[rest])
        hit &= (bottom[rest] < top[number]) & (bottom[number] < top[rest])
        found += [
            (texts[number][0].text, texts[number + 1 + other][0].text)
            for other in np.flatnonzero(hit).tolist()
        ]
    return found


def words_outside(page: Page, border: float) -> list[str]:
    """Name the texts that reach into the border of the paper."""
    return [
        mark.text
        for mark, box in boxes_of(page)
        if box.left < border
        or box.bottom < border
        or box.right > page.width_mm - border
        or box.top > page.height_mm - border
    ]
