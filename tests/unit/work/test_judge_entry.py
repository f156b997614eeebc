"""What is said of one entry before it is accepted."""

from dataclasses import replace

import numpy as np
import pytest
from tests.judged import reading, study_of

from ohmsworth.readings.check import CheckStandard
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.study import Bench, Limit, Study
from ohmsworth.report.judgement import Judgement
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.entry_notes import TURN
from ohmsworth.work.judge_entry import judge_entry

STUDY = study_of()
PAIR = [reading("0.2500"), reading("-0.2460", "-100.00", "-")]


def codes(judged: Judgement) -> list[str]:
    return [doubt.code for doubt in judged.doubts]


def test_the_first_reading_is_told_with_its_emf_and_asks_for_the_other_direction() -> None:
    judged = judge_entry(STUDY, [], PAIR[0])
    assert judged.accepted
    assert judged.reading is not None
    assert judged.reading.value == pytest.approx(2.5e-3)
    emf = 3e-6 / np.sqrt(3) / 0.1
    volts = np.sqrt(((0.0003 * 250e-6 + 5e-7) ** 2 - (0.0003 * 250e-6) ** 2) / 3) / 0.1
    gain = 0.0003 * 2.5e-3 / np.sqrt(3)
    ampere = 0.002 * 2.5e-3 / np.sqrt(3)
    amperes = 2.5e-3 / 0.1 * np.sqrt(((0.002 * 0.1 + 3e-5) ** 2 - (0.002 * 0.1) ** 2) / 3)
    assert judged.reading.standard == pytest.approx(
        np.sqrt(emf**2 + volts**2 + gain**2 + ampere**2 + amperes**2), rel=1e-12
    )
    assert judged.mostly == "mostly the thermal EMF"
    assert judged.headline == "2.500 ± 0.030 mΩ"
    assert judged.verdict == "within"
    assert judged.movement is None
    assert judged.notes == (TURN,)
    assert "how far re-mating changes it is not known yet" in judged.lines[-1]


def test_the_reversed_partner_cancels_the_offset() -> None:
    judged = judge_entry(STUDY, PAIR[:1], PAIR[1])
    assert judged.reading is not None
    assert judged.reading.value == pytest.approx((0.2500 + 0.2460) / 200)
    assert "thermal EMF" not in judged.reading.parts
    assert judged.lines[0].startswith("From the current forward and reversed")
    assert judged.notes == ()


def test_signs_may_be_left_out_where_the_meters_show_none() -> None:
    signed = judge_entry(STUDY, PAIR[:1], PAIR[1])
    plain = judge_entry(STUDY, PAIR[:1], reading("0.2460", "100.00", "-"))
    assert plain.reading == signed.reading
    assert plain.accepted


@pytest.mark.parametrize(
    ("entry", "code", "hint"),
    [
        (reading("2.512"), "UNIT_SLIP", "0.2512 mV"),
        (reading("0.02512"), "UNIT_SLIP", "0.2512 mV"),
        (reading("251.2"), "UNIT_SLIP", "0.2512 mV"),
        (reading("0.2512", "10.000"), "UNIT_SLIP", "100.00 mA"),
        (reading("0.2512", "100.00", amperes="µA"), "UNIT_SLIP", "100000"),
        (reading("100.00", "0.2512"), "SWAPPED", "0.2512 mV and 100.00 mA"),
        (reading("0.3900"), "JUMPED", "Seat the probes"),
        (reading("13.50"), "TWO_WIRE", "own pair of leads"),
        (reading("0.2512", "60.00"), "CURRENTS_DIFFER", "one current"),
        (reading("-0.0200"), "NEGATIVE", "signs"),
    ],
)
def test_what_is_asked_about_in_the_same_mating(entry: Entry, code: str, hint: str) -> None:
    judged = judge_entry(STUDY, [*PAIR, reading("0.2501")], entry)
    assert code in codes(judged)
    doubt = next(one for one in judged.doubts if one.code == code)
    assert hint in doubt.mend
    assert doubt.rows == (5,)
    assert not judged.accepted
    assert not judged.faults


@pytest.mark.parametrize(("voltage", "asked"), [("1.0029", True), ("1.010", True), ("1.020", False)])
def test_a_voltage_with_the_number_of_the_current_before_is_asked_about(voltage: str, asked: bool) -> None:
    earlier = [reading("2.500", "1.0031", amperes="A")]
    entry = reading(voltage, "1.0031", specimen="N2", amperes="A")
    assert ("CURRENT_AS_VOLTAGE" in codes(judge_entry(STUDY, earlier, entry))) == asked


def test_a_contact_of_one_milliohm_read_at_one_ampere_is_asked_about_once() -> None:
    first = reading("1.0029", "1.0031", amperes="A")
    turned = reading("1.0044", "1.0031", "-", amperes="A")
    mated = reading("1.0061", "1.0031", mating="2", amperes="A")
    assert codes(judge_entry(STUDY, [first], turned)) == []
    assert codes(judge_entry(STUDY, [first, turned], mated)) == []


def test_a_slip_is_told_alone() -> None:
    assert codes(judge_entry(STUDY, PAIR, reading("0.2512", "1000.0"))) == ["UNIT_SLIP"]


def test_a_new_specimen_is_held_against_its_condition() -> None:
    earlier = [reading(v, specimen=s) for s, v in (("N1", "0.2500"), ("N2", "0.2300"), ("N3", "0.2700"))]
    judged = judge_entry(STUDY, earlier, reading("2.450", specimen="N4"))
    assert codes(judged) == ["SLIP_OR_FAULT"]
    assert "the 3 contacts read under this condition" in judged.doubts[0].words
    assert "0.2450 mV" in judged.doubts[0].mend
    assert judge_entry(STUDY, earlier, reading("0.3300", specimen="N4")).accepted


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        (reading("3.500"), "TWO_WIRE"),
        (reading("2.510", volts="V", current="0.1000", amperes="A"), "FAR_FROM_LIMIT"),
        (reading("0.0005"), "FAR_FROM_LIMIT"),
        (reading("100.0", "0.2500"), "SWAPPED"),
    ],
)
def test_the_first_reading_of_all_is_held_against_the_limit(entry: Entry, code: str) -> None:
    assert code in codes(judge_entry(STUDY, [], entry))


def test_without_a_limit_what_no_contact_is_is_asked_about() -> None:
    study = study_of(limit=None)
    assert codes(judge_entry(study, [], reading("0.0010"))) == ["UNLIKELY_SCALE"]
    assert codes(judge_entry(study, [], reading("0.2500", amperes="A"))) == ["UNIT_SLIP"]
    assert judge_entry(study, [], PAIR[0]).accepted


@pytest.mark.parametrize(
    ("entry", "field", "expected"),
    [
        (reading("0.2500", "0.00"), "current", "the current that flowed"),
        (reading("0.2500", "-100.00"), "current", "signs that agree"),
        (reading("-0.2500", "100.00"), "voltage", "same sign"),
        (reading("0.2500", "-100.00", "-"), "voltage", "same sign"),
        (reading("0.2500", specimen=""), "specimen", "the specimen"),
        (reading("0.2500", mating=""), "mating", "the mating"),
        (reading("0.2500", specimen="n1"), "specimen", "as before"),
        (reading("0.2500", specimen="x" * 121), "specimen", "120"),
        (reading("0.0020", "100.00", "0"), "current", "no current"),
        (replace(PAIR[0], current=None), "current", "a number"),
        (replace(PAIR[0], voltage=None), "voltage", "a number"),
        (
            Entry("N1", "new", mating="1", resistance=Typed("2.5", "mΩ", "resistance")),
            "resistance",
            "voltage and current",
        ),
        (replace(PAIR[0], resistance=Typed("2.5", "mΩ", "resistance")), "resistance", "one or the other"),
    ],
)
def test_what_cannot_be_kept_is_a_fault_of_its_field(entry: Entry, field: str, expected: str) -> None:
    judged = judge_entry(STUDY, PAIR, entry)
    assert [fault.where for fault in judged.faults] == [field]
    assert expected in judged.faults[0].expected
    assert not judged.accepted
    assert judged.lines == tuple(map(str, judged.faults))


def test_a_reversed_reading_without_the_usual_minus_was_perhaps_not_reversed() -> None:
    judged = judge_entry(STUDY, [*PAIR, PAIR[0]], reading("0.2460", "100.00", "-"))
    assert codes(judged) == ["NOT_REVERSED"]


def test_the_sheet_asks_for_one_reading_and_no_other() -> None:
    row = SheetRow(3, 1, "", "N1", "new", 1, "-", "")
    assert judge_entry(STUDY, PAIR[:1], PAIR[1], row).accepted
    judged = judge_entry(STUDY, PAIR, PAIR[0], row)
    assert codes(judged) == ["NOT_AS_ASKED"]
    assert "polarity '+', not '-'" in judged.doubts[0].words


def test_a_contact_over_the_limit_is_no_doubt_but_a_verdict() -> None:
    judged = judge_entry(STUDY, [], reading("0.4200"))
    assert judged.accepted
    assert judged.verdict == "over"
    assert judged.probability is not None
    assert judged.probability < 0.001
    near = judge_entry(STUDY, [], reading("0.2995"))
    assert near.verdict == "too close to call"


def test_scatter_between_matings_widens_the_verdict() -> None:
    earlier = [reading(v, mating=str(m)) for m, v in enumerate(("0.2600", "0.3100", "0.2400"))]
    judged = judge_entry(STUDY, earlier, reading("0.2950", mating="9"))
    assert judged.contact is not None
    assert judged.contact.scatter_known
    logs = np.log([0.26, 0.31, 0.24, 0.295])
    assert judged.contact.value == pytest.approx(np.exp(logs.mean()) / 100, rel=1e-12)
    spread = logs.std(ddof=1) / 2
    assert judged.contact.standard / judged.contact.value == pytest.approx(spread, rel=0.02)
    assert judged.verdict == "too close to call"


def test_a_mating_that_moves_is_told_and_then_comes_to_rest() -> None:
    still = [reading(v, mating=str(m)) for m in range(4) for v in ("0.2500", "0.2503", "0.2501", "0.2502")]
    falling = [reading(v, mating="9") for v in ("0.3000", "0.2850", "0.2730", "0.2640")]
    moving = judge_entry(STUDY, [*still, *falling[:-1]], falling[-1])
    assert (moving.movement, codes(moving)) == ("still moving", ["STILL_MOVING"])
    assert moving.verdict == "too close to call"
    rested = judge_entry(STUDY, [*still, *falling], reading("0.2641", mating="9"))
    assert rested.movement == "settled"
    assert rested.accepted
    assert any("moved while it was read" in note for note in rested.notes)
    assert judge_entry(STUDY, still[:-1], still[-1]).movement == "settled"


def test_copied_digits_are_noted_and_then_asked_about() -> None:
    earlier = [reading("0.2512")]
    for _ in range(3):
        judged = judge_entry(STUDY, earlier, reading("0.2512"))
        assert any("same digits" in note for note in judged.notes)
        earlier.append(reading("0.2512"))
    assert codes(judged) == ["COPIED"]


def test_a_wet_circuit_is_asked_about_once() -> None:
    first = reading("2.500", "1000.0")
    assert codes(judge_entry(STUDY, [], first)) == ["OVER_DRY_CURRENT"]
    assert judge_entry(STUDY, [first], reading("-2.504", "-1000.0", "-")).accepted
    hot = judge_entry(study_of(limit=None), [], reading("90.00", "900.0"))
    assert {"OVER_DRY_VOLTAGE", "OVER_DRY_CURRENT", "SPOT_WARM"} <= set(codes(hot))


def test_a_reading_with_the_current_off_is_taken_off() -> None:
    off = reading("0.0021", "0.00", "0")
    judged = judge_entry(STUDY, [], off)
    assert judged.reading is None
    assert judged.headline == "2.10 µV with the current off"
    assert judged.accepted
    after = judge_entry(STUDY, [off], reading("0.2521"))
    assert after.reading is not None
    assert after.reading.value == pytest.approx(2.5e-3)
    assert codes(judge_entry(STUDY, [], reading("0.2500", "0.00", "0"))) == ["OFF_VOLTAGE"]


def test_ohms_as_read_need_no_volts() -> None:
    ohm = Entry("N1", "new", mating="1", polarity="+", resistance=Typed("2.510", "mΩ", "resistance"))
    study = replace(STUDY, bench=Bench(ohmmeter=Accuracy(0.002, 3, 1e-6)))
    judged = judge_entry(study, [], ohm)
    assert judged.reading is not None
    assert judged.reading.value == pytest.approx(2.51e-3)
    assert judged.notes == ()
    slip = replace(ohm, resistance=Typed("25.12", "mΩ", "resistance"))
    assert codes(judge_entry(study, [ohm, ohm], slip)) == ["UNIT_SLIP"]


def test_a_meter_of_unknown_accuracy_counts_to_its_last_digit() -> None:
    judged = judge_entry(Study("?"), [], reading("0.250", "100.0"))
    assert judged.reading is not None
    half = 0.5e-6 / np.sqrt(3) / 0.1
    ampere = 0.05e-3 / np.sqrt(3) / 0.1 * 2.5e-3
    assert judged.reading.parts["meter counts"] == pytest.approx(np.hypot(half, ampere))
    assert "last digit alone" in judged.notes[-1]


def test_the_check_standard_has_no_limit() -> None:
    study = replace(STUDY, check=CheckStandard("bar"), limit=Limit(1e-4, "?"))
    judged = judge_entry(study, [], reading("0.1002", specimen="bar", condition="bar"))
    assert judged.verdict is None
    assert judged.probability is None
