"""What the recordings of one contact among many say beside its impedance."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TakeState:
    """What the recordings of a contact say beside its impedance.

    Parameters
    ----------
    swapped
        Whether there is a take with the inputs exchanged.
    gains
        Relative difference of the inputs' gains; None without a swapped take.
    voltage
        Largest volts across the contact.
    exceeded
        Limits of a dry circuit that were exceeded: "voltage", "current", "open circuit".
    rest
        "at rest", or what it did instead; None where too little was recorded to tell.
    doubts
        About the sound of its recordings: code, words, what to do.
    current, open_circuit
        Largest amperes through the contact, and peak volts that it would see if it opened; None of takes that were analysed
        before this was kept.
    """

    swapped: bool
    gains: float | None
    voltage: float
    exceeded: tuple[str, ...]
    rest: str | None
    doubts: tuple[tuple[str, str, str], ...] = ()
    current: float | None = None
    open_circuit: float | None = None
