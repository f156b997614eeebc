"""Takes and standards kept in the records: what is true is found again, and what is wrong is refused."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from tests.unit.work.tone_studies import BY, CONTACT, LEADS, QUESTION, TONES, ToneStudy

from ohmsworth import wiring
from ohmsworth.adapters.simulated.sound import Flaws, TrueContact
from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.report.answer import Answer
from ohmsworth.report.heading import heading
from ohmsworth.units import show_pm
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.check_takes import check_takes
from ohmsworth.work.export_study import export_study
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import import_study
from ohmsworth.work.keep_standard import keep_standard, put_back_standard, withdraw_standard
from ohmsworth.work.keep_take import NewTake, keep_take
from ohmsworth.work.reading_changes import change_reading, correct_reading, undo_last
from ohmsworth.work.records import NewLine, Records
from ohmsworth.work.standards_elsewhere import standards_of_other_studies, take_over_standards
from ohmsworth.work.study_cards import close_study, open_study, study_face
from ohmsworth.work.study_log import STANDARD, TAKEN, fold
from ohmsworth.work.study_tones import plan_tones
from ohmsworth.work.take_doubts import take_doubts
from ohmsworth.work.take_log import StandardTakes
from ohmsworth.work.take_resistance import resistance_at
from ohmsworth.work.take_told import curve_of, entry_of, told_of
from ohmsworth.work.uploads import Upload


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with wiring.open_records(str(tmp_path / "shop.records")) as found:
        yield found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sent")


@pytest.fixture
def bench(records: Records, folder: Path) -> ToneStudy:
    return ToneStudy(records, folder)


def both(first: TrueContact, second: TrueContact = LEADS) -> TrueContact:
    """A contact at the end of leads."""
    return TrueContact(first.resistance + second.resistance, first.inductance + second.inductance)


def change(bench: ToneStudy, number: int, what: str, key: str) -> None:
    change_reading(bench.shop, bench.study, bench.state, number, what, "a plug was loose", BY, key)


def faults(refused: pytest.ExceptionInfo[InputRefused]) -> list[str]:
    return [str(fault) for fault in refused.value.faults]


def test_the_kept_value_covers_what_is_true(bench: ToneStudy) -> None:
    kept = bench.keep()
    low, high = kept.resistance.interval(0.999)
    assert low < CONTACT.resistance < high
    assert high - low < 0.03 * CONTACT.resistance
    (take,) = bench.state.takes
    assert take.reading.number == kept.number
    entry = take.reading.entry
    assert (entry.specimen, entry.condition, entry.mating, entry.operator) == ("D1", "dark", "1", BY)
    assert entry.resistance is not None
    assert entry.resistance.unit == "mΩ"
    # Two digits of the uncertainty, which is about 0.3 % of 8 mΩ.
    assert entry.resistance.text == f"{1e3 * kept.resistance.value:.3f}"
    low, high = kept.resistance.interval(0.95)
    assert kept.sentence.startswith(f"{show_pm(kept.resistance.value, (high - low) / 2, 'Ω')} at ")
    assert "within the limit of 9 mΩ" in kept.sentence
    curve, state = entry_of(take.told)
    assert state.swapped
    # 30 mA are asked for, as a peak; the inputs read 2 % too much and 3 % too little, and the shunt is 0.3 % more than stated.
    assert state.current == pytest.approx(0.03 * 1.02 * 1.003, rel=3e-3)
    assert state.voltage == pytest.approx(0.03 * 0.97 * CONTACT.resistance, rel=0.02)
    assert state.open_circuit is not None
    z = CONTACT.impedance(curve.frequency)
    spread = np.sqrt(curve.covariance()[:, [0, 1], [0, 1]])
    assert (np.abs(curve.value.real - z.real) < 4 * spread[:, 0]).all()
    assert (np.abs(curve.value.imag - z.imag) < 4 * spread[:, 1]).all()
    assert bench.state.counted == ()


def test_a_key_keeps_once(bench: ToneStudy) -> None:
    first, last = bench.keep(), bench.state.last
    again = bench.keep()
    assert again == first
    assert bench.state.last == last


def test_copies_are_refused_until_the_first_is_withdrawn(bench: ToneStudy) -> None:
    kept = bench.keep()
    with pytest.raises(InputRefused) as refused:
        bench.keep("D2", key="second")
    assert [fault.where for fault in refused.value.faults] == ["straight.wav", "swapped.wav"]
    assert "straight.wav of take 1 (D1)" in str(refused.value)
    change(bench, kept.number, "withdraw", "gone")
    second = bench.keep("D2", key="second")
    assert [one.reading.number for one in bench.state.counted_takes] == [second.number]
    with pytest.raises(InputRefused, match=r"of take 2 \(D2\)"):
        change(bench, kept.number, "put back", "back")


def test_two_kinds_from_one_file_are_refused(bench: ToneStudy) -> None:
    sent = bench.sent()
    sent["swapped"] = [Upload("other.wav", sent["straight"][0].path)]
    with pytest.raises(InputRefused, match="very same recording as straight"):
        keep_take(bench.shop, bench.desk, bench.study, bench.state, NewTake("D1", "dark"), sent, BY, "x")


def test_everything_that_is_wrong_is_told_at_once(bench: ToneStudy, tmp_path: Path) -> None:
    (tmp_path / "upload 7").write_bytes(b"no sound at all")
    sent = {"straight": [Upload("noise.wav", tmp_path / "upload 7")], "swapped": bench.sent()["swapped"]}
    last = bench.state.last
    with pytest.raises(InputRefused) as refused:
        keep_take(bench.shop, bench.desk, bench.study, bench.state, NewTake("", ""), sent, BY, "x")  # type: ignore[arg-type]
    assert [fault.where for fault in refused.value.faults] == ["specimen", "condition", "noise.wav"]
    with pytest.raises(InputRefused) as refused:
        keep_take(bench.shop, bench.desk, bench.study, bench.state, NewTake("D1", "dark"), {}, BY, "x")
    assert [fault.where for fault in refused.value.faults] == ["straight"]
    assert bench.state.last == last


def test_takes_connected_otherwise_are_refused(bench: ToneStudy) -> None:
    sent = bench.sent()
    sent["swapped"] = [Upload("swapped.wav", bench.sent(seed=4)["straight"][0].path)]
    with pytest.raises(InputRefused, match=r"swapped\.wav"):
        keep_take(bench.shop, bench.desk, bench.study, bench.state, NewTake("D1", "dark"), sent, BY, "x")


def test_a_doubt_about_the_sound_is_kept_and_told(bench: ToneStudy) -> None:
    kept = bench.keep(flaws=Flaws(flat=0.1), kinds=("straight",))
    codes = {doubt.code for doubt in kept.doubts}
    assert {"CLIPPED", "NO_SWAPPED_TAKE"} <= codes
    assert "CLIPPED" in {code for code, *_ in bench.state.takes[0].told["state"]["doubts"]}
    # Nothing is judged by it, and it counts for nothing until somebody puts it back with a reason.
    assert (kept.grave, kept.verdict) == (True, "")
    assert kept.sentence.startswith("Look at the recording first: ")
    assert "within" not in kept.sentence
    (take,) = bench.state.takes
    assert take.reading.state == "set aside"
    change(bench, kept.number, "put back", "k-anyway")
    assert bench.state.takes[0].reading.state == "used"
    assert bench.keep(flaws=Flaws(flat=0.1), kinds=("straight",)).doubts == kept.doubts


def answered(bench: ToneStudy) -> Answer:
    return answer_study(bench.desk.loaded(bench.study, bench.state))


def test_a_take_in_grave_doubt_that_was_put_back_leads_the_answer(bench: ToneStudy) -> None:
    for i in range(2, 5):
        bench.keep(f"D{i}", key=f"good {i}", seed=i)
    clean = "By tones, at 2.00 kHz: "
    assert answered(bench).sentence.startswith(clean)
    assert "doubt" not in answered(bench).sentence
    bad = bench.keep(flaws=Flaws(flat=0.1), kinds=("straight",))
    assert "doubt" not in answered(bench).sentence
    change(bench, bad.number, "put back", "k-anyway")
    told = answered(bench)
    assert told.sentence.startswith(
        f"{clean}Look at the warnings first: some takes in this answer are in doubt."
    )
    assert heading(told)[0].startswith("check the readings; ")
    (first, *_) = told.actions
    assert first.words.startswith("Before you use this answer, look at the recordings of take 4. ")
    # Whoever says why it is kept all the same has answered the doubt.
    change(bench, bad.number, "keep", "k-keep")
    kept = answered(bench)
    assert "doubt" not in kept.sentence
    assert any(w.code == "CLIPPED" and w.words.endswith("Kept by the owner.") for w in kept.warnings)


def test_takes_in_grave_doubt_beside_direct_current_turn_no_headline_around(bench: ToneStudy) -> None:
    bad = bench.keep(flaws=Flaws(flat=0.1), kinds=("straight",))
    change(bench, bad.number, "put back", "k-anyway")
    assert "most of them are in grave doubt" in answered(bench).sentence
    ohm = Typed("8.1", "mΩ", "resistance")
    line = NewLine("dc", TAKEN, entry=Entry("D1", "dark", resistance=ohm))
    bench.records.add(bench.study, BY, [line], study_face)
    told = answered(bench)
    assert "doubt" not in told.sentence
    assert {w.code: w.rows for w in told.warnings}["CLIPPED"] == ()


def test_names_are_held_to_those_before(bench: ToneStudy) -> None:
    bench.keep()
    with pytest.raises(InputRefused) as refused:
        bench.keep("d1", key="second", seed=2)
    assert [fault.where for fault in refused.value.faults] == ["specimen"]


def test_takes_wait_for_the_tones_and_a_closed_study_takes_none(records: Records, folder: Path) -> None:
    bare = ToneStudy(records, folder, tones="")
    with pytest.raises(InputRefused, match="Plan the tones"):
        bare.keep()
    plan_tones(bare.shop, bare.desk, bare.study, bare.state, TONES, BY, "tones")
    close_study(bare.shop, bare.study, "done", BY, "closed")
    with pytest.raises(InputRefused, match="closed study"):
        bare.keep()
    with pytest.raises(InputRefused, match="closed study"):
        bare.standard("short")


def test_standards_are_taken_off(bench: ToneStudy) -> None:
    short = bench.standard("short")
    told = resistance_at((), curve_of(bench.state.standard_of["short"].told))[1]
    low, high = told.interval(0.95)
    assert low < LEADS.resistance < high
    assert f"The short leaves {show_pm(told.value, (high - low) / 2, 'Ω')} at" in short.sentence
    assert " nH by the tone of 20.0 kHz" in short.sentence
    load = bench.standard("load", seed=2)
    # Lead and load together are 10.3 mΩ; a shunt that is 0.3 % more than stated reads less.
    assert "below the 10 mΩ" in load.sentence
    assert "±0.5 %" in load.sentence
    kept = bench.keep(contact=both(CONTACT), seed=3)
    low, high = kept.resistance.interval(0.999)
    assert low < CONTACT.resistance < high
    # The load says the scale, whatever the shunt is: far nearer than the 0.3 % that the shunt is off.
    assert kept.resistance.value == pytest.approx(CONTACT.resistance, rel=1e-3)
    assert {"noise of the short in step", "load"} <= set(kept.resistance.shared)


def test_what_leaks_past_a_contact_is_taken_off(bench: ToneStudy) -> None:
    with pytest.raises(InputRefused, match="load"):
        bench.standard("open")
    bench.standard("short")
    bench.standard("load", seed=2)
    opened = bench.standard("open", seed=4)
    assert "With nothing in the contact's place 400 mΩ are read" in opened.sentence
    assert {"short", "load", "open"} == set(bench.state.standard_of)
    kept = bench.keep(contact=both(CONTACT), seed=3)
    # Leads in the row, and what leaks across the contact: Zo − Zs in parallel with it, which the take is freed from.
    m, s, load, o = (0.0084, 0.0003, 0.0103, 0.4)
    freed = 0.01 / (load - s) * (o - load) * (m - s) / (o - m)
    assert kept.resistance.value == pytest.approx(freed, rel=1e-3)


def test_a_standard_that_is_withdrawn_is_taken_off_no_more(bench: ToneStudy) -> None:
    first = bench.standard("short")
    raw = both(CONTACT)
    withdraw_standard(bench.shop, bench.study, bench.state, first.number, "wrong lead", BY, "gone")
    withdraw_standard(bench.shop, bench.study, bench.state, first.number, "wrong lead", BY, "gone")
    assert bench.state.standard_of == {}
    kept = bench.keep(contact=raw, seed=3)
    assert kept.resistance.value == pytest.approx(raw.resistance, rel=5e-3)
    with pytest.raises(InputRefused, match="a standard that is used"):
        withdraw_standard(bench.shop, bench.study, bench.state, first.number, "", BY, "again")
    put_back_standard(bench.shop, bench.study, bench.state, first.number, "right lead", BY, "back")
    assert bench.state.standard_of["short"].number == first.number


def test_a_load_needs_a_short_and_its_value(records: Records, folder: Path) -> None:
    bench = ToneStudy(records, folder, tones=TONES.partition("[load]")[0])
    with pytest.raises(InputRefused) as refused:
        bench.standard("load")
    assert any("no table [load]" in told for told in faults(refused))
    assert any("short" in told for told in faults(refused))
    sent = bench.sent(LEADS)
    with pytest.raises(InputRefused, match="short, load or open"):
        keep_standard(bench.shop, bench.desk, bench.study, bench.state, "cold", sent, BY, "x")  # type: ignore[arg-type]


def test_standards_are_taken_over_with_their_own_date(records: Records, folder: Path) -> None:
    first = ToneStudy(records, folder, key="first")
    second = ToneStudy(records, folder, key="second", now=first.now + timedelta(days=12))
    other = ToneStudy(
        records, folder, key="other", tones=TONES.replace('tolerance = "±0.5 %"', 'tolerance = "±1 %"', 1)
    )
    assert standards_of_other_studies(second.shop, second.desk, second.study, second.state) == ()
    first.standard("short")
    # Lines are dated by the store: this study looks at them twelve days later.
    second.now = first.state.standards[0].at + timedelta(days=12)
    assert standards_of_other_studies(other.shop, other.desk, other.study, other.state) == ()
    (offered,) = standards_of_other_studies(second.shop, second.desk, second.study, second.state)
    assert offered.study == first.study
    assert "12 days old" in offered.words
    for _ in range(2):
        told = take_over_standards(
            second.shop, second.desk, second.study, second.state, first.study, BY, "over"
        )
    assert told == ()  # the same ones are in use already
    (mine,) = second.state.standards
    assert mine.of == first.study
    assert mine.at == first.state.standards[0].at
    assert mine.told == first.state.standards[0].told
    with pytest.raises(InputRefused, match="another circuit"):
        take_over_standards(other.shop, other.desk, other.study, other.state, first.study, BY, "no")
    with pytest.raises(InputRefused, match="no takes of short"):
        take_over_standards(second.shop, second.desk, second.study, second.state, other.study, BY, "no")
    kept = second.keep(contact=both(CONTACT), seed=3)
    low, high = kept.resistance.interval(0.999)
    assert low < CONTACT.resistance < high


def test_a_standard_taken_over_names_its_study_by_the_number_it_has_elsewhere(
    records: Records, folder: Path, tmp_path: Path
) -> None:
    first = ToneStudy(records, folder, key="first")
    second = ToneStudy(records, folder, key="second")
    third = ToneStudy(records, folder, key="third")
    first.standard("short")
    for one, source in ((second, first), (third, second)):
        take_over_standards(one.shop, one.desk, one.study, one.state, source.study, BY, f"{one.key}.over")
    assert [one.state.standards[0].of for one in (second, third)] == [first.study, first.study]
    places = {}
    for one in (first, second, third):
        places[one.key] = tmp_path / one.key
        files = export_study(records, one.study, wiring.folder_of, wiring.record_files)
        wiring.write_tree(places[one.key], sorted(files.items()))

    def bring(into: Records, name: str) -> StandardTakes:
        found = wiring.read_study_folder(places[name])
        study = import_study(into, found, BY, face_of, wiring.with_history).study
        (line,) = [one for one in into.lines(study) if one.kind == STANDARD]
        told[name] = line.reason
        return fold(into.lines(study)).standards[0]

    told: dict[str, str] = {}
    with wiring.open_records(str(tmp_path / "other.records")) as other:
        # Others have the numbers that these studies had.
        for number in range(3):
            open_study(wiring.shop(other), QUESTION, (), BY, f"stranger {number}")
        without = bring(other, "third")
        assert (without.of, without.at) == (None, first.state.standards[0].at)
        assert told["third"].startswith("taken over from another study, recorded on")
        assert bring(other, "first").of is None
        here = other.card_of("first")
        assert here not in (None, first.study)
        assert bring(other, "second").of == here
        assert told["second"].startswith(f"taken over from study no. {here}, recorded on")


def test_takes_are_set_aside_withdrawn_and_corrected_like_readings(bench: ToneStudy) -> None:
    number = bench.keep().number
    change(bench, number, "set aside", "aside")
    assert bench.state.takes[0].reading.state == "set aside"
    change(bench, number, "put back", "back")
    change(bench, number, "keep", "kept")
    assert bench.state.takes[0].reading.kept == "a plug was loose"
    entry = bench.state.takes[0].reading.entry
    named = replace(entry, specimen="D7")
    args = (bench.shop, bench.desk, bench.study, bench.state, number)
    assert entry.resistance is not None
    with pytest.raises(InputRefused, match="what the recordings told"):
        correct_reading(
            *args, replace(named, resistance=replace(entry.resistance, text="1")), "typed", BY, "no"
        )
    correct_reading(*args, named, "another one", BY, "named")
    assert bench.state.takes[0].reading.entry.specimen == "D7"
    assert undo_last(bench.shop, bench.study, bench.state, number, BY, "undone").number == number
    assert bench.state.counted_takes == ()


def test_a_study_is_answered_from_its_takes(bench: ToneStudy) -> None:
    for nth, seed in enumerate((1, 2, 3), start=1):
        bench.keep(f"D{nth}", key=f"take {nth}", seed=seed)
    loaded = bench.desk.loaded(bench.study, bench.state)
    assert loaded.impedances is not None
    assert loaded.table.resistance is not None
    assert loaded.table.resistance == pytest.approx(CONTACT.resistance, rel=5e-3)


def test_the_check_standard_is_followed_over_studies(records: Records, folder: Path) -> None:
    first = ToneStudy(records, folder, key="first")
    (none,) = check_takes(first.shop, first.desk, first.study)
    assert (none.takes, none.agrees) == ((), None)
    bar, worn = TrueContact(10.03e-3, 20e-9), TrueContact(10.6e-3, 20e-9)
    kept = first.keep("bar A", "bar A", contact=bar)
    assert "limit" not in kept.sentence
    second = ToneStudy(records, folder, key="second", now=first.now + timedelta(days=3))
    second.keep("bar A", "bar A", contact=bar, seed=2)
    (told,) = check_takes(second.shop, second.desk, second.study)
    assert [one.study for one in told.takes] == [first.study, second.study]
    assert told.agrees
    assert "agrees with the 10 mΩ" in told.sentence
    assert "which noise explains" in told.sentence
    second.now += timedelta(days=1)
    second.keep("bar A", "bar A", key="worn", contact=worn, seed=3)
    (told,) = check_takes(second.shop, second.desk, second.study)
    assert told.agrees is False
    assert "does not agree with the 10 mΩ" in told.sentence
    assert "more than noise explains" in told.sentence


def test_takes_from_before_a_short_are_told(bench: ToneStudy) -> None:
    raw = both(CONTACT)
    bench.keep("D1", key="first", contact=raw, seed=3)
    before = bench.desk.loaded(bench.study, bench.state).impedances
    assert before is not None
    assert before.outdated == {}
    bench.standard("short")
    bench.keep("D2", key="second", contact=raw, seed=4)
    loaded = bench.desk.loaded(bench.study, bench.state)
    assert loaded.impedances is not None
    (doubt,) = [
        one
        for one in take_doubts(loaded.impedances, loaded.study.home)
        if one.code == "TAKES_ANALYSED_OTHERWISE"
    ]
    # The leads are 0.3 mΩ, and only the first take still has them.
    assert doubt.words.startswith("1 take (take 1) kept before the takes of the short")
    assert "The short reads 300 µΩ at" in doubt.words or "The short reads 0.30 mΩ at" in doubt.words
    assert "Send their recordings again" in doubt.mend


def test_how_the_takes_were_measured_is_answered(records: Records, folder: Path) -> None:
    bench = ToneStudy(records, folder, f'reference = "dark"\n{QUESTION}')
    bench.standard("short")
    bench.now += timedelta(days=1)
    bench.standard("load", seed=2)
    for i in range(1, 4):
        bench.keep(f"D{i}", key=f"take {i}", contact=both(CONTACT), seed=10 + i)
    bench.keep("bar A", "bar A", key="bar", contact=both(CONTACT), seed=20, kinds=("straight",))
    found = answered(bench).frequencies
    assert found is not None
    told = found.measured
    assert told is not None
    assert (told.tones, told.shunt, told.shunt_tolerance) == (4, 0.1, 0.005)
    # A rectangle's half-width over √3 (JCGM 100:2008, 4.3.7).
    assert told.shunt_uncertainty == pytest.approx(0.1 * 0.005 / 3**0.5)
    assert (told.load, told.load_tolerance) == (0.01, 0.005)
    assert (told.swapped, told.turned, len(told.takes)) == (3, 0, 4)
    days = {one.standard: (one.takes, one.days) for one in told.standards}
    assert set(days) == {"short", "load", "check"}
    # A take says when it was made; of a standard it is known when it was kept.
    assert days["check"] == (1, (bench.now.astimezone().date().isoformat(),))
    kept = {one.series: (1, (one.at.astimezone().date().isoformat(),)) for one in bench.state.standards}
    assert kept == {series: days[series] for series in ("short", "load")}
    assert all(one.current == pytest.approx(0.03 * 1.02 * 1.003, rel=3e-3) for one in told.takes)
    volts, amperes, opened = told.dry
    assert (volts.verdict, volts.over, volts.known, amperes.verdict) == ("within", 0, 4, "within")
    # 20 Ω in the row and no bridge: an open contact sees the whole output, some 0.6 V.
    assert (opened.verdict, opened.over) == ("over", 4)
    assert opened.largest == pytest.approx(0.03 * (20 + 0.1 + 0.008), rel=0.01)


def test_takes_from_before_the_current_was_kept_still_open(bench: ToneStudy) -> None:
    bench.keep()
    (take,) = bench.state.takes
    state = {k: v for k, v in take.told["state"].items() if k not in ("current", "open_circuit")}
    old = {**take.told, "state": state}
    curve, said = entry_of(old)
    assert (said.current, said.open_circuit) == (None, None)
    assert told_of(curve, said) == old
    assert told_of(*entry_of(take.told)) == take.told
    loaded = bench.desk.loaded(bench.study, bench.state)
    assert loaded.impedances is not None
    before = replace(loaded, impedances=replace(loaded.impedances, states=(said,)))
    found, whole = answer_study(before).frequencies, answered(bench).frequencies
    assert found is not None
    assert found.measured is not None
    assert whole is not None
    assert whole.measured is not None
    volts, amperes, opened = found.measured.dry
    assert (amperes.verdict, amperes.known, amperes.largest) == ("within", 0, None)
    # What tones.toml states tells what the open contact sees; it is what the take was analysed with.
    assert (volts, opened) == (whole.measured.dry[0], whole.measured.dry[2])
