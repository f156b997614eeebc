"""The order in which conditions stand beside one another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import answer, comparison, condition

from ohmsworth.report.answer import Answer
from ohmsworth.report.figures import side_by_side


def asked(reference: str, read: list[str], last: str | None, paired: bool = True) -> Answer:
    """Conditions in the order of their first reading; `worn` and `new` of the same specimens, `other` of others."""
    other = "worn" if reference == "new" else "new"
    found = replace(
        comparison("enough to matter", (1e-3, 5e-4, 2e-3), of=other),
        against=reference,
        paired=paired,
        read_last=last,
    )
    apart = replace(comparison("cannot tell yet", (1e-3, 5e-4, 2e-3), of="other"), against=reference)
    return replace(answer((), [condition(name) for name in read], [found, apart]), reference=reference)


@pytest.mark.parametrize(
    ("reference", "last", "order"),
    [
        ("new", "new", ["worn", "new", "other"]),  # cleaned ones against what they were
        ("worn", "new", ["worn", "new", "other"]),  # what they were, against which the cleaned ones are held
        ("new", "worn", ["new", "worn", "other"]),
        ("worn", "worn", ["new", "worn", "other"]),
        ("new", None, ["new", "worn", "other"]),  # by turns: as the question goes
        ("worn", None, ["worn", "new", "other"]),
    ],
)
@pytest.mark.parametrize("read", [["other", "new", "worn"], ["worn", "new", "other"]])
def test_before_stands_left_of_after_whichever_is_the_reference(
    reference: str, last: str | None, order: list[str], read: list[str]
) -> None:
    assert [c.condition for c in side_by_side(asked(reference, read, last))] == order


def test_the_reference_comes_first_of_separate_specimens() -> None:
    found = asked("new", ["other", "worn", "new"], None, paired=False)
    assert [c.condition for c in side_by_side(found)] == ["new", "other", "worn"]
