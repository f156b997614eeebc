"""One of the hall's dark contacts, measured over frequency with an audio interface that does not exist.

Invented from end to end; what is true stands here, so that what the program says can be held against it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

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
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.tone_files import CARD_PAGE, CARD_PDF, DRIVE, PLAN, WISHES

SEED = 8
#: The metal of a cleaned contact under the film that the dark ones have; a film that thin is bridged far above what is heard.
TARNISHED = TrueContact(resistance=2.4e-3, inductance=14e-9, film=6.6e-3, capacitance=40e-9, scale=0.15)
#: A shunt within what tones.toml states of it.
SHUNT = TrueShunt(0.10011, 6e-9)
#: Two inputs of one interface: alike as such things are.
INTERFACE = Interface(
    (
        Input(0.02, 1.004, 9.1e4, 1.6, 0.0, 4e-6, 2e4, 2e-5, 3.1e-7, 2e-6, 1e-6, 4e-6),
        Input(0.02, 0.993, 8.7e4, 1.9, 2e-9, 6e-6, 2e4, 3e-5, 3.3e-7, -1e-6, 2e-6, 5e-6),
    ),
    start=21_000.4,
    after=0.4,
)
_TAKES: tuple[Take, ...] = ("straight", "swapped")

TONES = """\
# Ohmsworth's demonstration: a dark contact of the stage snake, over frequency. Everything is invented: a seeded simulator made
# the recordings. 'ohmsworth tones' in this folder writes what was played, and the wiring card.

contact = "9 mΩ"
current = "20 mA"

[limit]
resistance = "3 mΩ"
source = "the connector's datasheet: contact resistance of a mated pair"

# The same mating by direct current, before the tones.
[direct]
resistance = "9.02 mΩ"
uncertainty = "20 µΩ"          # standard uncertainty
current = "2 mA"
reversed = true

[tones]
lowest = "20 Hz"
highest = "20 kHz"
number = 11
time = "5 s"                   # short, for a demonstration
rate = "48 kHz"
period = "0.25 s"
level_check = "1 s"

[output]
full_scale = "1.4 V"

[inputs]
noise = "0.3 µV"
crosstalk = "-100 dB"
full_scale = "20 mV"

[circuit]
series = "47 Ω"
bridge = "0.82 Ω"

[circuit.shunt]
resistance = "100 mΩ"
tolerance = "±0.5 %"
inductance = "5 nH"
inductance_tolerance = "±3 nH"
"""


def write_tarnished(
    folder: Path,
    plan_of: Callable[[Path], tuple[TonePlan, Circuit, str]],
    write: Callable[[Path, Recording], None],
    seed: int = SEED,
) -> None:
    """Write tones.toml, plan.json and the recordings into `folder`.

    Parameters
    ----------
    folder
        New, empty, or holding these very files; what `ohmsworth tones` wrote beside them stays.
    plan_of
        Reads tones.toml in a folder: the plan, the circuit and the text of plan.json.
    write
        Writes a recording.

    Raises
    ------
    OutputFault
        When the folder holds anything else, or it cannot be written.
    """
    names = {f"{take}.flac": take for take in _TAKES}
    beside = (PLAN, DRIVE, CARD_PAGE, CARD_PDF, *names)
    write_folder(folder, {WISHES: TONES}, beside)
    plan, circuit, text = plan_of(folder)
    write_folder(folder, {WISHES: TONES, PLAN: text}, beside)
    truth = Truth(TARNISHED, SHUNT)
    for name, take in names.items():
        write(folder / name, simulate(plan, circuit, truth, INTERFACE, seed, take))
