"""A letter to the customer with what a study found, as text to edit: what the program cannot know stands in [brackets]."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from ohmsworth.report.answer import ActionAnswer, Answer
from ohmsworth.report.particulars import MeterUsed, Particulars
from ohmsworth.report.sentences import bench_in_doubt
from ohmsworth.report.words import count, listed

#: More findings than this are for the report.
_MOST_FINDINGS = 3


@dataclass(frozen=True, slots=True)
class Sender:
    """Who writes: the shop's name and the lines of its address; "" where they are not settled."""

    name: str = ""
    address: str = ""


def letter(answer: Answer, found: Particulars, sender: Sender, day: date) -> str:
    """The letter, one line a paragraph, so that any program for texts sets it anew.

    The sentence, the findings and the steps are those of the report, word by word, and the cautions stand below the steps. What
    the shop has to do before, such as looking at a doubtful reading, stands at the head, in brackets.
    """
    customer = found.customer or "[customer]"
    own, advised = _parted(answer)
    blocks = (
        *(f"[Before you send this: {one.words} {one.why}]" for one in own),
        "\n".join((sender.name or "[your shop]", *sender.address.splitlines())),
        f"{customer}\n[address]",
        f"{day:%Y-%m-%d}",
        _subject(answer, found),
        f"Dear {customer},",
        f"you wanted to know: {answer.question}",
        answer.sentence,
        *answer.findings[:_MOST_FINDINGS],
        _measured(answer, found),
        *_steps(advised),
        "The report with every reading, how sure each figure is and how it was measured comes with this letter.",
        f"With kind regards\n[your name]\n{sender.name or '[your shop]'}",
    )
    return "\n\n".join(block for block in blocks if block) + "\n"


def _subject(answer: Answer, found: Particulars) -> str:
    return f"{found.job}: what we measured" if found.job else f"What we measured: {answer.question}"


def _measured(answer: Answer, found: Particulars) -> str:
    """What it rests on; a name of a person is for the shop to give."""
    specimens = count(len({one.id for one in answer.specimens}), "specimen")
    days = f" on {_days(found.days)}" if found.days else ""
    named = [one for one in found.meters if one.name]
    meters = f", with {listed([_meter(one) for one in named])}" if named else ""
    how = " by the four-wire method" if answer.frequencies is None else ""
    return f"It rests on {count(answer.rows_used, 'reading')} of {specimens}, taken{days}{how}{meters}."


def _days(days: Sequence[str]) -> str:
    return days[0] if len(days) == 1 else f"{len(days)} days from {days[0]} to {days[-1]}"


def _meter(one: MeterUsed) -> str:
    said = f"the {one.does} {one.name}"
    return f"{said} ({one.calibrated})" if one.calibrated else said


def _parted(answer: Answer) -> tuple[list[ActionAnswer], list[ActionAnswer]]:
    """Steps that are the shop's own, with its readings and its bench, and those that are the customer's."""
    doubts = {f"{one.words[:1].upper()}{one.words[1:]}" for one in answer.warnings}
    own = [one for one in answer.actions if one.why in doubts]
    if bench_in_doubt(answer.bench):
        own.insert(0, answer.actions[0])
    return own, [one for one in answer.actions if one not in own]


def _steps(actions: Sequence[ActionAnswer]) -> Iterator[str]:
    if not actions:
        return
    yield "What we advise:"
    for number, one in enumerate(actions, 1):
        yield "\n".join(
            (f"{number}. {one.words} {one.why}".rstrip(), *(f"   Caution: {text}" for text in one.cautions))
        )
