"""Whatever is typed is either kept and read back as it was, or refused."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit.work.cards.shops import BY, GIVEN, new_shop

from ohmsworth.errors import InputRefused
from ohmsworth.work.cards.asks import Ask
from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.cards.typed import read_typed
from ohmsworth.work.cards.writing import add_step, open_card, read_card, write_card
from ohmsworth.work.records import CardKind

NUMBERS = st.decimals(-1000, 1000, places=3).map(str)
TYPED = st.one_of(
    st.text(max_size=40),
    st.sampled_from(
        ["", " ", "3 mΩ", "0.5 % + 3 counts", "2026-03-02", "voltage", "in work", "1", "1,234 V", "⟨no.1⟩"]
    ),
    st.builds("{} {}".format, NUMBERS, st.sampled_from(["mΩ", "V", "mA", "%", "Ω", "x"])),
    st.dates().map(str),
)
ROW = st.dictionaries(st.sampled_from(["up_to", "accuracy", "resolution"]), TYPED)
ANYTHING = st.recursive(
    st.one_of(TYPED, st.none(), st.booleans(), st.integers(), st.floats(allow_nan=False)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)


def fields(asks: tuple[Ask, ...], value: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    each = {ask.key: st.lists(ROW, max_size=3) if ask.form == "ranges" else value for ask in asks}
    return st.fixed_dictionaries({}, optional=each)


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
def test_any_typed_text_is_kept_or_refused(kind: CardKind, data: st.DataObject) -> None:
    shop, spec = new_shop(), KINDS[kind]
    asks = (*spec.asks, *(ask for step in spec.steps for ask in step.asks))
    typed = {**data.draw(st.sampled_from([{}, GIVEN[kind]])), **data.draw(fields(asks, TYPED))}
    try:
        number = open_card(shop, kind, typed, BY, "k")
    except InputRefused:
        assert shop.records.count() == 0
        return
    state = read_card(shop.records, number)
    read = read_typed(spec.asks, typed)
    assert not state.faults
    assert state.texts == read.kept
    again = read_typed(spec.asks, state.texts)
    assert (again.kept, again.values) == (read.kept, read.values)
    assert not write_card(shop, number, state.texts, "", state.written, BY, "l"), "writing what stands there"


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
def test_a_log_that_somebody_else_wrote_can_always_be_looked_at(kind: CardKind, data: st.DataObject) -> None:
    from ohmsworth.work.cards.changes import changes
    from ohmsworth.work.cards.log import WRITTEN, face_of
    from ohmsworth.work.records import NewLine

    shop, spec = new_shop(), KINDS[kind]
    kinds = [
        WRITTEN,
        *(step.kind for step in spec.steps),
        "calibration withdrawn",
        "note written",
        "something new",
    ]
    keys = st.sampled_from([ask.key for ask in spec.asks] + ["on", "by", "text", "new"])
    lines = [
        NewLine(
            f"k{n}", data.draw(st.sampled_from(kinds)), data.draw(st.dictionaries(keys, ANYTHING, max_size=4))
        )
        for n in range(data.draw(st.integers(1, 4)))
    ]
    number = shop.records.open_card(kind, BY, lines, face_of(kind))
    state = read_card(shop.records, number)
    assert state.said is None or not state.faults
    assert state.title
    assert len(changes(state)) == len(lines)


@given(fields(KINDS["meter"].steps[0].asks, TYPED))
def test_any_calibration_is_kept_or_refused(typed: dict[str, Any]) -> None:
    shop = new_shop()
    number = open_card(shop, "meter", GIVEN["meter"], BY, "k")
    try:
        add_step(shop, number, "calibration", typed, "", BY, "l")
    except InputRefused:
        assert read_card(shop.records, number).calibrations == ()
    else:
        (one,) = read_card(shop.records, number).calibrations
        assert one.on is not None
