"""Folders of takes that nobody recorded, of a known contact, for the journeys."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files import plan_bytes
from ohmsworth.adapters.simulated.sound import (
    Flaws,
    Input,
    Interface,
    TrueContact,
    TrueShunt,
    Truth,
    simulate,
)
from ohmsworth.adapters.simulated.sound import Take as Connected
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for
from ohmsworth.work.tone_files import KINDS, Kind, Series, stem_of

CIRCUIT = Circuit(Shunt(0.1), series=20.0, output=1.0)
#: Clear of the mains as every plan is, and short.
PLAN = replace(
    plan_for(Wishes(CIRCUIT, 8e-3, 30e-3, tones=9, seconds=3.0, period=0.25, level=0.5)),
    silence=24_000,
    run_in=1,
)
CONTACT = TrueContact(8.1e-3, 20e-9)
SHUNT = TrueShunt(0.1003)
#: Unlike inputs with crosstalk, noise and hum.
INTERFACE = Interface(
    (
        Input(0.02, 1.02, 9e4, 1.0, 0.0, 5e-5, noise=4e-7, hum=4e-6),
        Input(0.02, 0.97, 8e4, 1.5, 0.0, 8e-5, noise=5e-7, hum=2e-6),
    ),
    start=9000.3,
)
TONES = """
contact = "8 mΩ"
current = "30 mA"
[output]
full_scale = "1 V"
[inputs]
crosstalk = "0.01 %"
full_scale = "20 mV"
[circuit]
series = "20 Ω"
[circuit.shunt]
resistance = "100 mΩ"
tolerance = "±0.5 %"
"""
_CONNECTED: dict[Kind, Connected] = dict(
    zip(KINDS, ("straight", "swapped", "turned", "swapped and turned"), strict=True)  # type: ignore[arg-type]
)


def begin(folder: Path, text: str = TONES, plan: TonePlan = PLAN) -> Path:
    """A folder with tones.toml and plan.json."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "tones.toml").write_text(text, "utf-8")
    (folder / "plan.json").write_bytes(plan_bytes(plan))
    return folder


def record(
    folder: Path,
    kinds: Iterable[Kind] = KINDS,
    contact: TrueContact = CONTACT,
    series: Series = "contact",
    interface: Interface = INTERFACE,
    flaws: Flaws | None = None,
    ending: str = ".wav",
    shunt: TrueShunt = SHUNT,
    seed: int = 5,
) -> None:
    """Recordings of one thing in the contact's place."""
    for kind in kinds:
        one = simulate(PLAN, CIRCUIT, Truth(contact, shunt), interface, seed, _CONNECTED[kind], flaws)
        write_recording(folder / f"{stem_of(series, kind)}{ending}", one)


def quiet(interface: Interface = INTERFACE) -> Interface:
    """The same without crosstalk."""
    first, second = (replace(one, crosstalk=0.0) for one in interface.inputs)
    return replace(interface, inputs=(first, second))
