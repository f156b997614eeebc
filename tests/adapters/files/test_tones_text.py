"""A form to tones.toml and back, and what the form does not show."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from ohmsworth.adapters.files import read_tones_text, tone_field, tone_form, tones_text
from ohmsworth.adapters.files.tones_template import TONES_TEMPLATE
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.tone_form import ToneForm

FULL = ToneForm(
    uncertainty="1 µΩ",
    turned=True,
    way="in turn",
    level_check="5 s",
    input_full_scale="0.2 V",
    distortion="-90 dB",
    shunt_inductance="5 nH",
    shunt_inductance_tolerance="±2 nH",
    load="10 mΩ",
    load_tolerance="±0.5 %",
)


def test_a_new_form_is_the_new_file() -> None:
    assert tone_form(TONES_TEMPLATE) == ToneForm()
    assert read_tones_text(tones_text(ToneForm())) == read_tones_text(TONES_TEMPLATE)


@pytest.mark.parametrize(
    "form",
    [
        FULL,
        replace(FULL, current="5 mA rms", noise="14 nV/√Hz"),
        replace(FULL, bridge="", crosstalk="0.01 %"),
    ],
)
def test_what_is_filled_in_comes_back(form: ToneForm) -> None:
    assert tone_form(tones_text(form)) == form
    read_tones_text(tones_text(form))


def test_what_is_left_empty_is_left_out() -> None:
    text = tones_text(replace(ToneForm(), bridge=" ", noise="", crosstalk=""))
    table = tomllib.loads(text)
    assert "bridge" not in table["circuit"]
    assert "inputs" not in table


def test_what_the_form_does_not_show_stays() -> None:
    before = TONES_TEMPLATE.replace('# period = "1 s"', 'period = "2 s"').replace(
        "# [calibration]\n# date", "[calibration]\ndate"
    )
    form = replace(tone_form(before), current="6 mA rms", bridge="", turned=True)
    text = tones_text(form, before)
    table = tomllib.loads(text)
    assert (table["tones"]["period"], str(table["calibration"]["date"])) == ("2 s", "2026-03-03")
    assert "current" not in table
    assert (table["current_rms"], table["turned"]) == ("6 mA", True)
    assert "# evenly spaced on a logarithmic scale" in text
    assert tones_text(replace(form, current="20 mA", bridge="0.82 Ω", turned=False), text) != before
    assert read_tones_text(tones_text(tone_form(before), before)) == read_tones_text(before)
    assert tones_text(tone_form(before), before) == before


def test_a_text_that_cannot_be_read_says_nothing() -> None:
    assert tone_form("contact = ") == replace(tone_form(""), way="together")
    assert tone_form("contact = 7\ncircuit = 3").contact == "7"
    assert tones_text(ToneForm(), "contact = ") == tones_text(ToneForm())


def test_every_fault_finds_its_field() -> None:
    bad = replace(FULL, contact="10", highest="20 kg", output_channels="3", tolerance="", load="x")
    with pytest.raises(InputRefused) as refused:
        read_tones_text(tones_text(bad))
    fields = {tone_field(fault) for fault in refused.value.faults}
    assert fields == {"contact", "highest", "output_channels", "tolerance", "load"}
    missing = Fault("tones.toml, key 'output'", "no such table", "", "")
    assert tone_field(missing) == "output_full_scale"
    assert tone_field(Fault("plan.json", "", "", "")) is None
