"""A study out of a filled-in form: its question in the records, with a bench sheet laid."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import cast

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.plan_request import SEPARATE, Assignment
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.bench_sheet import simple_sheet
from ohmsworth.work.cards.naming import LONGEST_SERIAL, name_specimen, specimen_of_serial
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import open_study
from ohmsworth.work.study_form import StudyForm

#: More than these on a plain form are a slip; a study that needs more is planned.
MOST_SPECIMENS, MOST_MATINGS = 200, 100


def make_study(shop: Shop, form: StudyForm, by: str, key: str, job: int | None = None) -> int:
    """Put a new study into the records, for a `job` where there is one, and return its card; the same `key` makes it once.

    Names that are the serials of specimens' cards are linked to them.

    Raises
    ------
    InputRefused
        With every field at fault.
    """
    form = counted(with_reference(form))
    faults = form_faults(form)
    toml = shop.write_question(form)
    try:
        shop.read_question(toml, {})
    except InputRefused as refused:
        faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    study = open_study(shop, toml, plain_sheet(form), by, key, job)
    link_names(shop, study, form, by, key)
    return study


def link_names(shop: Shop, study: int, form: StudyForm, by: str, key: str) -> None:
    """Say that the names which are serials of specimens' cards stand for them; `key` once for each."""
    for number, name in enumerate(name for block in form.names for name in block):
        card = specimen_of_serial(shop.records, name)
        if card is not None:
            name_specimen(shop, study, name, card, by, f"{key}.specimen.{number}")


def counted(form: StudyForm) -> StudyForm:
    """The form with as many specimens as it names."""
    if not form.names:
        return form
    return replace(form, specimens=str(max(map(len, form.names))))


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
    form = counted(form)
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
    apart = assignment == SEPARATE and len(form.conditions) > 1
    if form.names:
        lists = form.names if apart else form.names[:1] * len(form.conditions)
        return dict(zip(form.conditions, lists, strict=True))
    numbers = range(1, int(form.specimens) + 1)
    if apart:
        return {name: [f"{name} {i}" for i in numbers] for name in form.conditions}
    return {name: [f"S{i}" for i in numbers] for name in form.conditions}


def name_faults(form: StudyForm) -> list[Fault]:
    """What is wrong with the specimens' own names."""
    if not form.names:
        return []
    apart = form.assignment in ("", SEPARATE) and len(form.conditions) > 1
    lists, every = len(form.conditions) if apart else 1, [name for block in form.names for name in block]
    if len(form.names) != lists:
        expected = (
            f"{lists} lists, one for each condition" if apart else "one list, which serves all conditions"
        )
        mend = "Leave an empty line between the lists." if apart else "Take the empty lines out."
        return [Fault("names", f"{len(form.names)} lists", expected, mend)]
    twice = [name for i, name in enumerate(every) if name.casefold() in {n.casefold() for n in every[:i]}]
    if twice:
        return [Fault("names", f"{shorten(twice[0])} twice", "each name once", "Remove one of the two.")]
    if long := [name for name in every if len(name) > LONGEST_SERIAL]:
        return [Fault("names", shorten(long[0]), f"at most {LONGEST_SERIAL} letters", "Shorten it.")]
    return []


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
    return faults + name_faults(form)
