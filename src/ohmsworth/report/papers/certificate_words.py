"""What a certificate is called, and its sentences."""

from __future__ import annotations

from ohmsworth.report.papers.certificate import CERTIFICATE, CertificateBody
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


def passed(body: CertificateBody) -> bool:
    """Whether the cable is right; anything else is told as not passed."""
    return body.kind == CERTIFICATE


def heading(body: CertificateBody) -> str:
    """The title of the paper; of a cable that did not pass nobody reads a pass out of it."""
    if passed(body):
        return f"{capital(body.kind)} {body.number}"
    return f"Not passed: {body.kind} {body.number}"


def cable_words(body: CertificateBody) -> str:
    """The cable with what tells it from others."""
    return f"{body.cable.name} {body.cable.serial}".strip()


def seal_text(body: CertificateBody, digest: str) -> str:
    """What the code on papers and labels holds: number, result, serial, and the beginning of the digest."""
    result = "passed" if passed(body) else "not passed"
    return f"{body.kind} {body.number}; {result}; serial {body.cable.serial}; sha256 {digest[:SHORT_DIGEST]}"


def grouped_digest(digest: str) -> str:
    """A digest in groups of eight, so that eyes can compare two.

    Examples
    --------
    >>> grouped_digest("3f2a9c1b00112233")
    '3f2a9c1b 00112233'
    """
    return " ".join(digest[k : k + 8] for k in range(0, len(digest), 8))
