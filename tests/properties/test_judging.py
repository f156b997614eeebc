"""What is said of an entry before it is accepted: against the study's own answer, under symmetries, and for any entry at all."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.judged import LIMIT, bench_entries, plan_of, study_of

from ohmsworth.adapters.simulated import TRUTH, Surface, Truth
from ohmsworth.readings.entries import table_of_entries
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.study import Study
from ohmsworth.resistance import reduce_readings
from ohmsworth.work.judge_entry import judge_entry
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import find_results

TWO = Truth(
    {"dark": Surface(9e-3, 0.08, 0.07, 0.006), "new": Surface(2.3e-3, 0.05, 0.05, 0.003)}, specimen=0.05
)


@pytest.mark.parametrize(("pairs", "seed"), [(1, 1), (2, 2), (2, 3)])
@pytest.mark.parametrize("scale", ["log", "linear"])
def test_resistances_and_contacts_are_those_of_the_studys_answer(pairs: int, seed: int, scale: str) -> None:
    study = replace(study_of(TWO), scale=scale)
    entries = bench_entries(TWO, plan_of(TWO, 3, 3, pairs, seed), seed)
    table = table_of_entries(entries)
    results = find_results(LoadedStudy(study, table, ()))
    assert len(results.used) == len(entries)
    found, cells = results.resistances, table.cells()
    last_of_mating = {int(cell): row for row, cell in enumerate(cells)}
    for cell, row in last_of_mating.items():
        judged = judge_entry(study, entries[:row], entries[row])
        own = found.value[cells[found.rows[:, 0]] == cell]
        mean = math.exp(np.log(own).mean()) if scale == "log" else own.mean()
        assert judged.mating == pytest.approx(mean, rel=1e-12)
        assert judged.reading is not None
        holder = np.flatnonzero((found.rows == row).any(1))
        assert judged.reading.value == pytest.approx(found.value[holder[0]], rel=1e-12)
    names = zip(results.specimens.specimen, results.specimens.condition, results.specimens.value, strict=True)
    for specimen, condition, value in names:
        rows = np.flatnonzero((table.specimen.codes == specimen) & (table.condition.codes == condition))
        judged = judge_entry(study, entries[: rows[-1]], entries[rows[-1]])
        assert judged.contact is not None
        assert judged.contact.value == pytest.approx(value, rel=1e-9)


def test_a_contacts_uncertainty_is_near_that_of_the_fitted_answer() -> None:
    """No model is fitted at the bench; with equal numbers of matings the pooled scatter is nearly the fitted one."""
    study = study_of(TWO)
    ratios = []
    for seed in range(6):
        entries = bench_entries(TWO, plan_of(TWO, 5, 3, 2, seed), seed)
        results = find_results(
            LoadedStudy(replace(study, scatter="by condition"), table_of_entries(entries), ())
        )
        judged = judge_entry(study, entries[:-1], entries[-1])
        last = entries[-1]
        specimen = results.table.specimen.names.index(last.specimen)
        condition = results.table.condition.names.index(last.condition)
        own = (results.specimens.specimen == specimen) & (results.specimens.condition == condition)
        assert judged.contact is not None
        ratios.append(judged.contact.standard / results.specimens.uncertainty[own][0])
    assert np.exp(np.abs(np.log(ratios)).max()) < 1.25


decimals = st.integers(1, 99999).map(lambda n: f"{n / 1e4:.4f}")


@given(decimals, decimals, st.integers(1000, 30000), st.integers(-3, 3))
def test_a_pair_is_what_the_reduction_makes_of_it(
    forward: str, backward: str, current: int, shift: int
) -> None:
    amperes = f"{current / 100:.2f}"
    one = Entry(
        "A",
        "new",
        mating="1",
        polarity="+",
        voltage=Typed(forward, "mV", "voltage"),
        current=Typed(amperes, "mA", "current"),
    )
    changed = f"-{(current + shift) / 100:.2f}"
    two = replace(
        one,
        polarity="-",
        voltage=Typed(f"-{backward}", "mV", "voltage"),
        current=Typed(changed, "mA", "current"),
    )
    judged = judge_entry(study_of(), [one], two)
    reduced = reduce_readings(table_of_entries([one, two]), study_of().bench, np.arange(2))
    assert judged.reading is not None
    assert judged.reading.value == pytest.approx(float(reduced.value[0]), rel=1e-12)
    plain = (float(forward) + float(backward)) / (float(amperes) - float(changed))
    assert judged.reading.value == pytest.approx(plain, rel=1e-9)
    parts = [
        float(reduced.independent[0]),
        float(reduced.emf[0]),
        *(float(p[0]) for p in reduced.shared.values()),
    ]
    assert judged.reading.standard == pytest.approx(math.hypot(*parts), rel=1e-9)


def turned(entry: Entry) -> Entry:
    """The same reading with the leads of source and voltmeter exchanged."""

    def minus(typed: Typed | None) -> Typed | None:
        assert typed is not None
        text = typed.text[1:] if typed.text.startswith("-") else f"-{typed.text}"
        return replace(typed, text=text)

    polarity = {"+": "-", "-": "+"}[entry.polarity]
    return replace(entry, polarity=polarity, voltage=minus(entry.voltage), current=minus(entry.current))  # type: ignore[arg-type]


def in_micro(entry: Entry) -> Entry:
    """The same reading typed in smaller units."""

    def smaller(typed: Typed | None) -> Typed | None:
        assert typed is not None
        text = f"{float(typed.text) * 1000:.3f}"
        return replace(typed, text=text, unit=typed.unit.replace("m", "µ", 1))

    return replace(entry, voltage=smaller(entry.voltage), current=smaller(entry.current))


@pytest.mark.parametrize("change", [turned, in_micro])
@pytest.mark.parametrize("slip", [None, "2.4512", "0.3600"])
def test_neither_units_nor_the_way_round_change_what_is_said(change, slip: str | None) -> None:  # type: ignore[no-untyped-def]
    entries = bench_entries(TWO, plan_of(TWO, 2, 2, 2, 5), 5)
    for k in range(1, len(entries)):
        entry = entries[k]
        if slip:
            assert entry.voltage is not None
            sign = "-" if entry.polarity == "-" else ""
            entry = replace(entry, voltage=replace(entry.voltage, text=f"{sign}{slip}"))
        plain = judge_entry(study_of(TWO), entries[:k], entry)
        other = judge_entry(study_of(TWO), [change(one) for one in entries[:k]], change(entry))
        assert plain.reading is not None
        assert other.reading is not None
        assert other.reading.value == pytest.approx(plain.reading.value, rel=1e-9)
        assert other.reading.standard == pytest.approx(plain.reading.standard, rel=1e-9)
        assert other.mating == pytest.approx(plain.mating, rel=1e-9)
        assert (other.verdict, other.movement) == (plain.verdict, plain.movement)
        assert [d.code for d in other.doubts] == [d.code for d in plain.doubts]


@pytest.mark.parametrize("times", [0.1, 10.0])
def test_volts_and_amperes_scaled_alike_leave_the_resistance(times: float) -> None:
    """With allowance, limit and dry circuit out of the way only ratios count."""
    study = study_of(TWO, limit=None)
    scaled_study = replace(study, bench=replace(study.bench, emf_allowance=study.bench.emf_allowance * times))
    entries = bench_entries(TWO, plan_of(TWO, 2, 2, 2, 6), 6)

    def scaled(entry: Entry) -> Entry:
        assert entry.voltage is not None
        assert entry.current is not None
        volts, amperes = (f"{float(one.text) * times:.6f}" for one in (entry.voltage, entry.current))
        return replace(
            entry, voltage=replace(entry.voltage, text=volts), current=replace(entry.current, text=amperes)
        )

    for k in range(1, len(entries)):
        plain = judge_entry(study, entries[:k], entries[k])
        other = judge_entry(scaled_study, [scaled(one) for one in entries[:k]], scaled(entries[k]))
        assert plain.reading is not None
        assert other.reading is not None
        assert other.reading.value == pytest.approx(plain.reading.value, rel=1e-9)
        slips = {"UNIT_SLIP", "SLIP_OR_FAULT", "SWAPPED", "JUMPED", "STILL_MOVING", "CURRENTS_DIFFER"}
        assert {d.code for d in other.doubts} & slips == {d.code for d in plain.doubts} & slips


texts = st.one_of(
    st.integers(-99999, 99999).map(lambda n: f"{n / 1e4:.4f}"),
    st.sampled_from(["0", "0.0000", "-0.0", "5", "0.00000000000001", "-123456.7"]),
)


def quantities(units: list[str], dimension: str) -> st.SearchStrategy[Typed | None]:
    return st.none() | st.builds(Typed, texts, st.sampled_from(units), st.just(dimension))


any_entry = st.builds(
    Entry,
    st.sampled_from(["A", "B", "a", "", "A  1"]),
    st.sampled_from(["new", "dark", "", "bar"]),
    st.sampled_from(["", "1"]),
    st.sampled_from(["", "1", "2"]),
    st.sampled_from(["+", "-", "0", ""]),
    quantities(["V", "mV", "µV"], "voltage"),
    quantities(["A", "mA"], "current"),
    st.none() | st.none() | quantities(["Ω", "mΩ"], "resistance"),
    quantities(["°C", "K"], "temperature").map(lambda t: t if t and not t.text.startswith("-") else None),
    others=st.dictionaries(
        st.sampled_from(["plug", "day", "plug condition", "socket condition"]),
        st.sampled_from(["", "x", "y"]),
    ),
)


@given(
    entries=st.lists(any_entry, max_size=8),
    scale=st.sampled_from(["log", "linear"]),
    limit=st.booleans(),
    further=st.sampled_from([(), ("day",)]),
    plating=st.sampled_from([None, "silver"]),
)
@settings(max_examples=300, deadline=None)
def test_no_entry_brings_it_down(
    entries: list[Entry], scale: str, limit: bool, further: tuple[str, ...], plating: str | None
) -> None:
    """Whatever is typed, it is judged; and what was accepted makes a table to judge the next one by."""
    study = Study(
        "?",
        scale=scale,
        limit=LIMIT if limit else None,
        bench=study_of(TRUTH).bench,
        scatter_by=further,
        plating=plating,  # type: ignore[arg-type]
    )
    accepted: list[Entry] = []
    for entry in entries:
        judged = judge_entry(study, accepted, entry)
        assert judged.headline
        assert judged.lines
        if judged.faults:
            assert not judged.accepted
            assert judged.reading is None
            continue
        if judged.reading is not None:
            assert math.isfinite(judged.reading.value)
            assert judged.reading.standard >= 0
        assert all(doubt.rows == (len(accepted) + 2,) or len(doubt.rows) > 1 for doubt in judged.doubts)
        accepted.append(entry)
    if accepted:
        assert len(table_of_entries(accepted)) == len(accepted)
