"""The hall's connectors on the day of their delivery, five years before: so that a specimen has a history."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.simulated.bench import Surface, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.folder import (
    OPENING,
    READINGS,
    STUDY,
    bench_text,
    readings_text,
    write_folder,
)
from ohmsworth.adapters.simulated.hall import STAGE

#: The hall's connectors when they were new, five years before.
DELIVERED = "as delivered"
DELIVERED_TRUTH = Truth(
    {DELIVERED: Surface(2.2e-3, response=0.04, mating=0.05, reading=0.003)}, specimen=0.05
)
_SEED = 21
_STUDY = """\
# Invented, as the study of the hall is: the same connectors on the day of their delivery.
question = "Are the stage connectors within the datasheet's limit on delivery?"
plating = "silver"

[limit]
resistance = "3 mΩ"
source = "the connector's datasheet: contact resistance of a mated pair"

{bench}
"""


def write_earlier(folder: Path) -> None:
    """Write the study of the hall's connectors on their delivery into `folder`.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    plan = rounds([(name, DELIVERED) for name in STAGE], 2, 1, _SEED)
    opening = OPENING.replace(2021, 3, 1)
    text = readings_text(read_bench(DELIVERED_TRUTH, plan, _SEED), DELIVERED_TRUTH, opening=opening)
    write_folder(folder, {STUDY: _STUDY.format(bench=bench_text(DELIVERED_TRUTH)), READINGS: text})
