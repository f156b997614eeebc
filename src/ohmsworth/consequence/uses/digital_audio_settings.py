"""The settings of a digital audio line."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting, Use, number
from ohmsworth.consequence.uses.cables import (
    CONDUCTOR,
    CORE_CORE,
    CORE_SCREEN,
    INDUCTANCE,
    LENGTH,
    LOSS_TANGENT,
    TEMPERATURE,
    pair_alone,
)
from ohmsworth.consequence.uses.fast_line import check_line
from ohmsworth.consequence.uses.two_conductors import CONTACT_SETTINGS, check_run
from ohmsworth.errors import ArgumentFault

#: Hertz up to which curves are drawn.
HIGHEST = 50e6
#: Hertz above which edges of 5 ns, the fastest that are accepted, have nothing left.
_EDGES = 0.5e9
#: Where a transformer stands.
NONE, AT_RECEIVER, AT_BOTH = "none", "receiver", "both ends"

# One line a setting reads better than one line a value.
# fmt: off
_ENDS = (
    Setting("source_impedance", "Zs", "resistance", 110.0,
            "impedance of the source, against which return loss is told", "AES3", 1.0, 1e4),
    Setting("load_impedance", "Zl", "resistance", 110.0, "impedance of the receiver", "AES3", 1.0, 1e6),
    Setting("rated_impedance", "Zr", "resistance", 110.0,
            "resistance into which the source's volts are stated", "AES3", 1.0, 1e4),
    Setting("source_volts", "Us", "voltage", 2.0,
            "volts of the source into that resistance, peak to peak: AES3 allows 2 to 7 V", "AES3", 0.01, 20.0),
    Setting("sample_rate", "fs", "frequency", 48e3,
            "samples a second of each channel; the shortest pulse is 1/(128 fs)", "IEC60958-4", 8e3, 384e3),
    Setting("rise_time", "tr", "time", 30e-9,
            "rise time of the source's edges, 10 to 90 %: 5 to 30 ns", "AES3-receiver", 5e-9, 200e-9),
    Setting("transformer", "T", "text", AT_RECEIVER,
            "where a transformer is: the low end of the band passes beside it", "practice",
            choices=(NONE, AT_RECEIVER, AT_BOTH)),
    Setting("transformer_inductance", "Lt", "inductance", 2e-3, "inductance of its winding", "practice", 1e-6, 10.0),
    *CONTACT_SETTINGS,
)
_CABLE = (
    replace(LENGTH, highest=2e3),
    CONDUCTOR,
    replace(CORE_CORE, default=15e-12),
    replace(CORE_SCREEN, default=56e-12),
    replace(INDUCTANCE, default=0.49e-6, lowest=1e-9),
    replace(LOSS_TANGENT, default=1e-3),
    TEMPERATURE,
)
_LIMITS = (
    Setting("receiver_minimum", "Umin", "voltage", 0.2,
            "volts that the receiver needs, peak to peak, over half of the shortest pulse", "AES3-receiver", 1e-3, 10.0),
    Setting("limit_margin", "M", "level difference", 6.0,
            "margin over what the receiver needs that is still enough", "practice", 0.0, 60.0),
    Setting("limit_return_loss", "RL", "level difference", 19.0,
            "return loss that is still enough: that of an end of 88 Ω, the lowest that AES3 allows, against 110 Ω",
            "AES3", 1.0, 60.0),
    Setting("limit_jitter", "J", "ratio", 0.25,
            "spread of the edges that a receiver bears, as a part of the shortest pulse", "AES3-receiver", 1e-4, 1.0),
)
# fmt: on
DIGITAL_AUDIO_SETTINGS: tuple[Setting, ...] = _ENDS + _CABLE + _LIMITS


def shortest_pulse(use: Use) -> float:
    """Second of the unit interval: 128 of them in the time of a sample."""
    return 1 / (128 * number(use, "sample_rate"))


def check_digital_audio(use: Use) -> None:
    """Refuse settings that do not make a digital audio line together."""
    check_run(use)
    pulse = shortest_pulse(use)
    if number(use, "rise_time") > pulse:
        wanted = f"at most the shortest pulse, {pulse:g} s"
        raise ArgumentFault("rise_time", use.settings["rise_time"], wanted)
    check_line(use, pair_alone(use), _EDGES)
