"""What a verification of a certificate says, as plain records.

The field names are a published format: adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

FORMAT = "ohmsworth verification 1"
HOLDS, FAILS, NOT_CHECKED = "holds", "fails", "not checked"
#: What is checked, in this order.
WHOLE, SIGNED, FOLLOWS, PAGE, FOLDER = "whole", "signature", "results", "page", "folder"
#: What is checked against the shop's own records: do they hold this very paper, does it count, is its cable or lot the same.
HELD, CURRENT, CABLE, LOT = "records", "current", "cable", "lot"
#: Checks of the paper itself; the others ask whether it still holds.
OF_PAPER = (WHOLE, SIGNED, FOLLOWS, PAGE)


@dataclass(frozen=True, slots=True)
class CheckAnswer:
    """One check: its `result` is "holds", "fails" or "not checked"; `details` are the single differences.

    `name` is "whole", "signature", "results", "page" or "folder", and with the shop's records "records", "current" and "cable"
    or "lot".
    """

    name: str
    result: str
    words: str
    details: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class VerificationAnswer:
    """Everything said of one certificate: it `fits` when no check fails.

    `signer` is "known" where the signature was held against a public key that was given, and "not known" where the file's own key
    was used. The other texts are those that the data state, to be held against the paper at hand; `stated_digest` too. A paper is
    of a cable, or of a lot with its number; the keys of the other are "".
    """

    format: str
    file: str
    fits: bool
    signer: str
    sentence: str
    checks: tuple[CheckAnswer, ...]
    notes: tuple[str, ...]
    kind: str
    number: str
    shop: str
    cable: str
    serial: str
    verdict: str
    tested: str
    tested_by: str
    customer: str
    issued: str
    supersedes: str
    stated_digest: str
    public_key: str
    lot: str = ""
    lot_number: str = ""
