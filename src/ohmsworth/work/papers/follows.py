"""Whether what a certificate states follows from the description and the readings that it carries, by the code of today."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from ohmsworth.errors import InputRefused, OhmsworthError, shorten
from ohmsworth.report.answer import as_json
from ohmsworth.report.papers.certificate import Certificate, CertificateBody
from ohmsworth.report.papers.kinds import Paper, PaperBody
from ohmsworth.report.papers.lot_certificate import LotCertificate, LotCertificateBody
from ohmsworth.report.papers.verification import FAILS, FOLLOWS, HOLDS, CheckAnswer
from ohmsworth.work.cable_study import cable_study
from ohmsworth.work.lot_study import lot_study
from ohmsworth.work.papers.body import DIGITS, body_of
from ohmsworth.work.papers.lot_body import Issue, files_of, lot_body_of
from ohmsworth.work.papers.ports import VerifyPorts

#: Keys whose values are for people: another version may word them otherwise.
WORDS = ("sentence", "findings", "words", "rule", "warnings")
#: Keys whose values are numbers: two computers may differ in the last of their digits.
NUMBERS = (
    "length", "length_tolerance", "temperature", "temperature_tolerance", "coverage",
    "gain", "counts", "resolution", "stated_uncertainty", "leads", "leads_uncertainty",
    "resistance", "standard_uncertainty", "low", "high", "probability_within",
    "stated", "acceptable", "rejectable", "producer_risk", "consumer_risk", "k", "accepts_acceptable", "accepts_rejectable",
    "held_against", "distance", "distance_least", "distance_most", "share", "share_low", "share_high",
)  # fmt: skip
#: Those of them that are chances or shares.
CHANCES = (
    "probability_within",
    "accepts_acceptable",
    "accepts_rejectable",
    "share",
    "share_low",
    "share_high",
)
#: By how much of its last digit a number may be off, and by how much a chance.
_LAST, _CHANCE = 1.01, 1e-6
_MOST_TOLD = 20


def results_check(paper: Paper, ports: VerifyPorts) -> CheckAnswer:
    """Compare every value of `paper` with what its own texts give now."""
    body: PaperBody | None
    try:
        body = _cable_again(paper, ports) if isinstance(paper, Certificate) else _lot_again(paper, ports)
    except InputRefused as error:
        told = tuple(str(fault) for fault in error.faults[:_MOST_TOLD])
        return CheckAnswer(FOLLOWS, FAILS, "The description and readings inside cannot be read.", told)
    except OhmsworthError as error:
        return CheckAnswer(FOLLOWS, FAILS, "The readings inside cannot be judged.", (str(error),))
    if body is None:
        what = "cable" if isinstance(paper, Certificate) else "lot"
        return CheckAnswer(FOLLOWS, FAILS, f"The description inside is not that of a certified {what}.")
    stated = as_json(paper)
    found = list(differences(stated, as_json(body)))
    values = [words for key, words in found if key not in WORDS]
    if values:
        words = "What the certificate states does not follow from its readings."
        return CheckAnswer(FOLLOWS, FAILS, words, tuple(values[:_MOST_TOLD]))
    if not found:
        return CheckAnswer(FOLLOWS, HOLDS, "Everything that it states follows from its readings.")
    told = tuple(words for _, words in found[:_MOST_TOLD])
    if paper.made_with == ports.made_with:
        return CheckAnswer(FOLLOWS, FAILS, "Its sentences do not follow from its readings.", told)
    words = f"Every value follows from its readings; {paper.made_with} worded some sentences otherwise."
    return CheckAnswer(FOLLOWS, HOLDS, words, told)


def _cable_again(paper: Certificate, ports: VerifyPorts) -> CertificateBody | None:
    """What the texts inside give now; None where they are not those of a certified cable."""
    loaded = ports.read_cable(paper.description, paper.readings)
    if loaded.paper is None or loaded.rows is None or loaded.request.meter is None:
        return None
    return body_of(
        loaded.paper, loaded.request, cable_study(loaded), (paper.description, paper.readings),
        paper.issued, paper.supersedes.digest, paper.made_with,
    )  # fmt: skip


def _lot_again(paper: LotCertificate, ports: VerifyPorts) -> LotCertificateBody | None:
    """The same of a lot."""
    files = files_of(paper)
    loaded = ports.read_lot(files)
    if loaded.study.paper is None or loaded.sample is None or loaded.study.lot is None:
        return None
    answer = lot_study(loaded)
    return lot_body_of(loaded, answer, files, Issue(paper.issued, paper.supersedes.digest, paper.made_with))


def differences(
    stated: Mapping[str, Any], computed: Mapping[str, Any], place: str = ""
) -> Iterator[tuple[str, str]]:
    """What differs: its key, and in words where, with both values. Keys that `computed` lacks are left out."""
    for key, value in computed.items():
        yield from _differ(key, stated.get(key), value, f"{place}{key.replace('_', ' ')}")


def _differ(key: str, stated: Any, computed: Any, place: str) -> Iterator[tuple[str, str]]:
    if isinstance(computed, dict):
        yield from differences(stated, computed, f"{_called(computed, place)}, ")
    elif isinstance(computed, list):
        if len(stated) != len(computed):
            yield key, f"{place}: {len(stated)} stated, {len(computed)} computed"
            return
        for k, (one, other) in enumerate(zip(stated, computed, strict=True), start=1):
            yield from _differ(key, one, other, f"{place} {k}")
    elif stated != computed and not (key in NUMBERS and _near(key, stated, computed)):
        yield key, f"{place}: {_quoted(stated)} stated, {_quoted(computed)} computed"


def _called(record: Mapping[str, Any], place: str) -> str:
    """A wire is told by its name, and so is a piece of a lot."""
    if "piece" in record:
        return f"piece {record['piece']}"
    return f"wire {record['name']}" if "start" in record else place


def _quoted(text: str) -> str:
    return shorten(text, 60) if text else "nothing"


def _near(key: str, stated: str, computed: str) -> bool:
    """Whether two numbers are the same but for the last digit."""
    try:
        one, other = float(stated), float(computed)
    except ValueError:
        return False
    if not (math.isfinite(one) and math.isfinite(other)):
        return False
    digit = 10.0 ** (math.floor(math.log10(abs(other))) - DIGITS + 1) if other else 0.0
    return abs(one - other) <= max(_LAST * digit, _CHANCE if key in CHANCES else 0.0)
