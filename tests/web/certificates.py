"""Certificates for tests, made with openssl."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

needs_openssl = pytest.mark.skipif(
    shutil.which("openssl") is None, reason="openssl, which makes the certificates, is not installed"
)


def certificate(
    folder: Path, names: str = "DNS:bench.shop.lan,IP:127.0.0.1", use: str = "serverAuth"
) -> tuple[Path, Path]:
    """A certificate and its key, for 30 days."""
    folder.mkdir(exist_ok=True)
    made, key = folder / "bench.pem", folder / "bench-key.pem"
    more = ["-addext", f"subjectAltName={names}"] if names else []
    subject = ["-subj", "/CN=bench", "-days", "30", "-addext", f"extendedKeyUsage={use}", *more]
    curve = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes"]
    subprocess.run(
        ["openssl", "req", "-x509", *curve, *subject, "-keyout", str(key), "-out", str(made)],
        check=True,
        capture_output=True,
    )
    return made, key
