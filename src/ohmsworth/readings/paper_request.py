"""What a shop states for the certificate of a cable, or of a lot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class PaperRequest:
    """The table ``[certificate]`` of cable.toml, or of study.toml.

    Parameters
    ----------
    number
        Of the certificate; never given twice.
    tested_by, tested
        Who tested, and on which day.
    shop, address
        Who issues the certificate, and where.
    customer
        For whom; "" where nobody says.
    supersedes, reason
        Number of the certificate that this one takes the place of, and why; "" for a first one.
    """

    number: str
    tested_by: str
    tested: date
    shop: str
    address: str = ""
    customer: str = ""
    supersedes: str = ""
    reason: str = ""
