"""The drawing beside the bench: what does not fit on it is said."""

from dataclasses import replace

import pytest
from jinja2 import Template
from tests.unit.work.live_studies import LIMITED, loaded

from ohmsworth.report.live_answer import LiveAnswer
from ohmsworth.web.dots import LEFT, RIGHT, WIDTH, dots_of
from ohmsworth.web.pages import _environment
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import Planned

ROWS = [
    ("c 1", "new", "1", 2.4),
    ("c 1", "new", "2", 2.5),
    ("c 2", "new", "1", 3.1),
    ("c 2", "new", "2", 3.0),
]


def answer(low: float, high: float) -> LiveAnswer:
    """An answer with this interval of its one condition, ohm."""
    found = live_answer(loaded(ROWS, LIMITED), Planned(3, 2, 1, ("new",)))
    return replace(found, conditions=(replace(found.conditions[0], low=low, high=high),))


def drawn(found: LiveAnswer) -> str:
    template: Template = _environment().get_template("live.html.j2")
    return template.render(answer=found, dots=dots_of(found), sign="", faults=(), tone="", study=1)


@pytest.mark.parametrize(
    ("low", "high", "cut"),
    [(390e-6, 40e-3, (True, True)), (2.3e-3, 40e-3, (False, True)), (2.45e-3, 3.0e-3, (False, False))],
)
def test_a_bar_that_is_cut_off_has_an_arrow_and_no_end(
    low: float, high: float, cut: tuple[bool, bool]
) -> None:
    found = dots_of(answer(low, high))
    assert found is not None
    lane = found.lanes[0]
    assert (lane.low_cut, lane.high_cut) == cut
    assert (lane.low == LEFT, lane.high == WIDTH - RIGHT) == cut
    text = drawn(answer(low, high))
    assert text.count('class="arrow"') == sum(cut)
    assert text.count("v12") == 2 - sum(cut)
    assert ("goes on beyond the edge" in text) == any(cut)
    assert ("390 µΩ to 40" in text) == all(cut)
