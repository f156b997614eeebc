"""The simulated bench: what was put in comes out, and the answer finds it as often as it promises."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from ohmsworth.adapters.files import load_study
from ohmsworth.adapters.simulated import Mating, Surface, Truth, read_bench, rounds, write_plain
from ohmsworth.errors import ArgumentFault, OutputFault
from ohmsworth.inference.engine import difference
from ohmsworth.inference.measured import difference_parts, measure, with_meters
from ohmsworth.readings import Accuracy
from ohmsworth.readings.moving import find_moving
from ohmsworth.readings.slips import find_slips
from ohmsworth.resistance import SINGLE, reduce_readings

TRUTH = Truth({"bare": Surface(2.3e-3), "dark": Surface(8.1e-3)})
BARE, DARK = "bare", "dark"
#: A bench without any error: what it shows is what is there.
PERFECT = Truth(
    {BARE: Surface(2e-3, 0, 0, 0)},
    specimen=0,
    voltmeter=Accuracy(0, 0, 1e-9),
    ammeter=Accuracy(0, 0, 1e-6),
    current_step=0,
    noise=0,
    emf=0,
    emf_drift=0,
)


def paired(seed: int) -> list[Mating]:
    return [
        mating
        for condition in (BARE, DARK)
        for mating in rounds([(f"s{i}", condition) for i in range(6)], 3, 1, seed)
    ]


def separate(seed: int) -> list[Mating]:
    cells = [(f"b{i}", BARE) for i in range(4)] + [(f"d{i}", DARK) for i in range(7)]
    return rounds(cells, 3, 1, seed)


def unbalanced(seed: int) -> list[Mating]:
    """Separate specimens, some mated once, some four times, with one to three pairs of readings."""
    plan = rounds([(f"b{i}", BARE) for i in range(5)] + [(f"d{i}", DARK) for i in range(6)], 4, 1, seed)
    kept = [m for m in plan if m.number <= 1 + (int(m.specimen[1]) * 2) % 4]
    return [replace(m, pairs=1 + int(m.specimen[1]) % 3) for m in kept]


def test_a_perfect_bench_shows_the_truth() -> None:
    readings = read_bench(PERFECT, [Mating("s1", BARE, 1)], seed=1)
    assert [r.forward for r in readings] == [True, False, True, False]
    assert [r.voltage for r in readings] == pytest.approx([2e-4, -2e-4, 2e-4, -2e-4], rel=1e-12)
    assert [r.current for r in readings] == pytest.approx([0.1, -0.1, 0.1, -0.1], rel=1e-12)


def test_an_emf_is_in_each_reading_and_not_in_a_pair() -> None:
    truth = replace(PERFECT, emf=5e-6)
    first, second = read_bench(truth, [Mating("s1", BARE, 1, pairs=1)], seed=1)
    assert abs(first.voltage / first.current - 2e-3) > 1e-6
    pair = (first.voltage - second.voltage) / (first.current - second.current)
    assert pair == pytest.approx(2e-3, abs=2e-8)  # half a count of 1 nV in each reading


def test_an_unsettled_contact_comes_down_to_its_value() -> None:
    shown = read_bench(PERFECT, [Mating("s1", BARE, 1, pairs=20, excess=0.5)], seed=1)
    resistance = np.array([r.voltage / r.current for r in shown])
    assert np.all(np.diff(resistance) <= 0)
    assert resistance[0] > 1.3 * 2e-3
    assert resistance[-1] == pytest.approx(2e-3, rel=0.01)


def test_the_scatter_is_the_one_asked_for() -> None:
    for part in ("response", "mating"):
        surface = replace(PERFECT.surfaces[BARE], **{part: 0.1})
        truth = replace(PERFECT, surfaces={BARE: surface})
        plan = [Mating(f"s{i}", BARE, 1, pairs=1) for i in range(2000)]
        logs = np.log([r.voltage / r.current for r in read_bench(truth, plan, seed=3) if r.forward])
        assert logs.std() == pytest.approx(0.1, rel=0.08)  # five standard errors of 2000
        assert logs.mean() == pytest.approx(np.log(2e-3), abs=0.012)


def test_the_meters_err_within_what_is_stated_and_alike_in_every_reading() -> None:
    stated = Accuracy(0.01, 0, 1e-9)
    errors = []
    for seed in range(50):
        shown = read_bench(replace(PERFECT, voltmeter=stated), [Mating("s1", BARE, 1)], seed)
        sizes = np.abs([r.voltage for r in shown])
        assert np.ptp(sizes) <= 1.5e-9
        errors.append(sizes[0] / 2e-4 - 1)
    assert max(np.abs(errors)) <= 0.01 + 1e-5
    assert np.std(errors) == pytest.approx(0.01 / np.sqrt(3), rel=0.3)


def test_rounds_mate_every_cell_once_in_an_order_of_its_own() -> None:
    cells = [(f"s{i}", BARE) for i in range(8)]
    plan = rounds(cells, 3, 2, seed=5)
    orders = [[m.specimen for m in plan if m.number == number] for number in (1, 2, 3)]
    assert [m.number for m in plan] == [1] * 8 + [2] * 8 + [3] * 8
    assert all(sorted(order) == [s for s, _ in cells] for order in orders)
    assert orders[0] != orders[1] != orders[2]


def test_a_plan_with_an_unknown_condition_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ArgumentFault, match="wet"):
        write_plain(tmp_path / "study", TRUTH, [Mating("s1", "wet", 1)], seed=1)
    assert not (tmp_path / "study").exists()


@pytest.mark.parametrize(
    "make",
    [
        lambda: Surface(0.0),
        lambda: Surface(1e-3, mating=-0.1),
        lambda: Surface(1e-3, reading=float("nan")),
        lambda: replace(TRUTH, emf=-1e-6),
        lambda: replace(TRUTH, voltmeter=Accuracy(0.01)),
    ],
)
def test_a_truth_that_cannot_be_is_refused(make: Callable[[], object]) -> None:
    with pytest.raises(ArgumentFault):
        make()


def test_a_plain_study_is_written_once_and_reads_as_meant(tmp_path: Path) -> None:
    write_plain(tmp_path, TRUTH, paired(1), seed=1)
    before = (tmp_path / "readings.csv").read_bytes()
    loaded = load_study(tmp_path)
    assert loaded.study.reference == BARE
    assert loaded.study.bench.voltmeter == TRUTH.voltmeter
    assert loaded.study.bench.ammeter == TRUTH.ammeter
    with pytest.raises(OutputFault):
        write_plain(tmp_path, TRUTH, paired(1), seed=2)
    assert (tmp_path / "readings.csv").read_bytes() == before


def test_a_plain_study_raises_no_doubt(tmp_path: Path) -> None:
    for seed in range(20):
        write_plain(tmp_path / str(seed), TRUTH, unbalanced(seed), seed)
        table = load_study(tmp_path / str(seed)).table
        assert find_slips(table, None) == []
        assert find_moving(table) == []


# Of 40 intervals that hold at 95 % fewer than 34 contain the truth in 0.3 % of such runs; the seeds are fixed.
@pytest.mark.parametrize("design", [paired, separate, unbalanced])
def test_the_interval_holds_the_true_ratio_as_often_as_it_says(
    design: Callable[[int], list[Mating]], tmp_path: Path
) -> None:
    held = []
    for seed in range(40):
        folder = tmp_path / str(seed)
        write_plain(folder, TRUTH, design(seed), seed)
        loaded = load_study(folder)
        resistances = reduce_readings(loaded.table, loaded.study.bench, np.arange(len(loaded.table)))
        assert not (resistances.form == SINGLE).any()
        measured = measure(resistances, loaded.study.scale, loaded.study.scatter)
        assert measured.engine is not None
        names = loaded.table.condition.names
        of, against = names.index(DARK), names.index(BARE)
        members = [np.flatnonzero(measured.design.condition == c) for c in (of, against)]
        found = with_meters(difference(measured.engine, of, against), difference_parts(measured, *members))
        low, high = found.interval(loaded.study.coverage)
        held.append(low <= np.log(TRUTH.ratio(DARK, BARE)) <= high)
    assert sum(held) >= 34
