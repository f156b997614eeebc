"""The contact as found: stated, or from readings, and then by its worst contact."""

from __future__ import annotations

import math

import numpy as np

from ohmsworth.advice.care import Found
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import WarningAnswer
from ohmsworth.work.answer_study import compose
from ohmsworth.work.care_ports import LoadedCare
from ohmsworth.work.lot_sample import by_contact
from ohmsworth.work.results import find_results

#: That nothing is said of its kind: here nobody asks for it.
_NOT_ASKED = ("ONE_SPECIMEN",)


def found_contact(loaded: LoadedCare) -> tuple[Found, tuple[WarningAnswer, ...]]:
    """The contact as found, and what is doubtful about its readings.

    Raises
    ------
    InputRefused
        Where the readings leave their uncertainty unknown.
    """
    request = loaded.request
    if loaded.readings is None:
        assert request.resistance is not None and request.uncertainty is not None
        return Found(request.resistance, request.uncertainty), ()
    results = find_results(by_contact(loaded.readings))
    specimens = results.specimens
    worst = int(np.argmax(specimens.value))
    uncertainty, freedom = float(specimens.uncertainty[worst]), float(specimens.freedom[worst])
    if not math.isfinite(uncertainty):
        found = "readings that leave open how far they scatter"
        mend = "Read it again after mating it anew, or state the meter in [bench] of care.toml."
        raise InputRefused((Fault("readings.csv", found, "several readings, or a meter's accuracy", mend),))
    warnings = tuple(one for one in compose(results).warnings if one.code not in _NOT_ASKED)
    return Found(float(specimens.value[worst]), uncertainty, freedom), warnings
