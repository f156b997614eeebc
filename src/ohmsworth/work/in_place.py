"""What lies in the contact's place while takes are recorded: how it is put there, and what it does to the level."""

from __future__ import annotations

from ohmsworth.advice.cautions import TONES_OPEN
from ohmsworth.errors import Fault
from ohmsworth.resistance.impedance.circuit import Shunt
from ohmsworth.resistance.impedance.levels import level_of
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes
from ohmsworth.units import show, show_stated
from ohmsworth.work.tone_files import WISHES, Series

#: What a sentence about an input calls it.
IN_PLACE: dict[Series, str] = {"contact": "contact", "short": "short", "load": "load", "open": "open ends"}
#: Takes of a load of which nothing is said.
NO_LOAD = Fault(
    WISHES,
    "no table [load], and takes of a load",
    "what the load is",
    "Add [load] with resistance and tolerance.",
)


def how_placed(series: Series, load: Shunt | None) -> str:
    """What to do with the contact's place; nothing for the contact itself."""
    if series == "short":
        return (
            "Put a short in the contact's place: a short thick piece of copper, the current's leads at its ends, both sense "
            "leads at one and the same spot between them."
        )
    if series == "load":
        size = "" if load is None else f" of {show_stated(load.resistance, 'Ω')}"
        return (
            f"Put the known resistor{size} in the contact's place: the current's leads outside, the sense leads inside, where "
            "its resistance is stated."
        )
    if series == "open":
        return (
            "Take the contact out and put nothing in its place: each sense lead stays joined to the current's lead beside it, "
            "and the two ends lie apart."
        )
    return ""


def caution_of(series: Series, wishes: Wishes, plan: TonePlan) -> str:
    """What to look out for; nothing where it is as with the contact."""
    if series != "open":
        return ""
    volts = show(level_of(plan, wishes.circuit, wishes.contact).open_circuit, "V")
    what = "all of the output, for there is no bridge" if wishes.circuit.bridge is None else "the bridge"
    return f"{TONES_OPEN} They see {what}: {volts} at the peak."


def volts_of(series: Series, wishes: Wishes, load: Shunt | None, plan: TonePlan) -> tuple[float, float]:
    """Peak volts across the shunt and in the contact's place; zero where hardly anything is heard.

    A short has only its own microohms, and with open ends no current flows through the shunt.
    """
    ohm = {"short": 0.0, "load": wishes.contact if load is None else load.resistance}
    level = level_of(plan, wishes.circuit, ohm.get(series, wishes.contact))
    if series == "open":
        return 0.0, level.open_circuit
    return level.shunt_voltage, level.contact_voltage
