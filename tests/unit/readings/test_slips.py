"""Planted slips are found, clean readings are left alone."""

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings import Limit, ReadingTable
from ohmsworth.readings.slips import find_slips

LIMIT = Limit(0.003, "data sheet")


def bench(
    seed: int, specimens: int, each: int, within: float = 0.05, between: float = 0.3, conditions: int = 1
) -> tuple[np.ndarray, np.ndarray, list[str], list[str], str]:
    """Voltages and currents of log-normal contacts about 2.6 mΩ, polarity alternating."""
    rng = np.random.default_rng(seed)
    n = specimens * each
    own = np.repeat(2.6e-3 * np.exp(rng.normal(0, between, specimens)), each)
    sign = np.where(np.arange(n) % 2 == 0, 1, -1)
    current = 0.1 * sign * (1 + rng.normal(0, 1e-3, n))
    voltage = own * np.exp(rng.normal(0, within, n)) * current + 1e-6
    specimen = [f"S{i // each}" for i in range(n)]
    condition = [f"C{(i // each) % conditions}" for i in range(n)]
    return voltage, current, specimen, condition, "".join("+" if s > 0 else "-" for s in sign)


def table_of(parts: tuple[np.ndarray, np.ndarray, list[str], list[str], str]) -> ReadingTable:
    voltage, current, specimen, condition, polarity = parts
    return reading_table(polarity, voltage=voltage, current=current, specimen=specimen, condition=condition)


def found(table: ReadingTable, limit: Limit | None = LIMIT) -> dict[str, set[int]]:
    rows: dict[str, set[int]] = {}
    for doubt in find_slips(table, limit):
        rows.setdefault(doubt.code, set()).update(doubt.rows)
    return rows


@pytest.mark.parametrize(("specimens", "each"), [(1, 4), (6, 1), (5, 2), (6, 4), (3, 10)])
@pytest.mark.parametrize("factor", [10.0, 0.1, 1000.0, 0.001, 1e6])
@pytest.mark.parametrize("seed", range(3))
def test_a_slipped_power_of_ten_is_found_in_its_row_alone(
    specimens: int, each: int, factor: float, seed: int
) -> None:
    parts = bench(seed, specimens, each, within=0.03, between=0.1)
    row = seed % len(parts[0])
    parts[0][row] *= factor
    doubts = found(table_of(parts))
    # A specimen's only reading may be the bad contact that was looked for: it is doubted, and stays in.
    assert doubts == {"UNIT_SLIP" if each > 1 else "SLIP_OR_FAULT": {row + 2}}


def test_a_contact_that_is_bad_in_all_its_readings_is_no_slip() -> None:
    voltage, current, specimen, condition, polarity = bench(3, 6, 4)
    voltage[4:8] *= 10
    assert found(table_of((voltage, current, specimen, condition, polarity))) == {}
    voltage, current, specimen, condition, polarity = bench(3, 8, 2, within=0.01, between=0.03)
    voltage[4:6] *= 10
    assert found(table_of((voltage, current, specimen, condition, polarity))) == {"SLIP_OR_FAULT": {6, 7}}


def test_a_mating_that_is_bad_in_all_its_readings_is_no_slip() -> None:
    voltage, current, specimen, condition, polarity = bench(3, 3, 8)
    voltage[6:8] *= 10
    mating = ["1", "1", "2", "2", "3", "3", "4", "4"] * 3
    table = reading_table(
        polarity, voltage=voltage, current=current, specimen=specimen, condition=condition, mating=mating
    )
    assert found(table) == {"SLIP_OR_FAULT": {8, 9}}


def test_two_different_slips_are_told_apart() -> None:
    parts = bench(1, 6, 4)
    parts[0][3] *= 10
    parts[0][9] /= 1000
    words = {doubt.rows: doubt.words for doubt in find_slips(table_of(parts), LIMIT)}
    assert "10 times larger" in words[(5,)]
    assert "1 000 times smaller" in words[(11,)]


@pytest.mark.parametrize("seed", range(5))
def test_an_exchanged_row_is_found(seed: int) -> None:
    parts = bench(seed, 5, 4)
    row = 3 * seed
    parts[0][row], parts[1][row] = parts[1][row], parts[0][row]
    assert found(table_of(parts)) == {"SWAPPED": {row + 2}}


def test_two_columns_exchanged_throughout_are_found() -> None:
    voltage, current, *rest = bench(2, 5, 4)
    table = table_of((current, voltage, *rest))
    assert found(table)["SWAPPED"] == set(range(2, 22))
    assert found(table, None)["SWAPPED"] == set(range(2, 22))


def test_a_two_wire_row_is_found_but_not_called_a_slip() -> None:
    parts = bench(3, 5, 4)
    parts[0][6] += 0.35 * parts[1][6]
    assert found(table_of(parts)) == {"TWO_WIRE": {8}}


def test_leads_in_every_reading_are_found() -> None:
    voltage, current, *rest = bench(4, 5, 4)
    assert found(table_of((voltage + 0.35 * current, current, *rest))) == {"TWO_WIRE": set()}


def test_zero_readings_and_a_dead_reading_raise_nothing_and_break_nothing() -> None:
    parts = bench(5, 4, 4)
    parts[0][2] = 0.0
    voltage, current = np.append(parts[0], 1e-6), np.append(parts[1], 0.0)
    table = reading_table(parts[4] + "0", voltage=voltage, current=current, specimen=[*parts[2], "S0"])
    assert found(table) == {}


def test_readings_in_ohm_are_looked_at_too() -> None:
    table = reading_table("?" * 6, resistance=[0.0026, 0.0027, 0.026, 0.0025, 0.0026, 0.0026])
    assert found(table) == {"UNIT_SLIP": {4}}


def test_a_tenfold_condition_is_a_finding_and_no_slip() -> None:
    parts = bench(6, 10, 3, conditions=2)
    tarnished = np.array([c == "C1" for c in parts[3]])
    parts[0][tarnished] *= 10
    assert found(table_of(parts), Limit(0.05, "x")) == {}


@pytest.mark.parametrize("within", [0.01, 0.1, 0.3])
@pytest.mark.parametrize(("specimens", "each"), [(1, 6), (6, 1), (8, 2), (6, 3), (20, 6)])
def test_clean_readings_raise_no_false_alarm(within: float, specimens: int, each: int) -> None:
    alarms = [found(table_of(bench(seed, specimens, each, within))) for seed in range(60)]
    assert [alarm for alarm in alarms if alarm] == []
