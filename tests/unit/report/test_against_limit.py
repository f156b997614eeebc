"""Contacts measured and others of their kind: two verdicts that must not look like one that contradicts itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from tests.unit.report.answers import LIMIT, answer, before_and_after, condition, specimen

from ohmsworth.report.against_limit import limit_sentence, these_and_kind
from ohmsworth.report.answer import Answer

CLOSE = "too close to call"


def kind(verdicts: Sequence[str | None], judged: str | None, known: bool = True) -> Answer:
    mine = [specimen(str(i), verdict, known=known) for i, verdict in enumerate(verdicts)]
    return answer(mine, [replace(condition(), verdict=judged)])


@pytest.mark.parametrize(
    ("verdicts", "judged", "told"),
    [
        (["over"] * 3, CLOSE, ("all 3 over", "too few specimens to say")),
        (["within"] * 4, CLOSE, ("all 4 within", "too few specimens to say")),
        (["within"] * 2, "within", ("both within", "within")),
        (["within", "over", CLOSE], CLOSE, (f"1 within, 1 over, 1 {CLOSE}", CLOSE)),
        ([CLOSE] * 3, CLOSE, (f"all 3 {CLOSE}", CLOSE)),
        (["over"], CLOSE, ("over", "one specimen cannot say")),
        (["within"] * 3, None, ("all 3 within", "–")),
        ([None], "within", ("–", "within")),
        ([], None, ("–", "–")),
    ],
)
def test_the_table_tells_these_and_their_kind_apart(
    verdicts: list[str | None], judged: str | None, told: tuple[str, str]
) -> None:
    found = kind(verdicts, judged)
    assert these_and_kind(found.conditions[0], found) == told


def test_contacts_of_unknown_uncertainty_have_no_verdict_of_their_own() -> None:
    found = kind([CLOSE] * 2, "within", known=False)
    assert these_and_kind(found.conditions[0], found) == ("both not known", "within")


def test_the_headline_says_so_where_they_are_clear_and_their_kind_is_not() -> None:
    more = " To say the same of others like them takes more specimens."
    assert (
        limit_sentence(kind(["within"] * 4, CLOSE)) == f"All 4 contacts are within the limit of 3 mΩ.{more}"
    )
    assert limit_sentence(kind(["within"] * 4, "within")) == "All 4 contacts are within the limit of 3 mΩ."
    assert more not in limit_sentence(kind(["within", CLOSE], CLOSE))


def test_of_contacts_that_were_cleaned_only_the_kind_that_they_are_now_is_told() -> None:
    found = before_and_after("enough to matter")
    assert found.limit == LIMIT
    open_both = replace(found, conditions=tuple(replace(c, verdict=CLOSE) for c in found.conditions))
    told = limit_sentence(open_both)
    assert told.endswith(
        "all 3 are within. To say the same of other contacts like 'new' takes more specimens."
    )
    assert "like 'worn'" not in told
