"""Keys that are added to a study.toml stand with the other keys, and each remark stays above what it is about."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from ohmsworth.adapters.files.question_text import revise, write_question
from ohmsworth.adapters.files.record_marks import with_marks
from ohmsworth.work.study_form import MeterForm, StudyForm

FORM = StudyForm(
    question="Do they matter?",
    conditions=("new", "old"),
    limit="3 mΩ",
    voltmeter=MeterForm("0.1 %", "1 µV"),
)
TEXT = write_question(FORM)
#: Remarks that the program writes, each with the line that stands below it.
PAIRS = {
    "# Not to be exceeded": "[limit]",
    "# The meters as": "[bench",
    "# What the bench sheet": "[sheet]",
}


def below(text: str) -> dict[str, str]:
    """The line below each of the remarks."""
    lines = text.splitlines()
    return {
        remark: next((one for one in PAIRS.values() if lines[i + 1].startswith(one)), lines[i + 1])
        for i, line in enumerate(lines)
        for remark in PAIRS
        if line.startswith(remark)
    }


def test_the_text_of_a_form_has_its_remarks_in_place() -> None:
    assert below(TEXT) == PAIRS


def test_marks_stand_with_the_question_and_above_the_remark_of_the_limit() -> None:
    text = with_marks(TEXT, [2], {3: "a slip"})
    assert below(text) == PAIRS
    assert text.index("keep = [2]") < text.index("set_aside") < text.index("# Not to be exceeded")
    assert tomllib.loads(text)["set_aside"] == [{"row": 3, "reason": "a slip"}]


@pytest.mark.parametrize(
    "changed",
    [
        replace(FORM, reference="new", margin="1 mΩ"),
        replace(FORM, limit_source="datasheet"),
        replace(FORM, voltmeter=replace(FORM.voltmeter, note="on loan")),
        replace(FORM, ammeter=MeterForm("0.2 %", "1 mA")),
        replace(FORM, open_circuit_voltage="20 mV"),
        replace(FORM, check_name="bar", check_value="1 mΩ"),
        replace(FORM, specimens="5", seed="4"),
    ],
)
def test_what_a_form_adds_leaves_each_remark_above_its_own(changed: StudyForm) -> None:
    text = revise(TEXT, changed)
    assert below(text) == PAIRS
    assert tomllib.loads(text) == tomllib.loads(write_question(changed))


def test_a_file_without_keys_of_its_own_takes_marks() -> None:
    assert tomllib.loads(with_marks('[limit]\nresistance = "3 mΩ"\n', [2], {})) == {
        "keep": [2],
        "limit": {"resistance": "3 mΩ"},
    }


def test_a_table_in_several_places_still_takes_a_key() -> None:
    text = '[bench.voltmeter]\nresolution = "1 µV"\n\n[limit]\nresistance = "3 mΩ"\n\n[bench.ammeter]\nresolution = "1 mA"\n'
    changed = revise(text, StudyForm(question="", limit="3 mΩ", open_circuit_voltage="20 mV",
                                     voltmeter=MeterForm("", "1 µV"), ammeter=MeterForm("0.2 %", "1 mA")))  # fmt: skip
    assert tomllib.loads(changed)["bench"]["ammeter"] == {"accuracy": "0.2 %", "resolution": "1 mA"}
    assert tomllib.loads(changed)["bench"]["open_circuit_voltage"] == "20 mV"
