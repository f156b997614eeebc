"""A check standard read at the start of a day: kept in a study of its own, one for each standard, opened by the first check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.entry import Entry
from ohmsworth.report.judgement import Judgement
from ohmsworth.work.drafts import Draft
from ohmsworth.work.judge_entry import judge_entry
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_settings import read_settings, with_default_meters
from ohmsworth.work.standards import Standard
from ohmsworth.work.study_cards import change_question, open_again, open_study
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_form import StudyForm
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_entry import Sending, take_entry

WHY_CHANGED = "the check standard's card says otherwise now"
WHY_OPENED = "the check standard is read again"


@dataclass(frozen=True, slots=True)
class TakenTogether:
    """What became of the readings of one check: kept all, or none while `doubts` are asked about."""

    kept: bool
    doubts: tuple[Doubt, ...] = ()


def standing_study(shop: Shop, desk: Desk, standard: Standard, by: str) -> int:
    """The study in which a check standard's daily checks stand; opened, or brought up to date with its card, where needed."""
    wanted = _check_form(standard)
    asked = f"Check standard {standard.said.name}: does the bench read it as it did?"
    form = with_default_meters(StudyForm(question=asked), read_settings(shop.records))
    toml = shop.write_question(_with(form, wanted))
    # The key is that of the card: the second call gives the study that the first one opened.
    study = open_study(shop, toml, (), by, f"checks.of.{standard.card}")
    state = desk.state(study)
    if state.closed:
        open_again(shop, study, WHY_OPENED, by, shop.new_key())
    form = shop.form_of(state.question)
    if (form.check_name, form.check_value, form.check_uncertainty) != wanted:
        changed = shop.revise_question(state.question, _with(form, wanted))
        change_question(shop, study, changed, WHY_CHANGED, by, shop.new_key())
    return study


def _check_form(standard: Standard) -> tuple[str, str, str]:
    """Name, value and uncertainty as a question states them: both of the latter, or neither."""
    if standard.said.uncertainty is None:
        return standard.said.name, "", ""
    return standard.said.name, standard.value, standard.uncertainty


def _with(form: StudyForm, check: tuple[str, str, str]) -> StudyForm:
    return replace(form, check_name=check[0], check_value=check[1], check_uncertainty=check[2])


def next_mating(state: StudyState) -> int:
    """The number of the next check in a standing study."""
    numbers = [int(text) for one in state.readings if (text := one.entry.mating).isascii() and text.isdigit()]
    return max(numbers, default=0) + 1


def check_draft(standard: Standard, draft: Draft) -> Draft:
    """A draft of a reading of a check standard, with the figures of `draft`."""
    name = standard.said.name
    return replace(draft, labels={"specimen": name, "condition": name})


def take_check(
    shop: Shop, desk: Desk, study: int, entries: Sequence[Entry], sending: Sending
) -> TakenTogether:
    """Judge the readings of one check and keep them all, or none while something is to be answered first.

    Raises
    ------
    InputRefused
        When one of them cannot be kept at all; with every fault.
    """
    state = desk.state(study)
    keys = [f"{sending.key}.{number}" for number in range(1, len(entries) + 1)]
    if not any(one.key in keys for one in state.readings):
        doubts = _doubts(desk, study, state, entries)
        if doubts and not sending.anyway:
            return TakenTogether(False, doubts)
    for key, entry in zip(keys, entries, strict=True):
        take_entry(
            shop, desk, study, desk.state(study), entry, replace(sending, key=key, waited=not sending.anyway)
        )
    return TakenTogether(True)


def _doubts(desk: Desk, study: int, state: StudyState, entries: Sequence[Entry]) -> tuple[Doubt, ...]:
    question = desk.question(study, state)
    earlier = [one.entry for one in state.counted if one.state == "used"]
    found: list[Doubt] = []
    for entry in entries:
        judged: Judgement = judge_entry(question, earlier, entry)
        if judged.faults:
            return ()  # told as a refusal where it is taken
        found += judged.doubts
        earlier.append(entry)
    return tuple(found)
