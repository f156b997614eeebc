"""What a lot's certificate says, out of what was measured and stated: to issue one, and to see whether one says what follows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.lots.verdicts import ACCEPT
from ohmsworth.readings.meters import NamedMeter
from ohmsworth.readings.study import Bench, Study
from ohmsworth.report.lot_answer import LotAnswer
from ohmsworth.report.lot_sentences import held_back, judged_sentence, plan_sentence
from ohmsworth.report.papers.certificate import CERTIFICATE, TEST_REPORT, Superseded
from ohmsworth.report.papers.lot_certificate import (
    FORMAT,
    LotCertificateBody,
    LotResults,
    PaperAir,
    PaperLeftOut,
    PaperLimit,
    PaperLot,
    PaperLotMeter,
    PaperPiece,
    PaperPlan,
    PaperText,
)
from ohmsworth.report.sentences import bench_in_doubt
from ohmsworth.report.words import natural
from ohmsworth.work.papers.body import number_text
from ohmsworth.work.ports import LoadedLot, LoadedStudy

STUDY_FILE, READINGS_FILE = "study.toml", "readings.csv"
#: What a paper carries of the folder of a lot, where there are such files.
LOT_FILES = (STUDY_FILE, READINGS_FILE, "check.csv", "cables.toml")


@dataclass(frozen=True, slots=True)
class Issue:
    """When a paper is issued, the digest of the one whose place it takes ("" for none), and the program that makes it."""

    issued: str
    superseded_digest: str
    made_with: str


def files_of(paper: LotCertificateBody) -> dict[str, str]:
    """The texts that a paper carries, by the names of their files."""
    others = {one.name: one.text for one in paper.others}
    return {**others, STUDY_FILE: paper.description, READINGS_FILE: paper.readings}


def kind_of(answer: LotAnswer) -> str:
    """Which paper a lot gets: a test report where it is not accepted, or nobody may rely on it."""
    good = answer.verdict == ACCEPT and not held_back(answer)
    return CERTIFICATE if good else TEST_REPORT


def lot_body_of(
    loaded: LoadedLot, answer: LotAnswer, files: Mapping[str, str], issue: Issue
) -> LotCertificateBody:
    """The certificate of a lot without its seal; a test report where the lot is not accepted, or nobody may rely on it.

    Parameters
    ----------
    loaded
        The lot with its sample, and what is stated for a paper.
    answer
        About it.
    files
        The texts of the study's files by their names.
    issue
        Of this paper.
    """
    study, sample = loaded.study, loaded.sample
    paper, request = study.paper, study.lot
    assert paper is not None and request is not None and sample is not None  # nothing is issued without
    return LotCertificateBody(
        format=FORMAT,
        kind=kind_of(answer),
        number=paper.number,
        issued=issue.issued,
        tested=paper.tested.isoformat(),
        tested_by=paper.tested_by,
        customer=paper.customer,
        shop=paper.shop,
        address=paper.address,
        supersedes=Superseded(paper.supersedes, issue.superseded_digest, paper.reason),
        lot=PaperLot(request.name, request.number, _whole(request.size), request.drawn),
        limit=PaperLimit(number_text(answer.limit.resistance), answer.limit.source),
        meters=_meters(study.bench, sample.table.voltage is None),
        temperature=_air(study, sample),
        plan=_plan(answer),
        results=_results(study, answer),
        description=files[STUDY_FILE],
        readings=files[READINGS_FILE],
        others=tuple(
            PaperText(name, text)
            for name, text in sorted(files.items())
            if name not in (STUDY_FILE, READINGS_FILE)
        ),
        made_with=issue.made_with,
    )


def _whole(number: int | None) -> str:
    return "" if number is None else str(number)


def _meters(bench: Bench, in_ohm: bool) -> tuple[PaperLotMeter, ...]:
    """Those that the readings were taken with; "" throughout where nothing is stated of one."""
    named = {meter.role: meter for meter in bench.named}
    made = []
    for role in bench.names_of(in_ohm):
        meter, accuracy = named.get(role, NamedMeter(role)), getattr(bench, role)
        day = meter.calibrated.isoformat() if meter.calibrated else ""
        stated: tuple[str, ...] = ("", "", "", "")
        if accuracy is not None:
            values = (accuracy.gain, accuracy.counts, accuracy.resolution, accuracy.standard)
            stated = tuple(number_text(value) for value in values)
        made.append(PaperLotMeter(role, meter.name, meter.serial, day, *stated))
    return tuple(made)


def _air(study: Study, sample: LoadedStudy) -> PaperAir:
    column = sample.table.temperature
    known = column[np.isfinite(column)] if column is not None else np.array([])
    if not len(known):
        return PaperAir(number_text(study.ambient), "", "")
    return PaperAir(
        number_text(study.ambient), number_text(float(known.min())), number_text(float(known.max()))
    )


def _plan(answer: LotAnswer) -> PaperPlan:
    plan = answer.plan
    asked = (
        number_text(answer.acceptable), number_text(answer.rejectable),
        number_text(answer.producer_risk), number_text(answer.consumer_risk),
        answer.inspection, str(answer.lots_before),
    )  # fmt: skip
    if plan is None:
        return PaperPlan("", *asked, *[""] * 9)
    return PaperPlan(
        plan.kind, *asked, str(plan.sample), _whole(plan.accepted), number_text(plan.k), _whole(plan.rejected),
        _whole(plan.second), _whole(plan.accepted_both), number_text(plan.accepts_acceptable),
        number_text(plan.accepts_rejectable), plan_sentence(answer),
    )  # fmt: skip


def _results(study: Study, answer: LotAnswer) -> LotResults:
    found = answer.measured
    assert found is not None  # a sample was measured
    pieces = sorted(answer.specimens, key=lambda piece: natural(piece.id))
    doubt = bench_in_doubt(answer.bench)
    return LotResults(
        verdict=answer.verdict or "",
        bench_in_doubt="" if answer.bench is None else "yes" if doubt else "no",
        coverage=number_text(answer.coverage),
        pieces=tuple(
            PaperPiece(
                piece.id, str(piece.readings), number_text(piece.resistance), number_text(piece.standard_uncertainty),
                number_text(piece.probability_within), piece.verdict or "",
            )
            for piece in pieces
        ),
        measured=str(found.specimens),
        within=str(found.within),
        over=str(found.over),
        close=str(found.close),
        held_against=number_text(found.held_against),
        distance=number_text(found.distance),
        distance_least=number_text(found.distance_least),
        distance_most=number_text(found.distance_most),
        share=number_text(found.share),
        share_low=number_text(found.share_low),
        share_high=number_text(found.share_high),
        left_out=tuple(PaperLeftOut(str(row), reason) for row, reason in sorted(study.set_aside.items())),
        sentence=judged_sentence(answer),
        findings=answer.findings,
        rule=answer.method,
        warnings=tuple(f"{one.words} {one.what_to_do}".strip() for one in answer.warnings),
    )  # fmt: skip
