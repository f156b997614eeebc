"""Contacts that move while being read are told, settled ones are not; copies are told too."""

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings import ReadingTable
from ohmsworth.readings.moving import find_copies, find_moving


def contacts(
    seed: int,
    matings: int,
    each: int,
    *,
    noise: float = 0.002,
    drift: float = 0.0,
    movers: int = 1,
    polarity: str = "+-",
    emf: float = 5e-6,
) -> ReadingTable:
    """The first `movers` matings change by `drift` (relative) over their readings."""
    rng = np.random.default_rng(seed)
    n = matings * each
    number, place = np.arange(n) // each, np.arange(n) % each
    signs = [polarity[p % len(polarity)] for p in place]
    current = np.array([0.1 if s == "+" else -0.1 for s in signs])
    own = 2.6e-3 * np.exp(rng.normal(0, 0.3, matings))[number]
    moving = np.where(number < movers, drift * place / (each - 1), 0)
    voltage = own * np.exp(moving + rng.normal(0, noise, n)) * current + emf
    return reading_table(signs, voltage=voltage, current=current, specimen=[f"S{i}" for i in number])


def rows(table: ReadingTable) -> set[int]:
    return {row for doubt in find_moving(table) for row in doubt.rows}


@pytest.mark.parametrize("polarity", ["+", "+-"])
@pytest.mark.parametrize(("matings", "each"), [(1, 8), (6, 4), (3, 10), (20, 6)])
@pytest.mark.parametrize("drift", [0.15, -0.15])
def test_a_drifting_contact_is_found_and_no_other(
    matings: int, each: int, polarity: str, drift: float
) -> None:
    for seed in range(5):
        table = contacts(seed, matings, each, drift=drift, polarity=polarity)
        assert rows(table) == set(range(2, each + 2))


def test_other_contacts_tell_what_four_readings_of_one_cannot() -> None:
    """The usual scatter about the mean, from six contacts, sees a drift of 12 % at 0.5 % noise."""
    found = [rows(contacts(seed, 6, 4, noise=0.005, drift=0.12)) for seed in range(20)]
    assert sum(one == {2, 3, 4, 5} for one in found) >= 18


def test_contacts_that_all_drift_do_not_hide_each_other() -> None:
    table = contacts(0, 4, 8, drift=0.2, movers=4)
    assert len(find_moving(table)) == 4


def test_a_restless_contact_is_found() -> None:
    table = contacts(1, 8, 6)
    assert table.voltage is not None
    table.voltage[6:12] *= np.exp(0.2 * np.array([1, -1, -1, 1, 1, -1]))
    (doubt,) = find_moving(table)
    assert doubt.rows == tuple(range(8, 14))
    assert "S1" in doubt.words
    assert "will not settle" in doubt.words


@pytest.mark.parametrize("polarity", ["+", "+-"])
@pytest.mark.parametrize(("matings", "each"), [(1, 4), (1, 10), (2, 4), (6, 3), (6, 4), (20, 6)])
@pytest.mark.parametrize("noise", [0.001, 0.02, 0.1])
def test_settled_contacts_raise_hardly_a_false_alarm(
    matings: int, each: int, polarity: str, noise: float
) -> None:
    alarms = sum(
        bool(find_moving(contacts(s, matings, each, noise=noise, polarity=polarity))) for s in range(60)
    )
    assert alarms <= 3  # one in a hundred is meant


def test_a_thermal_emf_is_not_movement() -> None:
    assert find_moving(contacts(2, 5, 6, emf=100e-6)) == []


def test_a_drift_is_found_in_the_order_of_time() -> None:
    steady = contacts(3, 1, 8, drift=0.3)
    assert steady.voltage is not None
    assert steady.current is not None
    order = np.random.default_rng(0).permutation(8)
    shuffled = reading_table(
        [("+-" * 4)[i] for i in order],
        voltage=steady.voltage[order],
        current=steady.current[order],
        time=10.0 * order,
    )
    assert len(find_moving(shuffled)) == 1


@pytest.mark.parametrize("n", [0, 1, 2])
def test_too_few_readings_say_nothing(n: int) -> None:
    assert find_moving(reading_table("+" * n, resistance=[0.002, 0.003][:n])) == []


def test_single_readings_say_nothing() -> None:
    assert find_moving(reading_table("++++", resistance=[1, 2, 3, 4], specimen="abcd")) == []


def test_copies_are_found_whichever_way_the_current_flows() -> None:
    table = reading_table(
        "+-+-+-", voltage=[2.611e-4, -2.611e-4] * 2 + [2.62e-4, -2.63e-4], current=[0.1, -0.1] * 3
    )
    (doubt,) = find_copies(table)
    assert doubt.rows == (2, 3, 4, 5)


def test_copies_are_looked_for_within_a_mating_only() -> None:
    assert find_copies(reading_table("++++", resistance=[2.61e-3] * 4, specimen="aabb")) == []


def test_three_alike_or_two_digits_are_chance() -> None:
    assert find_copies(reading_table("+++", resistance=[2.61e-3] * 3)) == []
    assert find_copies(reading_table("++++", resistance=[2.6e-3] * 4)) == []


def test_an_empty_table_has_no_copies() -> None:
    assert find_copies(reading_table("", resistance=[])) == []
