"""Readings taken from meters at the bench: invented instruments on real sockets, with everything that goes wrong with them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.web.meter_bench import PART, Bench, form_in, meter_bench

from ohmsworth.adapters.simulated import Contact


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with meter_bench(tmp_path) as made:
        yield made


@pytest.fixture
def by_hand(tmp_path: Path) -> Iterator[Bench]:
    """A bench where a person turns the current, which is on."""
    with meter_bench(tmp_path, ("voltmeter", "ammeter")) as made:
        made.practice.bench.output, made.practice.bench.level = True, 0.1
        yield made


def test_a_reading_is_judged_and_kept_with_its_digits_and_its_meters(bench: Bench) -> None:
    text = bench.read()
    (reading,) = bench.kept()
    assert "Kept:" in text
    entry = reading.entry
    assert (entry.voltage.text, entry.voltage.unit) == ("0.0002350", "V")
    assert (entry.current.text, entry.current.unit) == ("0.100000", "A")
    assert (entry.step, entry.polarity, entry.operator) == (1, "+", "Ada")
    assert reading.read_by == {
        "voltage": "SCPI voltmeter (PRACTICE,voltmeter,0,1)",
        "current": "SCPI ammeter (PRACTICE,ammeter,0,1)",
    }
    assert not bench.practice.bench.output
    assert "PRACTICE,voltmeter" in bench.page(f"/studies/1/readings/{reading.number}")


def test_what_somebody_types_next_keeps_its_unit(bench: Bench) -> None:
    bench.read()
    assert "<option selected>mV</option>" in bench.page()


def test_the_source_turns_for_the_step_that_asks_for_it(bench: Bench) -> None:
    bench.read()
    bench.read()
    one, other = bench.kept()
    assert (other.entry.polarity, other.entry.step) == ("-", 2)
    assert other.entry.current.text == "-0.100000"
    assert one.entry.mating == other.entry.mating


@pytest.mark.parametrize(
    ("read", "signs", "steps"),
    [
        ("reversal", ["+", "-"], [1, 2]),
        ("three", ["+", "-", "+"], [1, 2, None]),
        ("zero", ["0", "+"], [None, 1]),
    ],
)
def test_a_sequence_answers_the_steps_that_ask_for_it(
    bench: Bench, read: str, signs: list[str], steps: list[int | None]
) -> None:
    bench.read(read)
    assert [one.entry.polarity for one in bench.kept()] == signs
    assert [one.entry.step for one in bench.kept()] == steps
    assert not bench.practice.bench.output


def test_the_same_press_twice_reads_once(bench: Bench) -> None:
    sent = form_in(bench.page())
    for _ in range(2):
        bench.ended(bench.post("/studies/1/bench/meters", **sent, read="one").text)
    assert len(bench.kept()) == 1


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("drop", "cannot be used"),
        ("late", "no answer"),
        ("silent", "no answer"),
        ("garbage", "no text"),
        ("words", "one number"),
        ("overload", "overload"),
    ],
)
def test_a_meter_that_fails_is_told_and_the_next_reading_is_its_own(
    bench: Bench, kind: str, words: str
) -> None:
    bench.practice.fault("voltmeter", kind)
    text = bench.read()
    assert words in text
    assert bench.kept() == ()
    assert not bench.practice.bench.output
    bench.read()
    assert [one.entry.voltage.text for one in bench.kept()] == ["0.0002350"]


def test_a_meter_that_is_gone_in_the_middle_loses_nothing(bench: Bench) -> None:
    bench.read()
    bench.practice.vanish("voltmeter")
    assert "SCPI voltmeter at" in bench.read()
    typed = form_in(bench.page()) | {
        "voltage": "-0.235",
        "voltage_unit": "mV",
        "current": "100",
        "current_unit": "mA",
    }
    assert bench.post("/studies/1/bench", **typed).status_code == 200
    bench.practice.return_to("voltmeter")
    bench.read()
    assert len(bench.kept()) == 3


def test_a_sequence_keeps_what_it_has_read(by_hand: Bench) -> None:
    by_hand.turned_to(by_hand.begin("reversal").text, "Turn the current round")
    by_hand.practice.fault("voltmeter", "silent")
    text = by_hand.ended(by_hand.post("/studies/1/bench/reading/turned").text)
    assert "no answer" in text
    assert "1 reading is kept" in text
    assert [one.entry.polarity for one in by_hand.kept()] == ["+"]


def test_a_doubt_stops_the_sequence_and_asks(bench: Bench) -> None:
    bench.read("reversal")
    bench.practice.bench.close_contact(Contact(resistance=0.0235, emf=0.0, noise=0.0))
    bench.practice.bench.compliance = 1.0
    text = bench.read("reversal")
    assert "Not kept yet" in text
    assert len(bench.kept()) == 2
    assert not bench.practice.bench.output
    sent = form_in(text)
    figures = {name: re.search(rf'name="{name}" value="([^"]*)"', text)[1] for name in ("voltage", "current")}
    answer = bench.post(
        "/studies/1/bench",
        **sent,
        **figures,
        voltage_unit="V",
        current_unit="A",
        keep="yes",
        anyway="it is so",
    )
    assert answer.status_code == 200
    last = bench.kept()[-1]
    assert (last.kept, last.read_by["voltage"][:14]) == ("it is so", "SCPI voltmeter")


def test_figures_that_are_typed_over_are_not_the_meters(bench: Bench) -> None:
    bench.read("reversal")
    bench.practice.bench.close_contact(Contact(resistance=0.0235, emf=0.0, noise=0.0))
    sent = form_in(bench.read("reversal")) | {
        "voltage": "0.235",
        "voltage_unit": "mV",
        "current": "100",
        "current_unit": "mA",
    }
    assert bench.post("/studies/1/bench", **sent).status_code == 200
    assert bench.kept()[-1].read_by == {}


def test_the_person_turns_and_presses_enter(by_hand: Bench) -> None:
    text = by_hand.turned_to(by_hand.begin("reversal").text, "Turn the current round")
    assert len(by_hand.kept()) == 1
    assert 'id="turned"' in text
    by_hand.ended(by_hand.post("/studies/1/bench/reading/turned").text)
    assert [one.entry.polarity for one in by_hand.kept()] == ["+", "-"]


def test_stopped_while_the_person_turns(by_hand: Bench) -> None:
    by_hand.turned_to(by_hand.begin("reversal").text, "Turn the current round")
    text = by_hand.ended(by_hand.post("/studies/1/bench/reading/stop").text)
    assert "Stopped." in text
    assert "1 reading is kept" in text
    assert len(by_hand.kept()) == 1


def test_a_current_with_the_wrong_sign_is_no_reading(by_hand: Bench) -> None:
    by_hand.read()
    assert "a current with a minus sign" in by_hand.read()
    assert len(by_hand.kept()) == 1


def test_two_pages_do_not_read_at_once(by_hand: Bench) -> None:
    sent = form_in(by_hand.page())
    by_hand.turned_to(by_hand.begin("reversal").text, "Turn the current round")
    answer = by_hand.post("/studies/1/bench/meters", **(sent | {"key": "another"}), read="one")
    assert answer.status_code == 422
    assert "meters that nobody reads" in answer.text
    by_hand.post("/studies/1/bench/reading/stop")


def test_a_milliohm_meter(tmp_path: Path) -> None:
    with meter_bench(tmp_path, ("ohmmeter",)) as bench:
        bench.read()
        (reading,) = bench.kept()
        assert (reading.entry.resistance.text, reading.entry.resistance.unit) == ("0.002350", "Ω")


def test_nothing_changes_for_a_bench_without_meters(tmp_path: Path) -> None:
    with meter_bench(tmp_path, ()) as bench:
        text = bench.page()
        assert 'id="read-meters"' not in text
        assert "Take them from a meter" in text
        answer = bench.begin()
        assert answer.status_code == 422
        assert "none that is connected" in answer.text


def test_a_meter_is_connected_tried_and_remembered(tmp_path: Path) -> None:
    with meter_bench(tmp_path, ()) as bench:
        assert "a &lt;serial&gt; line" in bench.page("/meters/live?ports=yes")
        text = bench.post(
            "/meters/live/voltmeter",
            do="connect", profile="SCPI voltmeter", address=bench.practice.addresses["voltmeter"],
        ).text  # fmt: skip
        assert "PRACTICE,voltmeter,0,1" in text
        assert re.search(r"It shows <strong>-?[0-9.]+ V</strong>", text)
        assert "instruments at the test" in bench.records.settings()
        assert 'id="read-meters"' in bench.page()
        assert bench.post("/meters/live/voltmeter", do="let go").status_code == 303
        assert 'id="read-meters"' not in bench.page()


@pytest.mark.parametrize(
    ("role", "given", "words"),
    [
        ("voltmeter", {"profile": "SCPI ammeter"}, "a profile of a voltmeter"),
        ("voltmeter", {"profile": "SCPI voltmeter", "address": "nowhere"}, "host and port"),
        ("voltmeter", {"profile": "SCPI voltmeter", "address": ""}, "nothing"),
        ("source", {"profile": "SCPI current source"}, "largest voltage: found nothing"),
        ("source", {"profile": "SCPI current source", "most_current": "2 A", "most_voltage": "20 mV"}, "reason"),
        (
            "source",
            {"profile": "SCPI current source", "most_current": "100 A", "most_voltage": "20 mV", "reason": "x"},
            "10 A",
        ),
        (
            "source",
            {"profile": "SCPI current source", "most_current": "5 mA", "most_voltage": "20 mV"},
            "at most 5 mA",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_connected_is_told(
    tmp_path: Path, role: str, given: dict[str, str], words: str
) -> None:
    with meter_bench(tmp_path, ()) as bench:
        sent = {"address": "127.0.0.1:9", "level": "10 mA", **given}
        answer = bench.post(f"/meters/live/{role}", do="connect", **sent)
        assert answer.status_code == 422
        assert words in answer.text


def test_the_card_of_a_meter_gives_its_accuracy_to_new_studies(tmp_path: Path) -> None:
    with meter_bench(tmp_path, ()) as bench:
        bench.post(
            "/cards/new/meters",
            **{
                "key": "card", "name": "left voltmeter", "measures": "voltage", "profile": "SCPI voltmeter",
                "address": bench.practice.addresses["voltmeter"], "ranges.1.up_to": "200 mV",
                "ranges.1.accuracy": "0.5 % + 3 counts", "ranges.1.resolution": "10 µV",
            },
        )  # fmt: skip
        text = bench.post("/meters/live/voltmeter", do="connect", profile="", address="", card="2").text
        assert "PRACTICE,voltmeter" in text
        assert 'value="0.5 % + 3 counts"' in bench.page("/studies/new")
        assert "On this bench" in bench.page("/meters")


def test_the_parts_keep_to_the_policy(by_hand: Bench) -> None:
    assert "None is connected" in by_hand.page("/meters/source/part", **PART)
    by_hand.turned_to(by_hand.begin("reversal").text, "Turn the current round")
    run = re.search(r"run=([^&\"]+)", by_hand.page())
    assert run
    by_hand.page(f"/studies/1/bench/reading?run={run[1]}", **PART)
    by_hand.post("/studies/1/bench/reading/stop")
