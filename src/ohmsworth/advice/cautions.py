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
CLEANER = (
    "Read the cleaner's safety data sheet: gloves, eyes, ventilation, no flame or hot iron near solvents, never mix "
    "products, rinse, let it dry, dispose of it by local rules. The connector maker's instructions prevail."
)
