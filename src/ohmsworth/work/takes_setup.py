"""How the takes of a study were made, beside what each of them told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import peak
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.tone_files import Kind, Series


@dataclass(frozen=True, slots=True)
class TakesSetup:
    """How takes were made.

    Parameters
    ----------
    shunt
        The known resistance beside the contact.
    load
        The known resistor of the takes of a load; None where none is stated.
    way
        How the tones are played: "together" or "in turn".
    open_circuit
        Peak volts on a contact that opens, as the circuit is stated.
    by_drive
        Whether volts and amperes are those that the drive should give: nobody says what the inputs read as full scale.
    calibrated
        The day of the takes of short, load and open, as tones.toml says it; None where it does not.
    standards
        When the takes of each that is taken off were kept (ISO 8601); "" where nobody knows.
    kinds
        The ways in which each contact was connected, a row of takes.csv each.
    kept
        When the takes of each row were recorded, or else kept (ISO 8601); "" where nobody knows.
    """

    shunt: Shunt
    load: Shunt | None
    way: str
    open_circuit: float
    by_drive: bool
    calibrated: str | None = None
    standards: Mapping[Series, str] = field(default_factory=dict)
    kinds: tuple[tuple[Kind, ...], ...] = ()
    kept: tuple[str, ...] = ()


def setup_of(
    circuit: Circuit,
    known: Known,
    plan: TonePlan,
    standards: Mapping[Series, str],
    kinds: tuple[tuple[Kind, ...], ...],
    kept: tuple[str, ...],
) -> TakesSetup:
    """What tones.toml and plan.json say of it, beside what is known of each standard and each take."""
    return TakesSetup(
        circuit.shunt,
        known.load,
        plan.way,
        circuit.open_circuit(circuit.output * peak(plan)),
        circuit.inputs is None,
        known.calibrated,
        standards,
        kinds,
        kept,
    )
