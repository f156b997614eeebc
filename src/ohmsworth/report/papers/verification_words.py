"""What a verification says, in sentences."""

from __future__ import annotations

from ohmsworth.report.papers.certificate import Certificate, PaperHead
from ohmsworth.report.papers.certificate_words import passed, result_words, subject_words
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.report.papers.verification import FAILS, FOLDER, HELD, NOT_CHECKED, OF_PAPER, PAGE, CheckAnswer


def verification_sentence(paper: Paper, checks: tuple[CheckAnswer, ...], known: bool) -> str:
    """The answer in one sentence, or two; `known` where the key was not the file's own."""
    who = f"The {paper.kind} {paper.number}"
    failed = [check for check in checks if check.result == FAILS]
    if failed and was_issued_so(checks):
        words = " ".join(check.words for check in failed)
        return f"{who} is whole and was issued so, but {words[:1].lower()}{words[1:]}"
    if failed:
        return f"{who} does not fit, and nothing in it counts: {failed[0].words[:1].lower()}{failed[0].words[1:]}"
    told = f"{who} is whole: {subject_words(paper)} {_result(paper)} on {paper.tested}"
    told += ", signed with the key that you hold." if known else "."
    if any(check.name == HELD and check.result == NOT_CHECKED for check in checks):
        told += " The records do not know it."
    if any(check.name == PAGE and check.result == NOT_CHECKED for check in checks):
        told += " Its page could not be compared: what counts is what stands here."
    return told


def _result(paper: Paper) -> str:
    if isinstance(paper, Certificate):
        return "passed" if passed(paper) else f"did not pass ({paper.results.verdict})"
    return f"was {result_words(paper)}" + ("" if passed(paper) else f" ({paper.results.verdict})")


def was_issued_so(checks: tuple[CheckAnswer, ...]) -> bool:
    """Whether nothing speaks against the paper itself, whatever became of it since."""
    return all(check.result != FAILS for check in checks if check.name in (*OF_PAPER, FOLDER, HELD))


def verification_notes(paper: PaperHead, known: bool, in_records: bool = False) -> tuple[str, ...]:
    """What is to be known beside the checks; `in_records` where the shop's own records were asked."""
    notes = []
    if not known:
        notes.append(
            "A key that comes inside the file proves only that nothing changed since somebody signed it, and not who that was. "
            "For that, get the public key from the shop itself, and verify again with --key SHOP.pub."
        )
    if paper.supersedes.number:
        old = paper.supersedes
        notes.append(f"It takes the place of number {old.number}, which no longer holds. Why: {old.reason}")
    if not in_records:
        notes.append("Whether a later paper takes the place of this one, only the shop can say.")
    return tuple(notes)
