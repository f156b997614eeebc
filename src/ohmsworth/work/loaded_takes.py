"""The folder of a measurement over frequency, as it is handed to the analysis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ohmsworth.errors import Fault
    from ohmsworth.resistance.impedance.known import Known
    from ohmsworth.resistance.impedance.recording import Recording
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.resistance.impedance.wishes import Wishes
    from ohmsworth.work.tone_files import Kind, Series


@dataclass(frozen=True, slots=True, eq=False)
class LoadedTakes:
    """What the folder of a measurement over frequency holds to be analysed.

    `recordings` are opened and not read yet, by what was in the contact's place and how it was connected; `unused` names sound
    files that are called like none of them, and `faults` tells of recordings that cannot be opened.
    """

    wishes: Wishes
    known: Known
    plan: TonePlan
    recordings: Mapping[tuple[Series, Kind], Recording]
    unused: tuple[str, ...]
    faults: tuple[Fault, ...]
