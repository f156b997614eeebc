"""A unit slipped throughout a study, a condition or a specimen is found; honest contacts are left alone."""

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings import Limit, ReadingTable, Study
from ohmsworth.readings.scale import find_unlikely
from ohmsworth.readings.slips import find_slips

LIMIT = Limit(0.003, "data sheet")


def bench(
    seed: int,
    middles: tuple[float, ...] = (2e-3, 8e-3),
    specimens: int = 4,
    between: float = 0.1,
    factor: dict[str, float] | None = None,
    volts: float = 1.0,
    amperes: float = 1.0,
) -> ReadingTable:
    """Four readings of log-normal specimens under each condition; `factor` slips a condition or a specimen."""
    rng = np.random.default_rng(seed)
    specimen, condition, ohm = [], [], []
    for c, middle in enumerate(middles):
        for s in range(specimens):
            name, own = f"C{c}S{s}", middle * np.exp(rng.normal(0, between))
            for slipped, times in (factor or {}).items():
                own *= times if slipped in (name, f"C{c}") else 1
            ohm += list(own * np.exp(rng.normal(0, 0.01, 4)))
            specimen += [name] * 4
            condition += [f"C{c}"] * 4
    current = 0.1 * amperes * np.where(np.arange(len(ohm)) % 2 == 0, 1, -1)
    return reading_table(
        "+-" * (len(ohm) // 2),
        voltage=(np.array(ohm) * current / amperes * volts).tolist(),
        current=current.tolist(),
        specimen=specimen,
        condition=condition,
    )


def found(table: ReadingTable, **study: object) -> dict[str, set[int]]:
    asked = Study("?", **study)  # type: ignore[arg-type]
    return {doubt.code: set(doubt.rows) for doubt in find_unlikely(table, asked)}


def lines(first: int, specimens: int) -> set[int]:
    return set(range(2 + 4 * first, 2 + 4 * (first + specimens)))


def test_milliamperes_under_a_heading_of_amperes() -> None:
    table = bench(1, amperes=1000)
    assert found(table) == {"UNLIKELY_SCALE": set(table.line.tolist())}
    (doubt,) = find_unlikely(table, Study("?"))
    assert "100 A" in doubt.words
    assert "µΩ" in doubt.words


def test_millivolts_under_a_heading_of_volts() -> None:
    table = bench(1, volts=1000)
    assert found(table) == {
        "UNLIKELY_SCALE": lines(4, 4)
    }  # 0.2 V may yet be a film, 0.8 V melts every plating
    assert found(table, plating="tin") == {"UNLIKELY_SCALE": lines(0, 8)}
    assert found(bench(1, (0.02, 0.08), volts=1000), limit=LIMIT)["UNLIKELY_SCALE"] == lines(0, 8)


def test_resistance_far_from_the_limit_in_every_condition() -> None:
    ohm = [12.0] * 4
    assert (
        "3 000 times over"
        in find_unlikely(reading_table("????", resistance=ohm), Study("?", limit=LIMIT))[0].words
    )
    assert find_unlikely(reading_table("????", resistance=ohm), Study("?", limit=Limit(0.1, "x"))) == []
    small = reading_table("????", resistance=[90e-6] * 4)
    assert "100 times under" in find_unlikely(small, Study("?", limit=Limit(0.02, "x")))[0].words
    assert find_unlikely(small, Study("?")) == []


def test_a_generous_limit_and_a_bolted_joint_are_nothing_unlikely() -> None:
    assert found(bench(1), limit=Limit(1.0, "what the amplifier stands")) == {}
    joint = reading_table("????", resistance=[8e-6, 8.1e-6, 8.2e-6, 8e-6])
    assert found(joint, limit=Limit(20e-6, "standard")) == {}
    assert found(joint) == {"UNLIKELY_SCALE": {2, 3, 4, 5}}
    assert find_unlikely(joint, Study("?"), about_zero=True) == []


@pytest.mark.parametrize("factor", [1e3, 1e-3, 1e6])
def test_a_condition_in_another_unit(factor: float) -> None:
    """Of three, the one that stands alone; of two, the one farther from the limit."""
    three = found(bench(2, (2e-3, 1.9e-3, 2e-3), between=0.03, factor={"C2": factor}), limit=LIMIT)
    assert three["WHOLE_CONDITION_OFF"] == lines(8, 4)
    if factor > 1:
        assert found(bench(2, factor={"C1": factor}), limit=LIMIT) == {"WHOLE_CONDITION_OFF": lines(4, 4)}


@pytest.mark.parametrize("factor", [10.0, 0.1, 1e3, 1e-3])
@pytest.mark.parametrize("seed", range(3))
def test_a_specimen_in_another_unit(factor: float, seed: int) -> None:
    table = bench(seed, between=0.03, factor={"C1S2": factor})
    assert found(table, limit=LIMIT) == {"WHOLE_SPECIMEN_OFF": lines(6, 1)}


def test_of_three_specimens_one_may_be_a_thousand_times_off_but_not_ten() -> None:
    assert found(bench(0, specimens=3, factor={"C0S1": 1e3}), limit=LIMIT) == {
        "WHOLE_SPECIMEN_OFF": lines(1, 1)
    }
    assert found(bench(0, specimens=3, between=0.03, factor={"C0S1": 10}), limit=LIMIT) == {}


def test_what_is_told_already_is_not_told_again() -> None:
    table = reading_table(
        "?" * 8,
        resistance=[2e-3, 2.01e-3, 1.99e-3, 2.02e-3, 2e-3, 1.98e-3, 2e-3, 2.0],
        specimen="abcdefgh",
    )
    told = find_slips(table, LIMIT)
    assert [doubt.code for doubt in told] == ["SLIP_OR_FAULT"]
    assert find_unlikely(table, Study("?"), told) == []
    assert found(table) == {"WHOLE_SPECIMEN_OFF": {9}}


@pytest.mark.parametrize("between", [0.05, 0.2, 0.5])
@pytest.mark.parametrize("tarnish", [3.0, 10.0, 30.0, 100.0])
@pytest.mark.parametrize("specimens", [3, 4, 8, 20])
def test_honest_contacts_raise_no_alarm(between: float, tarnish: float, specimens: int) -> None:
    """Ten times clean is no slip, nor is a wide scatter; at most one study in two hundred is doubted."""
    studies = [bench(seed, (2e-3, 2e-3 * tarnish), specimens, between) for seed in range(100)]
    assert sum(bool(found(table, limit=LIMIT)) for table in studies) <= 1


def test_false_alarms_over_many_wide_studies_are_rare() -> None:
    studies = [bench(1000 + seed, (2e-3, 2e-2), 4 + seed % 5, 0.5) for seed in range(1500)]
    assert sum(bool(found(table, limit=LIMIT)) for table in studies) <= 8
