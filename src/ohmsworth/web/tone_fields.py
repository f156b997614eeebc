"""What is wished of tones as fields of a form, in groups, each with help in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

from fastapi import Request

from ohmsworth.advice.cautions import TONES_APART, TONES_LOUD, TONES_OUTPUT
from ohmsworth.errors import Fault
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Sent
from ohmsworth.work.tone_form import ToneForm

WAYS = (("together", "all together"), ("in turn", "one after the other: less noise from the same time"))
CHANNELS = (("2", "two alike"), ("1", "one"))
#: Name, what stands beside it, help.
_MEASURED = (
    ("contact", "What you expect of the contact", "about, such as 10 mΩ"),
    ("current", "Current through it", "the peak, such as 20 mA; 6 mA rms for the root mean square"),
    ("uncertainty", "What noise may leave", "a standard uncertainty such as 1 µΩ; the plan then says what it takes"),
)  # fmt: skip
_TONES = (
    ("lowest", "Lowest tone", "such as 20 Hz"),
    ("highest", "Highest tone", "such as 20 kHz"),
    ("number", "How many tones", "1 to 31, in equal steps for the ear"),
    ("way", "How they are played", ""),
    ("time", "How long each take listens", "such as 60 s; longer leaves less noise"),
    ("rate", "Samples a second", "of the interface: 44.1, 48, 88.2, 96, 176.4 or 192 kHz"),
    ("level_check", "How long the level check is", "the tone that the gains are set by; left empty, 10 s"),
)
_OUTPUT = (
    ("output_full_scale", "Peak of the open output", "at full scale, its volume as you leave it; 1.41 times the voltmeter"),
    ("output_channels", "Channels that are played", ""),
)  # fmt: skip
_INPUTS = (
    ("noise", "Noise of each input", "from 20 Hz to 20 kHz, such as 2 µV; or 14 nV/√Hz"),
    ("crosstalk", "Crosstalk between the inputs", "at most, such as -100 dB"),
    ("input_full_scale", "Peak that reads as full scale", "with the gain that you set; leave it empty if not known"),
    ("distortion", "Harmonics that an input makes", "at most; left empty, -100 dB"),
)  # fmt: skip
_CIRCUIT = (
    ("series", "Series resistor", "sets the current; with the output's own resistance"),
    ("bridge", "Bridge", "across shunt and contact: keeps an opening contact below 20 mV; left empty: none"),
    ("shunt", "Shunt", "the known resistance, four terminals, such as 100 mΩ"),
    ("tolerance", "What is not known of the shunt", "such as ±1 %, best from its calibration"),
    ("shunt_inductance", "Its inductance", "such as 5 nH; it matters at the highest tones"),
    ("shunt_inductance_tolerance", "What is not known of that", "such as ±2 nH"),
)  # fmt: skip
_LOAD = (
    ("load", "Known resistor", "in the contact's place, to tell the scale; leave it empty if you have none"),
    ("load_tolerance", "What is not known of it", "such as ±0.5 %"),
)
_GROUPS = (
    ("What you measure", _MEASURED, ()),
    ("The tones", _TONES, ()),
    ("The output", _OUTPUT, (TONES_OUTPUT, TONES_LOUD)),
    ("The inputs", _INPUTS, ()),
    ("The circuit", _CIRCUIT, (TONES_APART,)),
    ("A resistor that checks the scale", _LOAD, ()),
)
_CHOICES = {"way": WAYS, "output_channels": CHANNELS}


@dataclass(frozen=True, slots=True)
class ToneField:
    """One field; `choices` are values with words, none where it is typed."""

    name: str
    label: str
    hint: str
    value: str
    choices: tuple[tuple[str, str], ...]
    fault: str


@dataclass(frozen=True, slots=True)
class ToneGroup:
    """Fields that belong together, and the cautions at this step."""

    legend: str
    fields: tuple[ToneField, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WishesPart:
    """The form of the wishes.

    Parameters
    ----------
    planned
        Whether there is a plan that it changes.
    key
        Of the line that writes it.
    groups
        Its fields.
    turned
        Whether each take is made once more with the sense leads exchanged.
    text
        tones.toml, for whoever writes it by hand.
    faults
        What is wrong and belongs to no field.
    open, by_hand
        Whether the form is unfolded, and the text.
    """

    planned: bool
    key: str
    groups: tuple[ToneGroup, ...]
    turned: bool
    text: str
    faults: tuple[str, ...] = ()
    open: bool = False
    by_hand: bool = False


def read_tone_form(sent: Sent) -> ToneForm:
    """The form as it was filled in."""
    said = {one.name: sent.text(one.name) for one in fields(ToneForm) if one.name != "turned"}
    return ToneForm(**said, turned=sent.text("turned") != "")


def wishes_part(
    request: Request,
    form: ToneForm,
    text: str,
    planned: bool,
    faults: Sequence[Fault] = (),
    by_hand: bool = False,
) -> WishesPart:
    """The form filled in as `form`, beside the `text` that it makes or changes."""
    by_field, others = _sorted(request, faults)
    groups = tuple(
        ToneGroup(legend, tuple(_field(form, by_field, *one) for one in each), cautions)
        for legend, each, cautions in _GROUPS
    )
    key = shop_of(request).new_key()
    return WishesPart(planned, key, groups, form.turned, text, others, bool(faults) or not planned, by_hand)


def _field(form: ToneForm, faults: Mapping[str, str], name: str, label: str, hint: str) -> ToneField:
    value = str(getattr(form, name))
    choices = _CHOICES.get(name, ())
    if choices and value not in dict(choices):
        value = choices[0][0]
    return ToneField(name, label, hint, value, choices, faults.get(name, ""))


def _sorted(request: Request, faults: Sequence[Fault]) -> tuple[dict[str, str], tuple[str, ...]]:
    """What is said beside each field, the first fault of each, and what belongs to none."""
    by_field: dict[str, str] = {}
    others = []
    for fault in faults:
        name = shop_of(request).tone_field(fault)
        if name is None or name == "turned":
            others.append(f"{fault.where}: {fault_words(fault)}")
        else:
            by_field.setdefault(name, fault_words(fault))
    return by_field, tuple(others)
