"""How far the program may turn a current source up: never without a stated current and voltage."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused, QuantityFault, shorten
from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.units import parse_quantity, show_stated
from ohmsworth.work.instruments import SourceProfile, SourceRefused

#: The program sets no more than this, whatever is stated; common practice for what may be touched.
MOST_CURRENT, MOST_VOLTAGE = 10.0, 30.0

#: Shown wherever a current is set.
CAUTIONS = (
    "Disconnected, unpowered equipment only; nothing that has mains inside or on it.",
    "A test current heats leads, probes and contacts: rated leads, short readings, off before you change anything.",
    "Signal contacts: at most 20 mV and 100 mA, so that a film is neither broken through nor softened.",
    "What the source puts on an open contact counts too: a film may break before the first reading.",
    "A program can hang: keep the source's own switch within reach, and set its own limits too.",
    "The instructions of the makers of the source and of the contact prevail.",
)


@dataclass(frozen=True, slots=True)
class SourceLimits:
    """The most that may be set.

    Parameters
    ----------
    current
        Ampere, either way.
    compliance
        Volt: what an open contact may see.
    reason
        Why more than a dry circuit is needed; empty within it.
    """

    current: float
    compliance: float
    reason: str = ""


#: What a page offers; a person still has to state it.
DRY_LIMITS = SourceLimits(DRY_CURRENT, DRY_VOLTAGE)


def read_limits(current: str, compliance: str, reason: str = "") -> SourceLimits:
    """Limits as typed.

    Raises
    ------
    InputRefused
        With every fault: one that is missing, no quantity, beyond what the program sets, or beyond a dry circuit without
        a reason.
    """
    faults: list[Fault] = []
    most = _read("largest current", current, "current", MOST_CURRENT, "A", faults)
    volts = _read("largest voltage", compliance, "voltage", MOST_VOLTAGE, "V", faults)
    over = [
        show_stated(value, unit)
        for value, dry, unit in ((most, DRY_CURRENT, "A"), (volts, DRY_VOLTAGE, "V"))
        if value > dry * (1 + 1e-9)
    ]
    if over and not reason.strip():
        mend = "Say why, such as: power contact, judged at its working current."
        faults.append(
            Fault("reason", f"nothing, beside {' and '.join(over)}", "why more than 100 mA or 20 mV", mend)
        )
    if faults:
        raise InputRefused(tuple(faults))
    return SourceLimits(most, volts, reason.strip())


def hold_to_profile(limits: SourceLimits | None, profile: SourceProfile) -> SourceLimits:
    """The limits, where the source can keep them; raises SourceRefused otherwise, and without any."""
    if limits is None:
        mend = "State both; for signal contacts 100 mA and 20 mV."
        found = "no largest current and voltage"
        raise SourceRefused(Fault(profile.name, found, "both, stated by a person", mend))
    if not (0 < limits.current <= MOST_CURRENT and 0 < limits.compliance <= MOST_VOLTAGE):
        expected = f"more than zero, at most {MOST_CURRENT:g} A and {MOST_VOLTAGE:g} V"
        found = f"limits of {limits.current:g} A and {limits.compliance:g} V"
        raise SourceRefused(Fault(profile.name, found, expected, "Check the units."))
    if (limits.current > DRY_CURRENT or limits.compliance > DRY_VOLTAGE) and not limits.reason:
        found = "more than 100 mA or 20 mV, without a reason"
        raise SourceRefused(Fault(profile.name, found, "a reason", "Say why so much is needed."))
    least = profile.least_compliance if profile.open_circuit_voltage is None else profile.open_circuit_voltage
    if least > limits.compliance * (1 + 1e-9):
        found = f"a limit of {show_stated(limits.compliance, 'V')}"
        expected = f"at least {show_stated(least, 'V')}, which this source puts on an open contact"
        mend = "Use another source; or state that voltage with a reason, and no film is judged by these readings."
        raise SourceRefused(Fault(profile.name, found, expected, mend))
    for stated, most, unit in (
        (limits.current, profile.most_current, "A"),
        (limits.compliance, profile.most_compliance, "V"),
    ):
        if most is not None and stated > most * (1 + 1e-9):
            expected = f"at most {show_stated(most, unit)}, which the source can do"
            found = f"a limit of {show_stated(stated, unit)}"
            raise SourceRefused(Fault(profile.name, found, expected, "State less."))
    return limits


def _read(where: str, text: str, dimension: str, most: float, unit: str, faults: list[Fault]) -> float:
    if not text.strip():
        mend = "State it; for signal contacts 100 mA and 20 mV."
        faults.append(Fault(where, "nothing", f"a {dimension}", mend))
        return 0.0
    try:
        value = parse_quantity(text, dimension)
    except QuantityFault as error:
        faults.append(Fault(where, error.found, error.expected, error.mend))
        return 0.0
    if not 0 < value <= most:
        faults.append(
            Fault(
                where, shorten(text), f"more than zero, at most {show_stated(most, unit)}", "Check the unit."
            )
        )
        return 0.0
    return value
