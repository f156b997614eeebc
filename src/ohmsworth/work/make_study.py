"""A study out of a filled-in form: its question in the records, with a bench sheet laid."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import cast

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.plan_request import SEPARATE, Assignment
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.bench_sheet import simple_sheet
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import open_study
from ohmsworth.work.study_form import StudyForm

#: More than these on a plain form are a slip; a study that needs more is planned.
MOST_SPECIMENS, MOST_MATINGS = 200, 100


def make_study(shop: Shop, form: StudyForm, by: str, key: str) -> int:
    """Put a new study into the records and return its card; the same `key` twice makes it once.

    Raises
    ------
    InputRefused
        With every field at fault.
    """
    form = with_reference(form)
    faults = form_faults(form)
    toml = shop.write_question(form)
    try:
        shop.read_question(toml, {})
    except InputRefused as refused:
        faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    return open_study(shop, toml, plain_sheet(form), by, key)


def with_reference(form: StudyForm) -> StudyForm:
    """The form with the first condition as the one to compare with, where several are named and none is chosen."""
    if form.reference or len(form.conditions) < 2:
        return form
    return replace(form, reference=form.conditions[0])


def plain_sheet(form: StudyForm) -> tuple[SheetRow, ...]:
    """The bench sheet that a form asks for; none where it says no specimens.

    Raises
    ------
    InputRefused
        When the numbers of specimens or matings are none.
    """
    faults = form_faults(form)
    if faults:
        raise InputRefused(tuple(faults))
    if not form.specimens.strip():
        return ()
    assignment = cast(Assignment, form.assignment or SEPARATE)
    return simple_sheet(
        form.conditions,
        _names(form, assignment),
        int(form.matings or 1),
        form.reversal,
        form.check_name.strip() or None,
        int(form.seed) if form.seed.isascii() and form.seed.isdigit() else 1,
        assignment=assignment,
    )


def _names(form: StudyForm, assignment: Assignment) -> Mapping[str, Sequence[str]]:
    """Names to be written on the specimens; the same ones in every condition where they serve in all."""
    numbers = range(1, int(form.specimens) + 1)
    if assignment == SEPARATE and len(form.conditions) > 1:
        return {name: [f"{name} {i}" for i in numbers] for name in form.conditions}
    return {name: [f"S{i}" for i in numbers] for name in form.conditions}


def form_faults(form: StudyForm) -> list[Fault]:
    """What study.toml itself does not refuse."""
    faults = []
    if not form.question.strip():
        faults.append(
            Fault("question", "nothing", "a question", "Write in a sentence what you want to know.")
        )
    if not form.conditions:
        faults.append(
            Fault(
                "conditions",
                "none",
                "one condition or more, one a line",
                'Write at least one, such as "as delivered".',
            )
        )
    elif len(set(form.conditions)) < len(form.conditions):
        faults.append(Fault("conditions", "a condition twice", "each once", "Remove one of the two."))
    if form.reference and form.conditions and form.reference not in form.conditions:
        faults.append(
            Fault(
                "reference",
                repr(form.reference[:40]),
                f"one of {', '.join(form.conditions[:6])}",
                "Write it as above.",
            )
        )
    for name, text, most in (
        ("specimens", form.specimens, MOST_SPECIMENS),
        ("matings", form.matings, MOST_MATINGS),
    ):
        if text.strip() and not (
            text.strip().isascii() and text.strip().isdigit() and 1 <= int(text[:9]) <= most
        ):
            faults.append(Fault(name, repr(text[:20]), f"a whole number from 1 to {most}", "Write how many."))
    return faults
