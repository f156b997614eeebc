"""Certificates for tests: a small cable that is right, one that is not, a key and a clock that are always the same."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from ohmsworth import wiring
from ohmsworth.adapters.files import read_cable_texts, read_lot_texts
from ohmsworth.adapters.papers import fits, read_paper_file
from ohmsworth.adapters.papers.keys import FileSigner
from ohmsworth.report.papers.verification import VerificationAnswer
from ohmsworth.work.papers.issue import IssueAsked, Issued, issue
from ohmsworth.work.papers.ports import FoundPaper, IssuePorts, VerifyPorts
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate

MADE = datetime(2026, 3, 3, 10, 20, 30, tzinfo=UTC)
VERSION = "ohmsworth 0.0"
CABLE = """\
name = "line"
serial = "12"
length = "10 m"
length_tolerance = "1 %"
temperature = "20 °C"
temperature_tolerance = "2 K"
[ends.A]
contacts = "1-2"
contact_resistance = "3 mΩ"
contact_limit = "10 mΩ"
[ends.B]
contacts = "1-2"
contact_resistance = "3 mΩ"
contact_limit = "10 mΩ"
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[[wires]]
name = "hot"
from = "A:1"
to = "B:1"
[[wires]]
name = "cold"
from = "A:2"
to = "B:2"
[meter]
name = "bench meter"
serial = "0042"
calibrated = 2026-01-15
accuracy = "0.2 % + 2 counts"
resolution = "1 mΩ"
[certificate]
number = "2026-014"
shop = "The Cable Bench"
address = "1 Mill Lane"
tested_by = "A. Tester"
date = 2026-03-02
customer = "The Hall"
"""
RIGHT = "from,to,resistance [Ω]\nA:1,B:1,0.790\nA:2,B:2,0.791\nA:1,A:2,open\n"
WRONG = RIGHT.replace("A:1,A:2,open", "A:1,A:2,1.2")
CORRECTED = f"""{CABLE.replace('"2026-014"', '"2026-015"')}
supersedes = "2026-014"
reason = "The name of the customer was wrong."
"""


def signer(seed: int = 1) -> FileSigner:
    return FileSigner(Ed25519PrivateKey.from_private_bytes(bytes([seed] * 32)))


def issue_ports(seed: int = 1) -> IssuePorts:
    return IssuePorts(read_cable_texts, read_lot_texts, signer(seed), lambda: MADE, VERSION)


def verify_ports(made_with: str = VERSION) -> VerifyPorts:
    return VerifyPorts(read_cable_texts, read_lot_texts, fits, wiring.draw_page, made_with)


def issued(description: str = CABLE, readings: str = RIGHT, old: FoundPaper | None = None) -> Issued:
    return issue(IssueAsked(description, readings, old), issue_ports())


def found(content: bytes) -> FoundPaper:
    return read_paper_file("paper", content)


def as_file(data: Any) -> bytes:
    return json.dumps(data, ensure_ascii=False).encode()


def verified(
    content: bytes, key: bytes | None = None, now: tuple[str, str] | None = None
) -> VerificationAnswer:
    return verify_certificate(VerifyAsked("paper", found(content), key, now), verify_ports())


def results(answer: VerificationAnswer) -> dict[str, str]:
    return {check.name: check.result for check in answer.checks}
