"""Sequences on the practice bench against what is true of its contact."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from tests.adapters.instruments.benches import meter, opened_source, practice

from ohmsworth.adapters.simulated import Contact
from ohmsworth.readings import FORWARD, OFF, REVERSED, Bench, Labels, ReadingTable
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.resistance import reduce_readings
from ohmsworth.resistance.sequence import REVERSAL, SINGLE, THREE, ZERO
from ohmsworth.work.instruments import InstrumentFault, SourceOff, SourceRefused
from ohmsworth.work.read_meters import Meters, read_sequence, read_with_source

ABOUT = Entry("connector 1", "new", mating="1", operator="A")
CODES = {"+": FORWARD, "-": REVERSED, "0": OFF}
#: One count of the voltmeter at 100 mA.
COUNT = 1e-7 / 0.1


def table(entries: list[Entry]) -> ReadingTable:
    same = Labels.of(["1"] * len(entries))
    return ReadingTable(
        line=np.arange(len(entries)),
        specimen=same,
        condition=same,
        contact=None,
        mating=same,
        plug=None,
        socket=None,
        polarity=np.array([CODES[entry.polarity] for entry in entries], np.int8),
        voltage=np.array([entry.voltage.value for entry in entries]),
        current=np.array([entry.current.value for entry in entries]),
        resistance=None,
        time=None,
        temperature=None,
    )


def resistance(entries: list[Entry]) -> tuple[float, int]:
    found = reduce_readings(table(entries), Bench(), np.arange(len(entries)))
    assert len(found) == 1
    return float(found.value[0]), int(found.form[0])


class Setup:
    """A practice bench with its source and meters, and the clock that they share."""

    def __init__(self, bench, clock, source) -> None:
        self.bench, self.clock, self.source = bench, clock, source
        self.meters = Meters(meter(bench), meter(bench, "ammeter"))
        self.kept: list[Entry] = []

    def now(self) -> datetime:
        return datetime(2026, 1, 5, 9, tzinfo=UTC) + timedelta(seconds=self.clock.seconds)

    def read(self, form: str, current: float = 0.1, **how) -> list[Entry]:
        read_with_source(
            self.meters, ABOUT, self.kept.append, self.source, current,
            form=form, sleep=self.clock.sleep, now=self.now, settle=how.pop("settle", 2.0), **how,
        )  # fmt: skip
        return self.kept


@pytest.fixture
def setup(request):
    with practice(request.param) as (bench, clock), opened_source(bench) as source:
        yield Setup(bench, clock, source)


def on(**contact: float):
    return pytest.mark.parametrize("setup", [Contact(**({"noise": 0.0} | contact))], indirect=True)


@on(emf=5e-6)
def test_one_polarity_keeps_the_emf(setup: Setup) -> None:
    found, form = resistance(setup.read("single"))
    assert form == SINGLE
    assert found == pytest.approx(2.35e-3 + 5e-6 / 0.1, abs=COUNT)


@on(emf=5e-6)
@pytest.mark.parametrize(("form", "code"), [("reversal", REVERSAL), ("three", THREE)])
def test_reversal_cancels_the_emf(setup: Setup, form: str, code: int) -> None:
    assert resistance(setup.read(form)) == (pytest.approx(2.35e-3, abs=COUNT), code)


@on(emf=5e-6)
def test_a_zero_reading_takes_the_emf_off_one_polarity(setup: Setup) -> None:
    entries = setup.read("single", zero=True)
    assert [entry.polarity for entry in entries] == ["0", "+"]
    assert resistance(entries) == (pytest.approx(2.35e-3, abs=2 * COUNT), ZERO)


@on(emf=5e-6, drift=1e-6)
def test_three_readings_cancel_a_drift_and_two_do_not(setup: Setup) -> None:
    # 1 µV/s and 2 s between two readings: 2 µV of drift in a difference of 470 µV.
    three, _ = resistance(setup.read("three"))
    assert three == pytest.approx(2.35e-3, abs=COUNT)
    setup.kept.clear()
    two, _ = resistance(setup.read("reversal"))
    assert two == pytest.approx(2.35e-3 - 1e-6 * 2 / 0.2, abs=COUNT)


@on(excess=0.1, relax=5.0)
def test_waiting_lets_a_contact_settle(setup: Setup) -> None:
    soon, _ = resistance(setup.read("reversal", settle=0.5))
    setup.kept.clear()
    late, _ = resistance(setup.read("reversal", settle=40.0))
    assert soon > 2.5e-3
    assert late == pytest.approx(2.35e-3, abs=2 * COUNT)


@on(emf=5e-6)
def test_entries_are_ready_to_keep(setup: Setup) -> None:
    first, second = setup.read("reversal")
    assert (first.specimen, first.condition, first.mating, first.operator) == ("connector 1", "new", "1", "A")
    assert (first.polarity, second.polarity) == ("+", "-")
    assert first.voltage == Typed("0.0002400", "V", "voltage")
    assert second.current == Typed("-0.100000", "A", "current")
    assert second.time - first.time == timedelta(seconds=2)
    assert setup.source.state().output == "off"
    assert not setup.bench.bench.output


@on()
@pytest.mark.parametrize("fault", ["silent", "drop", "garbage", "overload"])
def test_what_was_read_before_a_fault_is_kept_and_the_current_is_off(setup: Setup, fault: str) -> None:
    setup.bench.fault("ammeter", fault)
    real, calls = setup.meters.voltmeter.read, []

    def later() -> Typed:
        calls.append(1)
        if len(calls) == 2:
            setup.bench.fault("voltmeter", fault)
        return real()

    meters = Meters(_Reads(setup.meters.voltmeter, later), set_current=Typed("100", "mA", "current"))
    setup.meters = meters
    with pytest.raises(InstrumentFault):
        setup.read("three")
    assert [entry.polarity for entry in setup.kept] == ["+"]
    assert not setup.bench.bench.output
    assert "broken off" in setup.source.state().why


class _Reads:
    def __init__(self, meter, read) -> None:
        self.profile, self.identification, self.read, self.close = meter.profile, "", read, meter.close


@on()
def test_a_reading_during_which_the_current_went_off_is_not_kept(setup: Setup) -> None:
    real = setup.meters.voltmeter.read

    def lost() -> Typed:
        if setup.kept:
            setup.source.switch_off("the page was lost")
        return real()

    setup.meters = Meters(_Reads(setup.meters.voltmeter, lost), set_current=Typed("100", "mA", "current"))
    with pytest.raises(SourceOff, match="the page was lost"):
        setup.read("reversal")
    assert len(setup.kept) == 1


@on()
def test_records_that_cannot_be_written_end_the_sequence_with_the_current_off(setup: Setup) -> None:
    def full(_: Entry) -> None:
        raise OSError("no space left")

    with pytest.raises(OSError, match="no space"):
        read_with_source(
            setup.meters, ABOUT, full, setup.source, 0.1, form="three", sleep=setup.clock.sleep, now=setup.now
        )
    assert not setup.bench.bench.output


def test_a_source_that_cannot_reverse_has_the_leads_turned_by_a_person() -> None:
    with (
        practice(Contact(noise=0.0, emf=5e-6)) as (bench, clock),
        opened_source(bench, reversible=False) as source,
    ):
        setup = Setup(bench, clock, source)
        with pytest.raises(SourceRefused, match="by hand"):
            setup.read("reversal")
        assert not bench.bench.output
        setup.kept.clear()
        asked: list[tuple[str, bool]] = []

        def turn(sign: str) -> None:
            asked.append((sign, bench.bench.output))
            bench.bench.turn_leads(sign == "-")

        assert resistance(setup.read("three", turn_by_hand=turn))[0] == pytest.approx(2.35e-3, abs=COUNT)
        # The leads were dead whenever a hand was on them.
        assert asked == [("+", False), ("-", False), ("+", False)]


def test_without_a_source_the_person_is_asked_and_a_forgotten_turn_is_seen() -> None:
    with practice(Contact(noise=0.0)) as (bench, clock), opened_source(bench) as source:
        setup = Setup(bench, clock, source)
        source.switch_on(0.1)
        asked: list[str] = []

        def forgets(sign: str) -> None:
            asked.append(sign)

        with pytest.raises(InstrumentFault, match="Was the current turned"):
            read_sequence(
                setup.meters, ABOUT, setup.kept.append,
                form="reversal", turn=forgets, sleep=clock.sleep, now=setup.now, settle=0.0,
            )  # fmt: skip
        assert asked == ["+", "-"]
        assert len(setup.kept) == 1


def test_an_ohmmeter_reads_by_itself_and_leads_count_with_two_wires() -> None:
    with practice(Contact(noise=0.0, emf=0.0)) as (bench, clock):
        setup = Setup(bench, clock, None)
        setup.meters = Meters(ohmmeter=meter(bench, "ohmmeter"))
        read_sequence(
            setup.meters, ABOUT, setup.kept.append,
            form="single", turn=lambda _: None, sleep=clock.sleep, now=setup.now,
        )  # fmt: skip
        assert setup.kept[0].resistance == Typed("0.002350", "Ω", "resistance")
        assert setup.kept[0].voltage is None
        assert meter(bench, "ohmmeter", query="MEASure:RESistance?").read().text == "0.122350"
