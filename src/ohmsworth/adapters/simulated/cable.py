"""A cable that does not exist, as somebody would have measured it: one bad crimp, and two cores that touch."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np

from ohmsworth.adapters.simulated.folder import write_folder
from ohmsworth.cables.fewest import Asked, next_question
from ohmsworth.materials import conductor_from_text

CABLE, TEST = "cable.toml", "test.csv"
#: Chosen among many for an ordinary outcome.
SEED = 3
WAYS, LENGTH = 8, 40.0
#: The wire with a bad crimp, and what it has too much of, ohm.
BAD, EXCESS = "hot 5", 30e-3
#: Cores that touch, metre from the stage, and ohm of the touch.
TOUCHING, PLACE, TOUCH = ("hot 3", "cold 3"), 27.3, 0.8
_CORE = "0.22 mm² + 2 % lay"
_CONTACT = {"screen": 1, "hot": 2, "cold": 3}
#: Of the wires of one cable among themselves, and of one crimp to the next: ohm.
_COPPER, _CRIMP, _USUAL = 0.001, 1e-3, 4e-3
#: One count of the meter, and what it shows too much of its reading.
_COUNT, _GAIN = 1e-3, 0.0004

_TEXT = """\
# Ohmsworth's demonstration. The cable and its readings are invented: a seeded simulator made them.
#
# Eight balanced lines of 40 m from the stage to the desk, three contacts a way: 1 screen, 2 hot, 3 cold.

name = "stage multicore"
serial = "no. 7"
length = "40 m"
length_tolerance = "1 %"
temperature = "22 °C"
temperature_tolerance = "2 K"

[ends.stage]
connector = "multipin, male"
contacts = ["1-8.1-3", "shell"]   # ways 1 to 8, contacts 1 to 3 of each
contact_resistance = "4 mΩ"       # one mated contact with its crimp, as it usually is
contact_limit = "15 mΩ"           # and at most
allowance = "15 cm"               # cut beyond the length, for stripping and fanning out

[ends.desk]
connector = "multipin, female"
contacts = ["1-8.1-3", "shell"]
contact_resistance = "4 mΩ"
contact_limit = "15 mΩ"
allowance = "15 cm"

[kinds.core]
conductor = "{core}"
tolerance = "5 %"
capacitance = "150 pF/m"          # of one wire against all others

[kinds.screen]
resistance = "42 mΩ/m"
tolerance = "15 %"
role = "screen"

[[wires]]
name = "screen"
from = "stage:1-8.1"
to = "desk:1-8.1"
kind = "screen"

[[wires]]
name = "hot"
from = "stage:1-8.2"
to = "desk:1-8.2"
kind = "core"
pair = "way"
colour = "red"

[[wires]]
name = "cold"
from = "stage:1-8.3"
to = "desk:1-8.3"
kind = "core"
pair = "way"
colour = "blue"

[meter]
accuracy = "0.1 % + 2 counts"
resolution = "1 mΩ"
wires = "four-wire"

[[locate]]                        # the loop of the two cores that touch, read from each end
method = "loop from both ends"
wires = ["hot 3", "cold 3"]
from = "stage"
near = "{near:.3f} Ω ± 10 mΩ"
far = "{far:.3f} Ω ± 10 mΩ"
"""


def write_cable(folder: Path, seed: int = SEED) -> None:
    """Write the cable's ``cable.toml`` and ``test.csv`` into `folder`.

    Parameters
    ----------
    folder
        New, empty, or holding these very files.
    seed
        Of everything that chance decides; the same seed writes the same bytes.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    rng = np.random.default_rng(seed)
    per_metre = {"screen": 42e-3 * 1.03}
    per_metre |= dict.fromkeys(("hot", "cold"), 1.015 * conductor_from_text(_CORE).resistance_per_metre)
    rows = [(f"stage:{way}.{k}", f"desk:{way}.{k}", f"{ohm:.3f}")
            for name, k in _CONTACT.items()
            for way in range(1, WAYS + 1)
            for ohm in [_shown(rng, per_metre[name], f"{name} {way}" == BAD)]]  # fmt: skip
    loop = 2 * per_metre["hot"]
    near, far = (loop * metres + TOUCH for metres in (PLACE, LENGTH - PLACE))
    rows += [(one, other, f"{near:.3f}" if path else "open") for one, other, path in _groups()]
    text = "\n".join(["from,to,resistance [Ω]", *(",".join(row) for row in rows), ""])
    write_folder(folder, {CABLE: _TEXT.format(core=_CORE, near=near, far=far), TEST: text})


def _shown(rng: np.random.Generator, per_metre: float, bad: bool) -> float:
    """What the meter shows of a wire with both its contacts, ohm."""
    copper = per_metre * LENGTH * (1 + _COPPER * float(rng.standard_normal()))
    crimps = float((_USUAL + _CRIMP * rng.standard_normal(2)).sum())
    ohm = copper + crimps + (EXCESS if bad else 0.0)
    return ohm * (1 + _GAIN) + _COUNT * float(rng.uniform(-0.5, 0.5))


def _groups() -> Iterator[tuple[str, str, bool]]:
    """Measurements against touches, each chosen by what those before it showed; whether there was a path."""
    nets = [f"stage:{way}.{k}" for way in range(1, WAYS + 1) for k in (1, 2, 3)] + [
        "stage:shell",
        "desk:shell",
    ]
    one, other = (nets.index(f"stage:{name.split()[1]}.{_CONTACT[name.split()[0]]}") for name in TOUCHING)
    asked: list[Asked] = []
    while (question := next_question(len(nets), asked)) is not None:
        path = {one, other} <= {*question.one, *question.other} and (one in question.one) != (
            other in question.one
        )
        asked.append(Asked(question, path))
        yield " ".join(nets[n] for n in question.one), " ".join(nets[n] for n in question.other), path
