"""A study whose contacts were measured with tones: invented takes of contacts that are known."""

from dataclasses import replace
from pathlib import Path

import numpy as np
from tests.unit.resistance.impedance.drives import plan as tones_of

from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files import plan_bytes
from ohmsworth.adapters.simulated.sound import (
    Input,
    Interface,
    Take,
    TrueContact,
    TrueShunt,
    Truth,
    simulate,
)
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt

PLAN = tones_of(4)
CIRCUIT = Circuit(
    Shunt(0.1, tolerance=0.005, inductance=0.0), series=47.0, output=1.4, bridge=0.82, crosstalk=1e-6
)
SHUNT = TrueShunt(0.1002)
INTERFACE = Interface(
    (Input(0.002, 1.004, noise=3e-7), Input(0.002, 0.994, noise=3e-7)), start=3000.3, after=0.2
)
#: A cleaned contact, and one with a film that its capacitance bridges within the tones.
CLEAN = TrueContact(resistance=3e-3, inductance=60e-9)
DARK = TrueContact(resistance=3e-3, inductance=60e-9, film=6e-3, capacitance=0.04)
TRUE = {"clean": CLEAN, "dark": DARK}
#: How far specimens, and matings of one, differ: standard deviations of ln Z.
BETWEEN, WITHIN = 0.06, 0.02
TONES = """\
contact = "9 mΩ"
current = "20 mA"
[inputs]
crosstalk = "-120 dB"
full_scale = "2 mV"
[output]
full_scale = "1.4 V"
[circuit]
series = "47 Ω"
bridge = "0.82 Ω"
[circuit.shunt]
resistance = "100 mΩ"
tolerance = "±0.5 %"
inductance = "0 nH"
"""
STUDY = """\
question = "Do dark contacts matter, and up to which frequency?"
reference = "clean"

[limit]
resistance = "8 mΩ"
source = "invented"

[frequencies]
at = ["80 Hz", "2.5 kHz"]

[[use]]
kind = "balanced line"
length = "50 m"
"""


def scaled(contact: TrueContact, factor: float) -> TrueContact:
    """The same contact with every impedance of it larger by a factor."""
    return replace(
        contact,
        resistance=contact.resistance * factor,
        inductance=contact.inductance * factor,
        film=contact.film * factor,
        capacitance=contact.capacitance / factor,
    )


def write_taken(
    folder: Path, specimens: int = 4, matings: int = 2, seed: int = 3, study: str = STUDY, kinds: int = 2
) -> Path:
    """Write the folder of the study; `kinds` are the ways of connecting each contact that are recorded."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "study.toml").write_text(study, "utf-8")
    (folder / "tones.toml").write_text(TONES, "utf-8")
    (folder / "plan.json").write_bytes(plan_bytes(PLAN))
    (folder / "takes").mkdir(exist_ok=True)
    rng = np.random.default_rng(seed)
    ways: tuple[Take, ...] = ("straight", "swapped")
    rows = ["specimen,condition,mating,straight,swapped"]
    for condition, contact in TRUE.items():
        for specimen in range(1, specimens + 1):
            own = rng.normal(0, BETWEEN)
            for mating in range(1, matings + 1):
                truth = Truth(scaled(contact, float(np.exp(own + rng.normal(0, WITHIN)))), SHUNT)
                names = []
                for way in ways[:kinds]:
                    name = f"takes/{condition}-{specimen}-{mating}-{way}.flac"
                    number = int(rng.integers(2**31))
                    write_recording(folder / name, simulate(PLAN, CIRCUIT, truth, INTERFACE, number, way))
                    names.append(name)
                names += [""] * (2 - kinds)
                rows.append(f"{condition[0].upper()}{specimen},{condition},{mating},{','.join(names)}")
    (folder / "takes.csv").write_text("\n".join(rows) + "\n", "utf-8")
    return folder
