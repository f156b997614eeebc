"""What a certificate is called, and its sentences."""

from __future__ import annotations

from ohmsworth.report.papers.certificate import CERTIFICATE, CertificateBody, PaperHead
from ohmsworth.report.papers.kinds import PaperBody
from ohmsworth.report.words import capital

#: So much of a digest tells two papers apart at a glance.
SHORT_DIGEST = 16


def decision_rule(coverage: float) -> str:
    """How a verdict on a wire is found."""
    return (
        f"A wire is within its bounds where the chance that its true resistance lies between them, with the uncertainty of the "
        f"meter, is at least {100 * coverage:g} % (JCGM 106); over or under where the chance that it lies beyond one of them is; "
        "too close to call otherwise. The bounds take every tolerance of the build at its end at once. The cable is right where "
        "every wire is within, none stands out among its fellows, every link is there, and every touch is ruled out."
    )


def passed(body: PaperHead) -> bool:
    """Whether the cable is right, or the lot accepted; anything else is told as not passed."""
    return body.kind == CERTIFICATE


def result_words(body: PaperBody) -> str:
    """Passed or not, in the word that goes with what was tested."""
    word = "passed" if isinstance(body, CertificateBody) else "accepted"
    return word if passed(body) else f"not {word}"


def heading(body: PaperBody) -> str:
    """The title of the paper; of what did not pass nobody reads a pass out of it."""
    if passed(body):
        return f"{capital(body.kind)} {body.number}"
    return f"{capital(result_words(body))}: {body.kind} {body.number}"


def subject_words(body: PaperBody) -> str:
    """The cable, or the lot, with what tells it from others."""
    if isinstance(body, CertificateBody):
        return f"{body.cable.name} {body.cable.serial}".strip()
    return f"{body.lot.name}, lot {body.lot.number}"


def mark_words(body: PaperBody) -> str:
    """What tells it from others alone: ``serial 12``, ``lot B-77``."""
    return f"serial {body.cable.serial}" if isinstance(body, CertificateBody) else f"lot {body.lot.number}"


def seal_text(body: PaperBody, digest: str) -> str:
    """What the code on papers and labels holds: number, result, serial (or lot), and the beginning of the digest."""
    said = f"{body.kind} {body.number}; {result_words(body)}; {mark_words(body)}"
    return f"{said}; sha256 {digest[:SHORT_DIGEST]}"


def grouped_digest(digest: str) -> str:
    """A digest in groups of eight, so that eyes can compare two.

    Examples
    --------
    >>> grouped_digest("3f2a9c1b00112233")
    '3f2a9c1b 00112233'
    """
    return " ".join(digest[k : k + 8] for k in range(0, len(digest), 8))
