"""A filled-in form as study.toml, and back; and a study.toml that a form changes, the rest of it left alone."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth import wiring
from ohmsworth.adapters.files.template import STUDY_TEMPLATE
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.study_form import MeterForm, StudyForm, UseForm

FULL = StudyForm(
    question='Does "tarnish" matter?',
    conditions=("new", "old"),
    reference="new",
    limit="3 mΩ",
    limit_source="datasheet",
    margin="1 mΩ",
    scale="log",
    plating="silver",
    uses=(
        UseForm("balanced line", "stage", {"length": "30 m", "contacts_near": "4"}),
        UseForm("video"),
    ),
    voltmeter=MeterForm("0.05 % + 5 counts", "0.1 µV", "bench voltmeter"),
    ammeter=MeterForm("0.2 % + 3 counts", "10 µA"),
    open_circuit_voltage="20 mV",
    frequencies=("1 kHz", "2,5 kHz"),
    check_name="check bar",
    check_value="1.0023 mΩ",
    check_uncertainty="0.5 µΩ",
    specimens="6",
    matings="3",
    reversal=False,
    assignment="before and after",
    seed="17",
)
WORDS = st.text(max_size=40)
FIELDS = st.builds(
    StudyForm,
    question=WORDS,
    conditions=st.lists(WORDS, max_size=3).map(tuple),
    reference=WORDS,
    limit=WORDS,
    limit_source=WORDS,
    margin=WORDS,
    scale=WORDS,
    uses=st.lists(
        st.builds(
            UseForm, st.sampled_from(["video", "", "odd"]), WORDS, st.fixed_dictionaries({"length": WORDS})
        ),
        max_size=3,
    ).map(tuple),
    voltmeter=st.builds(MeterForm, WORDS, WORDS, WORDS),
    frequencies=st.lists(WORDS, max_size=3).map(tuple),
    check_name=WORDS,
    specimens=WORDS,
    reversal=st.booleans(),
    seed=st.integers(0, 999).map(str),
)


def plain(form: StudyForm) -> StudyForm:
    """The form as it comes back: blanks single, nothing said where only blanks stand."""

    def line(text: str) -> str:
        return " ".join(text.split())

    changed = {
        name: line(getattr(form, name))
        for name in form.__slots__
        if isinstance(getattr(form, name), str)
    }  # fmt: skip
    uses = tuple(
        UseForm(line(u.kind), line(u.name), {k: line(v) for k, v in u.settings.items() if line(v)})
        for u in form.uses
    )
    meter = MeterForm(*(line(getattr(form.voltmeter, key)) for key in ("accuracy", "resolution", "note")))
    lists = {
        name: tuple(line(one) for one in getattr(form, name) if line(one))
        for name in ("conditions", "frequencies")
    }
    return replace(form, **changed, **lists, uses=uses, voltmeter=meter)


def test_a_whole_form_is_a_study() -> None:
    text = wiring.write_question(FULL)
    study = wiring.read_question_text(text)
    assert study.question == 'Does "tarnish" matter?'
    assert study.limit is not None
    assert study.limit.resistance == 0.003
    assert study.sheet is not None
    assert (study.sheet.conditions, study.sheet.specimens, study.sheet.matings) == (("new", "old"), 6, 3)
    assert (study.sheet.reversal, study.sheet.assignment, study.sheet.seed) == (False, "before and after", 17)
    assert study.uses[0].values["contacts_near"] == 4
    assert study.frequencies == (1000.0, 2500.0)
    assert study.check.value == 0.0010023
    assert study.bench.voltmeter is not None
    assert study.bench.voltmeter.gain == 0.0005
    assert wiring.form_of(text) == FULL
    assert text.startswith("# One question")
    assert text.count("#") >= 6


def test_an_empty_form_is_a_study_too() -> None:
    text = wiring.write_question(StudyForm())
    assert wiring.read_question_text(text).limit is None
    assert wiring.form_of(text) == StudyForm()


@given(FIELDS)
def test_what_was_typed_comes_back(form: StudyForm) -> None:
    text = wiring.write_question(form)
    tomllib.loads(text)
    assert wiring.form_of(text) == plain(form)


@given(FIELDS, FIELDS)
def test_a_revised_text_says_what_the_form_says(old: StudyForm, new: StudyForm) -> None:
    text = wiring.revise_question("# mine\ncoverage = 0.9 # mine too\n" + wiring.write_question(old), new)
    assert text.startswith("# mine\ncoverage = 0.9 # mine too\n")
    assert wiring.form_of(text) == plain(new)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"limit": "3"}, "limit"),
        ({"limit": ""}, "limit"),
        ({"margin": "1 V"}, "margin"),
        ({"reference": "ne"}, "reference"),
        ({"reference": ""}, "reference"),
        ({"specimens": "many"}, "specimens"),
        ({"seed": "-1"}, "seed"),
        ({"assignment": "none"}, "assignment"),
        ({"conditions": ("new", "New")}, "conditions"),
        ({"check_uncertainty": ""}, "check_value"),
        ({"check_name": "old"}, "check_name"),
        ({"plating": "sliver"}, "plating"),
        ({"frequencies": ("1 kHz", "3 mΩ")}, "frequencies"),
        ({"voltmeter": MeterForm("good", "1 µV")}, "voltmeter.accuracy"),
        ({"voltmeter": MeterForm("0.5 % + 3 counts", "1 mA")}, "voltmeter.resolution"),
        ({"voltmeter": MeterForm("", "")}, None),
        ({"uses": (FULL.uses[1], UseForm("balanced line", "", {"length": "30 kg"}))}, "uses.1.length"),
        ({"uses": (UseForm("balnced line"),)}, "uses.0.kind"),
        ({"uses": (UseForm(""),)}, "uses.0.kind"),
    ],
)
def test_a_fault_is_told_by_its_field(changed: dict[str, object], field: str | None) -> None:
    text = wiring.write_question(replace(FULL, **changed))  # type: ignore[arg-type]
    try:
        wiring.read_question_text(text)
        found: set[str | None] = {None}
    except InputRefused as refused:
        found = {wiring.field_of(fault) for fault in refused.faults}
    assert found == {field}


def test_a_fault_elsewhere_is_of_no_field() -> None:
    for where in ("readings.csv, line 3", "study.toml, line 2, column 1", "study.toml, key 'keep'"):
        assert wiring.field_of(Fault(where, "", "", "")) is None


def test_only_what_differs_is_changed() -> None:
    form = wiring.form_of(STUDY_TEMPLATE)
    assert form.voltmeter == MeterForm("0.05 % + 5 counts", "0.1 µV", form.voltmeter.note)
    assert wiring.revise_question(STUDY_TEMPLATE, form) == STUDY_TEMPLATE
    changed = replace(form, limit="4 mΩ", voltmeter=MeterForm("0.1 % + 2 counts", "0.1 µV"))
    text = wiring.revise_question(STUDY_TEMPLATE, changed)
    gone = set(STUDY_TEMPLATE.splitlines()) - set(text.splitlines())
    assert gone == {'resistance = "3 mΩ"', "percent_of_reading = 0.05", "counts = 5"}
    came = set(text.splitlines()) - set(STUDY_TEMPLATE.splitlines())
    assert came == {'resistance = "4 mΩ"', 'accuracy = "0.1 % + 2 counts"'}
    assert wiring.read_question_text(text).bench.voltmeter is not None


def test_circuits_keep_their_remarks() -> None:
    toml = (
        '[[use]]\nkind = "video"  # the screens\n\n'
        '[[use]]\nkind = "balanced line"\nlength = "20 m"  # measured\n# name to come\n'
    )
    form = wiring.form_of(toml)
    longer = replace(form.uses[1], settings={"length": "30 m"})
    text = wiring.revise_question(toml, replace(form, uses=(longer, UseForm("headphone"))))
    assert "the screens" not in text
    assert 'length = "30 m"  # measured' in text
    assert [use.kind for use in wiring.read_question_text(text).uses] == ["balanced line", "headphone"]


def test_a_plan_that_names_conditions_is_kept_in_step() -> None:
    toml = '[plan]\ngoal = "detect"\nconditions = ["a", "b"]\nassignment = "separate"\n'
    form = wiring.form_of(toml)
    assert form.conditions == ("a", "b")
    text = wiring.revise_question(toml, replace(form, conditions=("a", "c"), reference="a"))
    study = wiring.read_question_text(text)
    assert study.plan is not None
    assert study.sheet is not None
    assert study.plan.conditions == study.sheet.conditions == ("a", "c")


def test_a_text_that_is_no_toml_is_written_anew() -> None:
    assert wiring.revise_question("= ?", FULL) == wiring.write_question(FULL)
    assert wiring.form_of("= ?") == StudyForm()


def test_super_tables_take_new_keys() -> None:
    toml = '[bench.voltmeter]\naccuracy = "1 %"\n\n[[use]]\nkind = "video"\n'
    form = replace(wiring.form_of(toml), open_circuit_voltage="20 mV", specimens="4")
    study = wiring.read_question_text(wiring.revise_question(toml, form))
    assert study.bench.open_circuit_voltage == 0.02
    assert study.sheet is not None
    assert study.sheet.specimens == 4


@pytest.mark.parametrize("wrong", ["use = 5", "use = [5]", 'use = "video"', "use = {kind = 'video'}"])
def test_the_form_mends_circuits_that_are_none(wrong: str) -> None:
    mended = tomllib.loads(wiring.revise_question(wrong, FULL))
    assert [one["kind"] for one in mended["use"]] == ["balanced line", "video"]
