"""The usual cautions, to stand beside the step that they belong to."""

from __future__ import annotations

#: Before any contact is measured or treated.
UNPOWERED = (
    "Work on disconnected, unpowered equipment only, phantom power off; nothing that has mains inside or on it. "
    "Mains and distribution wiring is for licensed electricians under local codes, with lock-out."
)
HIGH_CURRENT = (
    "Above about an ampere leads, clips and contacts get hot and a broken connection can arc: keep it short, "
    "use leads rated for the current, switch off before you change anything."
)
SOLDERING = (
    "Soldering: ventilate, keep flux fumes out of your face, eyes protected, let the iron rest in its stand."
)
#: Before wire is cut and stripped.
CUTTING = (
    "Cutting and stripping: blades away from hand and body, eyes protected from ends that fly off, heavy reels on a stand that "
    "they cannot roll from; pick up every strand."
)
CLEANER = (
    "Read the cleaner's safety data sheet: gloves, eyes, ventilation, no flame or hot iron near solvents, never mix "
    "products, rinse, let it dry, dispose of it by local rules. The connector maker's instructions prevail."
)
#: Before tones are played through a contact.
TONES_APART = (
    "The contact is unpowered and connected to nothing but this circuit: no other equipment at either end, no screen or "
    "case that leads elsewhere. Phantom power of both inputs off. Never on anything that has mains inside or on it."
)
TONES_LOUD = (
    "The tones are loud and last: headphones off the head and unplugged, loudspeakers off, before anything is played. "
    "Begin with the output turned down."
)
TONES_OUTPUT = (
    "The series resistor is the load of the output: use an output made for headphones, or a resistor of as many ohm as the "
    "maker of the output asks for. No power amplifier."
)
TONES_HOT = "The series resistor gets hot: keep it off skin, paper and the shunt, and let it cool before you change it."
#: Beside a cleaning step with isopropyl alcohol. Source: NIOSH0359.
ALCOHOL = (
    "Isopropyl alcohol: its vapour catches fire from 12 °C on. No flame, no hot iron, nothing that sparks; little at a time, "
    "fresh air, and let it dry before anything is switched on."
)
#: Beside a silver dip. Sources: ICSC0680, CCI9/7.
SILVER_DIP = (
    "Silver dips: each one takes silver off, and there is little on a contact: not often. Those with thiourea: no contact with "
    "skin or eyes, never with other acids, not into the drain, for it harms water life."
)
#: Before tones are played with nothing in the contact's place.
TONES_OPEN = (
    "Nothing closes the row now. Leave the bridge where it is, touch no ends, and turn both gains well down before the level "
    "check: what the open ends see is far more than a contact does."
)
#: Before tones are played into a wire of a cable.
WIRE_APART = (
    "Unplug the cable at both ends before anything is connected: no equipment, no mains, nothing that carries a voltage at "
    "either end; discharge long ones. Phantom power of both inputs off. Cables of mains and distribution wiring are for licensed "
    "electricians under local codes, with lock-out."
)
#: Before a cable is measured, and where somebody asks for its insulation.
CABLE_APART = (
    "The cable is disconnected at every end and carries no voltage; discharge long ones. Cables of mains and distribution wiring "
    "are for licensed electricians under local codes, with lock-out."
)
CABLE_VOLTAGE = (
    "Insulation and high-voltage tests belong to trained people with equipment made for them: their results can be noted beside "
    "the sheet, and this program never asks for such a voltage."
)
