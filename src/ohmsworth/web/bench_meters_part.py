"""What the bench shows of its meters: what can be read, and what is being read."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.units import show_stated
from ohmsworth.web.bench_form import BenchForm, last_typed, reads_ohms
from ohmsworth.work.bench_meters import BenchMeters
from ohmsworth.work.bench_source import limits_of
from ohmsworth.work.connections import WORDS, Role
from ohmsworth.work.meter_run import FLOWS, Plan, RunState
from ohmsworth.work.source_limits import DRY_LIMITS
from ohmsworth.work.study_log import StudyState

#: Sequences that begin with the current forward, with the words of their buttons.
SEQUENCES = (
    ("reversal", "Forward and reversed"),
    ("three", "Three: forward, reversed, forward"),
    ("zero", "Off, then forward"),
)
TURN_WORDS = {
    "+": "Turn the current round: forward.",
    "-": "Turn the current round: reversed.",
    "0": "Switch the current off.",
}


@dataclass(frozen=True, slots=True)
class MetersPart:
    """What can be asked of the meters.

    Parameters
    ----------
    able
        Whether they can take the reading that leads.
    words
        Which they are, and what the source does meanwhile.
    sequences
        Values and labels of what may be read in a row.
    by_enter
        Whether Enter in the empty fields reads: not where it would send more than a dry circuit takes.
    """

    able: bool
    words: str
    sequences: tuple[tuple[str, str], ...]
    by_enter: bool


@dataclass(frozen=True, slots=True)
class RunPart:
    """What is being read; `holder` is what the page renews the current by, "" without a source."""

    key: str
    study: int
    version: int
    words: str
    kept: tuple[str, ...]
    turn: str
    holder: str
    connect: str


def use_ohms(meters: BenchMeters, state: StudyState, form: BenchForm) -> bool:
    """Whether the meters read a resistance here: as the study does, or as they can where it has no reading."""
    connected = meters.connections()
    if not state.counted and "voltmeter" not in connected and "ohmmeter" in connected:
        return True
    return reads_ohms(state, form)


def meters_part(meters: BenchMeters, state: StudyState, form: BenchForm) -> MetersPart:
    """What can be asked of the meters for the reading that leads."""
    ohms, connected = use_ohms(meters, state, form), meters.connections()
    roles: tuple[Role, ...] = ("ohmmeter",) if ohms else ("voltmeter", "ammeter")
    names = [f"{WORDS[role]}: {connected[role].profile}" for role in roles if role in connected]
    dry = True
    if "source" in connected and not ohms:
        limits = limits_of(connected["source"])
        dry = limits.current <= DRY_LIMITS.current and limits.compliance <= DRY_LIMITS.compliance
        level = show_stated(meters.source.level().value, "A")
        names.append(f"the source sends {level} while they are read, and is off otherwise")
    elif not ohms and "ammeter" not in connected:
        last = last_typed(state)
        current = last.current if last else None
        if current is not None:
            names.append(f"the current stays {current.text.lstrip('+-')} {current.unit}")
    return MetersPart(
        meters.able(ohms),
        "; ".join(names),
        SEQUENCES if not ohms and form.polarity in ("+", "") else (),
        dry,
    )


def run_part(state: RunState, plan: Plan) -> RunPart:
    """What is being read."""
    about = plan.about
    where = ", ".join(part for part in (about.specimen, about.condition) if part)
    return RunPart(
        state.key,
        state.study,
        state.version,
        state.words,
        tuple(
            f"{FLOWS[sign] or 'reading'}: {taken.judgement.headline}"
            for sign, taken in zip(plan.signs, state.kept, strict=False)
        ),
        TURN_WORDS.get(state.turn, ""),
        plan.key if plan.source is not None else "",
        where,
    )
