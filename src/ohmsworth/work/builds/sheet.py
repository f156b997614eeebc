"""The sheet to fill in with a spreadsheet: what is left to measure at a cable, in the order in which it is asked for."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.cables.request import CableRequest, CableRow
from ohmsworth.cables.tested import left_to_measure
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.cable_answer import CableMeasurementAnswer
from ohmsworth.work.builds.sentences import leading_of
from ohmsworth.work.cable_ports import SheetRow
from ohmsworth.work.cable_study import CableAhead


def sheet_rows(request: CableRequest, rows: Sequence[CableRow], ahead: CableAhead) -> tuple[SheetRow, ...]:
    """What is left to measure after `rows`, each with what the meter should show.

    Raises
    ------
    InputRefused
        Where nothing is left.
    """
    left = left_to_measure(request, rows, ahead.build)
    if not left:
        mend = "Ask for the report. To measure again, write further rows below those of test.csv."
        raise InputRefused((Fault("the sheet", "nothing left to measure", "something to measure", mend),))
    found = []
    for places in left:
        sides = tuple(map(str, places.one)), tuple(map(str, places.other))
        after = leading_of(request, ahead.answer, CableMeasurementAnswer(*sides, places.purpose))
        note = f"{after.wire}: {after.should}" if after.wire else after.should
        joined = "Join the contacts of each side by hand. " if after.joined else ""
        found.append(
            SheetRow(after.one, after.other, joined + note + ("" if after.path else " Write open then."))
        )
    return tuple(found)
