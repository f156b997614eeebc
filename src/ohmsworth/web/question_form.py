"""The form of a study's question as it is sent and drawn: its fields, what is picked from cards, what a plan is asked for."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fastapi import Request

from ohmsworth.consequence import USE_KINDS
from ohmsworth.errors import Fault
from ohmsworth.materials import PLATINGS
from ohmsworth.readings.plan_request import ASSIGNMENTS
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Sent
from ohmsworth.work.how_many import GOALS, KEYS, PlanForm
from ohmsworth.work.picked_cards import FIELDS, Offered, Options, offered
from ohmsworth.work.study_form import MeterForm, StudyForm, UseForm

#: Uses that are offered by a tick; one with a measured lead needs a file beside study.toml.
OFFERED_USES = tuple(kind for kind in USE_KINDS if kind != "measured lead")
ASSIGNMENT_WORDS = {
    "separate": "each condition has specimens of its own",
    "either order": "the same specimens in every condition, in any order",
    "before and after": "the same specimens, treated in between",
}
#: Fields of the plan: what stands beside them, and an example.
PLAN_WORDS = (
    ("effect", "The difference to be seen", "such as 20 %, or 1 mΩ"),
    ("expected", "The resistance that you expect", "of the first condition, or of the lot; such as 2.5 mΩ"),
    ("specimen", "Specimens differ by", "such as 10 %, one standard deviation"),
    (
        "response",
        "They take the change differently by",
        "for the same specimens in all conditions; such as 5 %",
    ),
    ("mating", "Matings of one specimen differ by", "such as 10 %"),
    ("reading", "Readings of one mating differ by", "such as 2 %"),
    ("chance", "In so many of 100 such studies", "left empty, 80 %"),
)
#: Past studies that are offered: more are found by nobody.
_MOST_PAST = 30
#: A plan leans on no more past studies than anybody ticks.
_MOST_TICKED = 10


@dataclass(frozen=True, slots=True)
class Planned:
    """What a plan was asked for and what came of it; `sentence` is "" before it was asked."""

    plan: PlanForm = field(default_factory=lambda: PlanForm(said=dict.fromkeys(KEYS, "")))
    sentence: str = ""
    findings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Choosing:
    """What the form offers to choose from, and what was chosen; `takes` says that the study has tones, or takes of them."""

    cards: Mapping[str, Options]
    picked: Mapping[str, str]
    planned: Planned
    past: tuple[tuple[int, str], ...]
    takes: bool = False
    goals: Mapping[str, str] = field(default_factory=lambda: dict(GOALS))
    plan_words: tuple[tuple[str, str, str], ...] = PLAN_WORDS
    uses: tuple[str, ...] = OFFERED_USES
    platings: tuple[str, ...] = tuple(PLATINGS)
    assignments: Mapping[str, str] = field(default_factory=lambda: dict(ASSIGNMENT_WORDS))


def choosing(
    request: Request,
    picked: Mapping[str, str] | None = None,
    planned: Planned | None = None,
    known: Offered | None = None,
) -> Choosing:
    """What the form offers now."""
    records = shop_of(request).records
    known = known or offered(records)
    past = tuple((card.number, card.face.title) for card in records.cards("study", most=_MOST_PAST))
    chosen = dict.fromkeys(FIELDS, "") | dict(picked or {})
    return Choosing(known.options, chosen, planned or Planned(), past)


def read_picked(sent: Sent) -> dict[str, str]:
    """The cards that were picked, by field; "" where none was."""
    return {name: sent.text(f"pick.{name}") for name in FIELDS}


def read_plan(sent: Sent) -> PlanForm:
    """What a plan is asked for."""
    goal = sent.text("plan.goal")
    ticked = [
        int(text)
        for text in sent.every.get("plan.past", ())
        if text.isascii() and text.isdigit() and len(text) < 19
    ]
    said = {key: sent.text(f"plan.{key}") for key in KEYS}
    return PlanForm(goal if goal in GOALS else "detect", said, tuple(ticked[:_MOST_TICKED]))


def read_study_form(sent: Sent, before: StudyForm | None = None) -> StudyForm:
    """The form as it was filled in; `before` gives the settings of circuits that the form does not show."""
    known = {use.kind: use for use in before.uses} if before else {}
    uses = tuple(known.get(kind, UseForm(kind)) for kind in sent.every.get("uses", ()) if kind in USE_KINDS)
    assignment = sent.text("assignment")
    return StudyForm(
        question=sent.text("question"),
        conditions=_lines(sent.text("conditions")),
        reference=sent.text("reference"),
        limit=sent.text("limit"),
        limit_source=sent.text("limit_source"),
        margin=sent.text("margin"),
        scale=sent.text("scale"),
        plating=sent.text("plating"),
        uses=uses,
        voltmeter=_meter(sent, "voltmeter", before),
        ammeter=_meter(sent, "ammeter", before),
        ohmmeter=_meter(sent, "ohmmeter", before),
        open_circuit_voltage=sent.text("open_circuit_voltage"),
        frequencies=_frequencies(sent, before),
        check_name=sent.text("check_name"),
        check_value=sent.text("check_value"),
        check_uncertainty=sent.text("check_uncertainty"),
        specimens=sent.text("specimens"),
        matings=sent.text("matings"),
        reversal=sent.text("reversal") != "",
        assignment=assignment if assignment in ASSIGNMENTS else "",
        seed=sent.text("seed"),
        names=_blocks(sent.text("names")),
    )


def _lines(text: str) -> tuple[str, ...]:
    return tuple(" ".join(line.split()) for line in text.splitlines() if line.strip())


def _frequencies(sent: Sent, before: StudyForm | None) -> tuple[str, ...]:
    """Those that were typed, with a comma or a semicolon between; where the form does not show them, those `before`."""
    if "frequencies" not in sent.first:
        return before.frequencies if before else ()
    # A comma between digits is a decimal one.
    each = re.split(r"[;\n]|(?<![0-9]),|,(?![0-9])", sent.text("frequencies"))
    return tuple(" ".join(one.split()) for one in each if one.strip())


def _blocks(text: str) -> tuple[tuple[str, ...], ...]:
    """Lists of names with empty lines between them."""
    blocks: list[list[str]] = [[]]
    for line in text.splitlines():
        name = " ".join(line.split())
        if name:
            blocks[-1].append(name)
        elif blocks[-1]:
            blocks.append([])
    return tuple(tuple(block) for block in blocks if block)


def _meter(sent: Sent, name: str, before: StudyForm | None) -> MeterForm:
    """A meter; which one it is holds as long as nobody states it otherwise."""
    accuracy, resolution = sent.text(f"{name}.accuracy"), sent.text(f"{name}.resolution")
    old: MeterForm = getattr(before, name) if before is not None else MeterForm()
    same = (accuracy, resolution) == (old.accuracy, old.resolution)
    return MeterForm(accuracy, resolution, old.note if same else "")


def sorted_faults(request: Request, faults: Sequence[Fault]) -> tuple[dict[str, str], tuple[str, ...]]:
    """What is said beside each field, and what belongs to none."""
    by_field: dict[str, str] = {}
    others = []
    for fault in faults:
        name = shop_of(request).field_of(fault) or fault.where
        words = fault_words(fault)
        if name.split(".")[0] in (*StudyForm.__dataclass_fields__, "plan", "job", "retest"):
            by_field[name] = words
        else:
            others.append(f"{fault.where}: {words}")
    return by_field, tuple(others)
