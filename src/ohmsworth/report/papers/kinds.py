"""The papers that there are, by what they are about."""

from __future__ import annotations

from ohmsworth.report.papers.certificate import Certificate, CertificateBody
from ohmsworth.report.papers.lot_certificate import LotCertificate, LotCertificateBody

#: A paper, and one without its seal.
Paper = Certificate | LotCertificate
PaperBody = CertificateBody | LotCertificateBody
