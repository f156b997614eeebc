"""A broken wire of a cable, measured from both ends with an audio interface; none of it exists.

Invented from end to end; what is true stands here, so that what the program says can be held against it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ohmsworth.adapters.simulated.folder import write_folder
from ohmsworth.adapters.simulated.sound import Input, Interface, TrueContact, TrueShunt, Truth, simulate
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.capacitance.loaded import BOTH, OPEN, OPEN_AGAIN, WISHES
from ohmsworth.work.tone_files import CARD_PAGE, CARD_PDF, DRIVE, PLAN

SEED = 11
#: Farad a metre, metres of the cable, and metres from the first end to the break.
PER_METRE, LENGTH, BREAK = 112e-12, 20.0, 13.4


@dataclass(frozen=True, slots=True)
class TrueBench:
    """What is true of everything but the wire: ohm of the resistor and of input 2, farad of input 2 with its leads."""

    resistor: float = 10_040.0
    input_resistance: float = 21_500.0
    input_capacitance: float = 240e-12
    output: float = 75.0


#: Two inputs of one interface: alike as such things are.
INTERFACE = Interface(
    (
        Input(1.0, 1.006, 9.1e4, 1.6, 0.0, 3e-5, common=2e-5, noise=4e-6, hum=2e-5),
        Input(1.0, 0.991, 8.7e4, 1.9, 2e-9, 2e-5, common=3e-5, noise=5e-6, hum=3e-5),
    ),
    start=21_000.4,
    after=0.4,
)

CAPACITANCE = """\
# Ohmsworth's demonstration: a wire that broke inside of its cable. Everything is invented: a seeded simulator made the
# recordings. 'ohmsworth capacitance' in this folder says where the break lies.

leads = "2 pF"

[resistor]
resistance = "10 kΩ"
tolerance = "±1 %"

[tones]
lowest = "200 Hz"
highest = "12 kHz"
number = 9
time = "3 s"                   # short, for a demonstration
rate = "48 kHz"
period = "0.25 s"
level_check = "1 s"

[inputs]
crosstalk = "-80 dB"

[[measured]]
take = "near"
wire = "core 2"
to = "the screen and core 1"
end = "stage"

[[measured]]
take = "far"
wire = "core 2"
to = "the screen and core 1"
end = "desk"
"""


def wire_take(
    plan: TonePlan,
    bench: TrueBench,
    wire: TrueContact | None,
    seed: int,
    both: bool = False,
    interface: Interface = INTERFACE,
) -> Recording:
    """The recording of a wire behind the resistor; of nothing but input and leads where `wire` is None.

    Parameters
    ----------
    plan
        What is played.
    bench
        What is true of the rest.
    wire
        A film of `film` ohm and `capacitance` farad in parallel, or a plain resistance.
    seed
        Of noise and hum.
    both
        Whether both inputs are before the resistor.
    interface
        What records.
    """
    circuit = Circuit(Shunt(bench.resistor), series=bench.output, output=1.0)
    truth = Truth(_behind(bench, wire), TrueShunt(bench.resistor))
    return simulate(plan, circuit, truth, interface, seed, "both before" if both else "along")


def open_wire(capacitance: float, leak: float = 1e12) -> TrueContact:
    """A wire that hangs open: farad, and ohm of a leak beside."""
    return TrueContact(resistance=0.0, film=leak, capacitance=capacitance)


def _behind(bench: TrueBench, wire: TrueContact | None) -> TrueContact:
    """Input 2 with its leads, in parallel with the wire: a resistance with a capacitance across it."""
    siemens, farad = 1 / bench.input_resistance, bench.input_capacitance
    if wire is not None and wire.film:
        siemens, farad = siemens + 1 / wire.film, farad + wire.capacitance
    elif wire is not None:
        siemens += 1 / wire.resistance
    return TrueContact(resistance=0.0, film=1 / siemens, capacitance=farad)


def write_broken_wire(
    folder: Path,
    plan_of: Callable[[Path], tuple[TonePlan, str]],
    write: Callable[[Path, Recording], None],
    seed: int = SEED,
) -> None:
    """Write capacitance.toml, plan.json and the recordings into `folder`.

    Parameters
    ----------
    folder
        New, empty, or holding these very files; what `ohmsworth capacitance` wrote beside them stays.
    plan_of
        Reads capacitance.toml in a folder: the plan, and the text of plan.json.
    write
        Writes a recording.
    seed
        Of noise and hum.

    Raises
    ------
    OutputFault
        When the folder holds anything else, or it cannot be written.
    """
    near, far = (open_wire(PER_METRE * metres) for metres in (BREAK, LENGTH - BREAK))
    wires = {BOTH: None, OPEN: None, "near": near, "far": far, OPEN_AGAIN: None}
    names = {stem: f"{stem}.flac" for stem in wires}
    beside = (PLAN, DRIVE, CARD_PAGE, CARD_PDF, *names.values())
    write_folder(folder, {WISHES: CAPACITANCE}, beside)
    plan, text = plan_of(folder)
    write_folder(folder, {WISHES: CAPACITANCE, PLAN: text}, beside)
    for number, (stem, wire) in enumerate(wires.items()):
        write(folder / names[stem], wire_take(plan, TrueBench(), wire, seed + number, stem == BOTH))
