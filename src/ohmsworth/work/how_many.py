"""How many specimens and matings does a question need? A plan by its chance, asked for on the form of a new study."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.plan_answer import PlanAnswer
from ohmsworth.work.make_study import with_reference
from ohmsworth.work.plan_study import plan_study
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.records import NoSuchCard
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_form import StudyForm

GOALS = {
    "detect": "see a difference, if there is one",
    "equivalence": "show that a difference is too small to matter",
    "limit": "show that a whole lot is within the limit",
}
#: What is asked beside the goal, as study.toml's [plan] calls it.
KEYS = ("effect", "expected", "specimen", "response", "mating", "reading", "chance")
_WHERE = re.compile(r"study\.toml, \[plan\], key '(?P<key>.*)'")


@dataclass(frozen=True, slots=True)
class PlanForm:
    """What the plan is asked for, as typed.

    `said` are the fields of [plan] by their keys; `past` numbers of studies whose scatter is taken in place of a guess.
    """

    goal: str = "detect"
    said: Mapping[str, str] = field(default_factory=dict)
    past: Sequence[int] = ()


@dataclass(frozen=True, slots=True)
class HowMany:
    """The plan, and the form with its numbers filled in; as it was where no plan reaches the chance."""

    form: StudyForm
    answer: PlanAnswer


def how_many(shop: Shop, desk: Desk, form: StudyForm, plan: PlanForm) -> HowMany:
    """Find the cheapest plan for what the form asks.

    Raises
    ------
    InputRefused
        With everything that is missing; a fault of the plan's fields is told as "plan.effect".
    """
    try:
        study = shop.read_question(_toml(shop, form, plan), {})
        answer = plan_study(study, [_past(desk, number) for number in plan.past])
    except InputRefused as refused:
        raise InputRefused(tuple(map(_by_field, refused.faults))) from refused
    best = answer.best
    if best is None:
        return HowMany(form, answer)
    filled = replace(form, specimens=str(best.specimens), matings=str(best.matings * best.readings), names=())
    return HowMany(filled, answer)


def _toml(shop: Shop, form: StudyForm, plan: PlanForm) -> str:
    """The question of the form with a plan below it; what the sheet would ask is asked of the plan."""
    asked = with_reference(form)
    single = plan.goal == "limit"
    toml = shop.write_question(
        replace(asked, conditions=(), specimens="", matings="", reversal=True, assignment="", seed="")
    )
    said: dict[str, object] = {"goal": plan.goal}
    if form.conditions and not single:
        said["conditions"] = [" ".join(name.split()) for name in form.conditions]
    if form.assignment and not single:
        said["assignment"] = form.assignment
    for key in KEYS:
        text = " ".join(plan.said.get(key, "").split())
        if text and not (single and key == "effect"):
            said[key] = _number(text) if key == "chance" else text
    # What JSON writes of texts, numbers and lists of texts is TOML too.
    lines = [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in said.items()]
    return "\n".join([toml, "[plan]", *lines, ""])


def _number(text: str) -> float | str:
    """A chance as "80 %" or 0.8; the reader refuses any other text."""
    plain = text.replace("%", "").strip().replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        return text
    value = value / 100 if "%" in text or value > 1 else value
    return value if 0 < value < 1 else text


def _past(desk: Desk, number: int) -> tuple[str, LoadedStudy]:
    try:
        return f"study {number}", desk.loaded(number, desk.state(number))
    except NoSuchCard as error:
        fault = Fault("plan.past", f"study {number}", "a study of the records", "Choose another one.")
        raise InputRefused((fault,)) from error


def _by_field(fault: Fault) -> Fault:
    """A fault of the table [plan] by the name of its field."""
    match = _WHERE.fullmatch(fault.where)
    if match is None:
        return fault
    key = match["key"] if match["key"] in KEYS else "conditions" if match["key"] == "conditions" else "goal"
    where = key if key == "conditions" else f"plan.{key}"
    mend = re.sub(r"Add \w+ = ", "Write ", fault.mend).replace(", or name a past study with --from", "")
    return replace(fault, where=where, mend=mend)
