"""The plain form of a new cable: two ends, ways with contacts each, wired straight through."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused

#: More of either on the plain form are a slip; what needs more is written as text.
MOST_WAYS, MOST_CONTACTS = 400, 12


@dataclass(frozen=True, slots=True)
class CableForm:
    """The fields as typed; with a `screen`, ohm a metre, the first contact of each way is one."""

    name: str = ""
    serial: str = ""
    length: str = ""
    length_tolerance: str = ""
    ends: tuple[str, str] = ("A", "B")
    connectors: tuple[str, str] = ("", "")
    ways: str = ""
    contacts: str = ""
    shell: bool = False
    contact_resistance: str = ""
    contact_limit: str = ""
    conductor: str = ""
    tolerance: str = ""
    screen: str = ""
    screen_tolerance: str = ""
    accuracy: str = ""
    resolution: str = ""
    leads: str = ""
    leads_uncertainty: str = ""


def number_of(text: str, most: int) -> int | None:
    """A whole number from 1 to `most`; None for anything else."""
    text = text.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 6):
        return None
    return int(text) if 1 <= int(text) <= most else None


def refuse_uncounted(form: CableForm) -> None:
    """Refuse a form whose wires cannot be counted; everything else is for the reader of its text to say.

    Raises
    ------
    InputRefused
        With every field at fault, by its name.
    """
    faults = []
    for name, text, most, mend in (
        ("ways", form.ways, MOST_WAYS, "Write how many; 1 for a single line."),
        ("contacts", form.contacts, MOST_CONTACTS, "Write how many; 3 for a balanced line."),
    ):
        if number_of(text, most) is None:
            faults.append(
                Fault(
                    name,
                    repr(text[:20]) if text.strip() else "nothing",
                    f"a whole number from 1 to {most}",
                    mend,
                )
            )
    if form.screen.strip() and number_of(form.contacts, MOST_CONTACTS) == 1:
        mend = "Leave it empty, or write how many contacts a way has with its screen."
        faults.append(Fault("screen", "a screen and nothing in it", "two contacts or more of each way", mend))
    one, other = (end.strip() for end in form.ends)
    if not one or not other or one == other:
        mend = "Name each end, such as stage and desk."
        faults.append(Fault("end", "ends that cannot be told apart", "two names that differ", mend))
    if faults:
        raise InputRefused(tuple(faults))
