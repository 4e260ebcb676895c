"""Paper can be stopped at any page, and before the first: whoever waits hears of it at once."""

from pathlib import Path

import pytest

from geometry.drawing.template import lay_template
from geometry.watch import Stopped, watched
from layout_gui.output.documents import TEMPLATE
from layout_gui.output.export import export
from tests.paper.samples import plan_of


def test_laying_out_a_template_looks_up_before_and_at_every_page() -> None:
    looks: list[float] = []

    def count(share: float) -> bool:
        looks.append(share)
        return True

    with watched(count):
        template = lay_template(plan_of("first-raft"))
    assert len(looks) >= template.total

    with watched(lambda _share: False), pytest.raises(Stopped):
        lay_template(plan_of("first-raft"))


@pytest.mark.parametrize("last", [1, 3, 11, 22])
def test_an_export_that_is_stopped_at_any_look_leaves_nothing(last: int, tmp_path: Path) -> None:
    looks = 0

    def stop(_share: float, _words: str) -> bool:
        nonlocal looks
        looks += 1
        return looks < last

    out = tmp_path / "out"
    assert export(plan_of("first-raft"), out, frozenset({TEMPLATE}), progress=stop) == ()
    assert looks == last
    assert not out.exists() or list(out.iterdir()) == []
