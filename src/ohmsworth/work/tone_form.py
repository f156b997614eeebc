"""What is wished of tones as it is filled in on a page: every field as typed, blank where nothing is said."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ToneForm:
    """The fields of the form, with what a new one begins with; quantities are texts with their unit.

    Parameters
    ----------
    contact, current, uncertainty
        What is expected of the contact, what flows through it (the peak; "6 mA rms" for the root mean square), and what
        noise may leave.
    turned
        Whether every take is made once more with the sense leads exchanged.
    lowest, highest, number, way, time, rate, level_check
        The tones: range, how many, "together" or "in turn", how long, samples a second, how long the level check is.
    output_full_scale, output_channels
        The output: peak at full scale; channels of what is played.
    noise, crosstalk, input_full_scale, distortion
        The inputs; `noise` from 20 Hz to 20 kHz, or in nV/√Hz.
    series, bridge, shunt, tolerance, shunt_inductance, shunt_inductance_tolerance
        The circuit: resistors, and what is known of the shunt.
    load, load_tolerance
        The known resistor whose takes tell the scale.
    """

    contact: str = "10 mΩ"
    current: str = "20 mA"
    uncertainty: str = ""
    turned: bool = False
    lowest: str = "20 Hz"
    highest: str = "20 kHz"
    number: str = "11"
    way: str = "together"
    time: str = "60 s"
    rate: str = "48 kHz"
    level_check: str = ""
    output_full_scale: str = "1.4 V"
    output_channels: str = "2"
    noise: str = "2 µV"
    crosstalk: str = "-100 dB"
    input_full_scale: str = ""
    distortion: str = ""
    series: str = "47 Ω"
    bridge: str = "0.82 Ω"
    shunt: str = "100 mΩ"
    tolerance: str = "±1 %"
    shunt_inductance: str = ""
    shunt_inductance_tolerance: str = ""
    load: str = ""
    load_tolerance: str = ""
