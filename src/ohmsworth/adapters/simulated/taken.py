"""Dark and cleaned contacts over frequency, as a study: contacts, an audio interface and recordings that do not exist.

Invented from end to end; what is true stands here, so that what the program says can be held against it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from ohmsworth.adapters.simulated.folder import write_folder
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
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan

#: Tones from 21 Hz to 2.5 kHz at a low rate: the smallest plan that has everything in it.
CYCLES = (21, 79, 317, 631, 1263, 2517)
RATE = 8000
PLAN = TonePlan(
    rate=RATE,
    period=RATE,
    cycles=np.array(CYCLES),
    amplitudes=np.full(len(CYCLES), 0.06),
    phases=-np.pi * np.arange(len(CYCLES)) ** 2 / len(CYCLES),
    periods=4,
    run_in=1,
    way="together",
    silence=4000,
    level=4000,
    gap=2000,
    mark=2000,
)
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
    folder: Path,
    plan_text: Callable[[TonePlan], str],
    write: Callable[[Path, Recording], None],
    specimens: int = 4,
    matings: int = 2,
    seed: int = 3,
    study: str = STUDY,
    kinds: int = 2,
) -> None:
    """Write study.toml, takes.csv, tones.toml, plan.json and the recordings into `folder`.

    Parameters
    ----------
    folder
        New, empty, or holding these very files.
    plan_text
        A plan as the text of plan.json.
    write
        Writes a recording.
    specimens, matings
        In each condition, of each specimen.
    study
        The text of study.toml.
    kinds
        Ways of connecting each contact that are recorded: straight, or straight and swapped.

    Raises
    ------
    OutputFault
        When the folder holds anything else, or it cannot be written.
    """
    ways: tuple[Take, ...] = ("straight", "swapped")
    rng = np.random.default_rng(seed)
    rows, made = ["specimen,condition,mating,straight,swapped"], []
    for condition, contact in TRUE.items():
        for specimen in range(1, specimens + 1):
            own = rng.normal(0, BETWEEN)
            for mating in range(1, matings + 1):
                truth = Truth(scaled(contact, float(np.exp(own + rng.normal(0, WITHIN)))), SHUNT)
                begin = f"{condition}-{specimen}-{mating}"
                names = [f"{begin}-{way}.flac" for way in ways[:kinds]]
                made += [
                    (name, truth, way, int(rng.integers(2**31)))
                    for name, way in zip(names, ways, strict=False)
                ]
                cells = (*names, *[""] * (len(ways) - kinds))
                rows.append(f"{condition[0].upper()}{specimen},{condition},{mating},{','.join(cells)}")
    texts = {
        "study.toml": study,
        "takes.csv": "\n".join([*rows, ""]),
        "tones.toml": TONES,
        "plan.json": plan_text(PLAN),
    }
    write_folder(folder, texts, tuple(name for name, *_ in made))
    for name, truth, way, number in made:
        write(folder / name, simulate(PLAN, CIRCUIT, truth, INTERFACE, number, way))
