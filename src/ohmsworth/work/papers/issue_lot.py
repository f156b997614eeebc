"""Issuing the certificate of a lot: only for a sample that is complete, of a lot that is told from others."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.inference.lots.verdicts import NOT_YET
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import as_json
from ohmsworth.report.lot_answer import LotAnswer
from ohmsworth.report.words import count
from ohmsworth.work.lot_study import lot_study
from ohmsworth.work.papers.canonical import digest_of
from ohmsworth.work.papers.issue import Issued, sealed, stated_faults, superseded_faults
from ohmsworth.work.papers.lot_body import READINGS_FILE, STUDY_FILE, Issue, lot_body_of
from ohmsworth.work.papers.ports import FoundPaper, IssuePorts
from ohmsworth.work.ports import LoadedLot

#: Keys of [lot] without which there is no paper: an example, and why.
_NEEDED = {
    "name": ('name = "three-pin plugs"', "Say what the lot consists of."),
    "number": ('number = "B-77"', "A certificate is of one lot: write what tells it from others."),
    "size": ("size = 200", "A certificate is of one lot: say how many pieces it holds."),
    "drawn": (
        'drawn = "by random numbers, from every box"',
        "A plan speaks only of pieces that all had the same chance to be drawn: say how they were.",
    ),
}


@dataclass(frozen=True, slots=True)
class LotIssueAsked:
    """A lot to certify: the texts of its study's files by their names, and the certificate to be superseded."""

    files: Mapping[str, str]
    superseded: FoundPaper | None = None


def issue_lot(asked: LotIssueAsked, ports: IssuePorts) -> Issued:
    """Certify a lot whose sample is complete; one that is not accepted gets a test report that says so.

    Raises
    ------
    InputRefused
        With everything that is missing or wrong; nothing was signed.
    """
    loaded = ports.read_lot(asked.files)
    now, paper = ports.clock(), loaded.study.paper
    calibrated = tuple(
        (f"bench.{meter.role}", meter.calibrated) for meter in loaded.study.bench.named if meter.calibrated
    )
    faults = stated_faults(STUDY_FILE, paper, calibrated, now)
    faults += _unnamed(loaded.study)
    answer = None
    if loaded.sample is None:
        mend = "Draw and measure the sample first: 'ohmsworth lot FOLDER' says how many."
        faults.append(Fault(READINGS_FILE, "no such file", "what was measured", mend))
    else:
        answer = lot_study(loaded)
        faults += [*_incomplete(answer), *_more_than_there_are(loaded, answer)]
    if paper is not None:
        faults += superseded_faults(paper, asked.superseded, STUDY_FILE)
    if faults or answer is None:
        raise InputRefused(tuple(faults))
    before = "" if asked.superseded is None else digest_of(asked.superseded.data)
    issued = Issue(now.isoformat(timespec="seconds"), before, ports.made_with)
    return sealed(as_json(lot_body_of(loaded, answer, asked.files, issued)), ports)


def _unnamed(study: Study) -> list[Fault]:
    """What the lot lacks to be told from others."""
    return [
        Fault(f"{STUDY_FILE}, [lot], key '{key}'", "no such key", example, mend)
        for key, (example, mend) in _NEEDED.items()
        if not getattr(study.lot, key)
    ]


def is_complete(answer: LotAnswer) -> bool:
    """Whether the sample is as large as the plan asks, so that a paper can be issued of it."""
    found = answer.measured
    return found is not None and not (answer.verdict == NOT_YET and found.more)


def _incomplete(answer: LotAnswer) -> list[Fault]:
    """What is still to be drawn before anything can be said."""
    found = answer.measured
    if found is None or is_complete(answer):
        return []
    told = f"{count(found.specimens, 'piece')} of the sample, {found.more} more wanted"
    mend = "Draw and measure them too: a sample that is not complete decides nothing."
    return [Fault(READINGS_FILE, told, "the whole sample of the plan", mend)]


def _more_than_there_are(loaded: LoadedLot, answer: LotAnswer) -> list[Fault]:
    """A sample that the lot cannot hold."""
    size = loaded.study.lot.size if loaded.study.lot else None
    measured = len(answer.specimens)
    if size is None or measured <= size:
        return []
    mend = "Correct the size, or leave out pieces of other lots."
    told = f"{count(measured, 'piece')}, of a lot of {size}"
    return [Fault(READINGS_FILE, told, "no more pieces than the lot holds", mend)]
