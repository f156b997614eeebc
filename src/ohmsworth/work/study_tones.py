"""The tones of a study in the records: what is wished for, the plan that came of it, what is played, the card."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.document import Document
from ohmsworth.report.tones_answer import TonesAnswer
from ohmsworth.report.tones_pages import tones_report
from ohmsworth.report.words import count
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import FILE, StudyState
from ohmsworth.work.tone_files import PLAN, WISHES
from ohmsworth.work.tones import answer_of, made_earlier, same_plan
from ohmsworth.work.tones import plan_tones as plan_of

if TYPE_CHECKING:
    from ohmsworth.resistance.impedance.known import Known
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.resistance.impedance.wishes import Wishes

_TYPES = {WISHES: "application/toml", PLAN: "application/json"}


@dataclass(frozen=True, slots=True, eq=False)
class StudyTones:
    """The tones of a study: the text of its tones.toml, what it wishes and knows, and the plan that is played."""

    text: str
    wishes: Wishes
    known: Known
    plan: TonePlan

    @property
    def answer(self) -> TonesAnswer:
        """Everything that is to be said of the plan."""
        return answer_of(self.wishes, self.plan)


def tones_of(shop: Shop, study: int, state: StudyState, desk: Desk | None = None) -> StudyTones | None:
    """The tones of a study; None before a plan was made. A `desk` reads them once for each change.

    Raises
    ------
    InputRefused
        With every fault of tones.toml and plan.json, as of a study that came from elsewhere.
    """
    numbers = tuple({one.name: one.number for one in state.files if one.beside}.get(n) for n in _TYPES)
    wishes, plan = numbers
    if wishes is None or plan is None:
        return None

    def read() -> StudyTones:
        text = shop.records.content(study, wishes).decode("utf-8", "replace")
        wished, known, made = shop.read_tones(text, shop.records.content(study, plan))
        assert made is not None
        return StudyTones(text, wished, known, made)

    return read() if desk is None else desk.once(("tones", study, *numbers), read)


def plan_tones(
    shop: Shop, desk: Desk, study: int, state: StudyState, text: str, by: str, key: str
) -> StudyTones:
    """Make the plan for a tones.toml, and keep both with the study.

    What does not change the tones, such as a tolerance, may change while takes are kept; they are not analysed anew.

    Raises
    ------
    InputRefused
        With every fault of the text; where there is no such plan; where takes of another plan are kept; or the study is closed.
    """
    refuse_closed(state)
    wishes, known, _ = shop.read_tones(text, None)
    plan, _ = plan_of(LoadedTones(wishes, None, None, ()))
    before = tones_of(shop, study, state, desk)
    if before is not None and not same_plan(before.plan, plan):
        if made_earlier(before.plan, plan) and (state.counted_takes or state.standard_of):
            plan = before.plan
        else:
            _refuse_kept(state)
    files = {WISHES: text.encode("utf-8", "replace"), PLAN: shop.plan_bytes(plan)}
    old = {} if before is None else {WISHES: before.text.encode(), PLAN: shop.plan_bytes(before.plan)}
    lines = [_file(name, data, key) for name, data in files.items() if data != old.get(name)]
    if lines:
        shop.records.add(study, by, lines, study_face)
    return StudyTones(text, wishes, known, plan)


def _file(name: str, data: bytes, key: str) -> NewLine:
    fields = {"name": name, "media_type": _TYPES[name], "beside": True}
    return NewLine(f"{key}.{name}", FILE, fields, content=data)


def _refuse_kept(state: StudyState) -> None:
    """Takes of one study are of one plan."""
    contacts, standards = len(state.counted_takes), len(state.standard_of)
    kept = [
        *([count(contacts, "take")] if contacts else []),
        *([f"takes of {count(standards, 'standard')}"] if standards else []),
    ]
    if kept:
        found = f"other tones than those of what is kept ({' and '.join(kept)})"
        mend = "Begin a study of its own for the new tones, or withdraw what is kept first."
        raise InputRefused((Fault(WISHES, found, "the tones that the takes were made with", mend),))


def refuse_other_tones(tones: StudyTones | None, frequency: Sequence[float], what: str) -> None:
    """Refuse to count takes again that were made with other tones than those of now.

    Parameters
    ----------
    tones
        Those of now.
    frequency
        In hertz, those of the takes.
    what
        Which takes, in words.

    Raises
    ------
    InputRefused
        Where they differ.
    """
    if tones is None or tones.plan.frequencies.tolist() == list(frequency):
        return
    mend = "Leave them withdrawn: the tones were changed since."
    raise InputRefused((Fault(what, "takes with other tones", "takes with the tones of the study", mend),))


def write_drive(shop: Shop, tones: StudyTones, path: Path) -> None:
    """Write what is played as a WAV file; raises OutputFault when it cannot be written, and leaves nothing behind then."""
    with shop.stage_drive(path, tones.plan, tones.wishes.channels):
        pass


def card_of(tones: StudyTones, study: int) -> Document:
    """The wiring card of a study: its takes are sent, not laid beside the wishes."""
    return tones_report(tones.answer, study)
