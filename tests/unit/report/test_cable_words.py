"""Faults of a cable in words."""

from __future__ import annotations

import pytest
from tests.unit.cables.test_tested import places

from ohmsworth.cables.wiring import WiringFault
from ohmsworth.report.cable_words import fault_words


@pytest.mark.parametrize(
    ("wires", "at", "words"),
    [
        (("hot", "cold"), "A2 A3", "Hot and cold touch."),
        (("hot", "cold"), "A2 A3 Bshell", "Hot, cold and B:shell touch."),
        (
            ("hot", "shell"),
            "A2 Ashell",
            "Hot and shell touch.",
        ),  # the wire that joins both shells is one of them
        (("hot",), "A2 Bshell", "Hot touches what it should not: A:2 and B:shell are joined."),
    ],
)
def test_a_touch_names_everything_that_touches(wires: tuple[str, ...], at: str, words: str) -> None:
    assert fault_words(WiringFault("touch", wires, places(at))) == words
