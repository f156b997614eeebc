"""The web page on paper and on a screen, as a real browser lays it out."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import pypdf
import pytest

from ohmsworth import wiring
from ohmsworth.cli.app import run

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--no-pdf-header-footer",
)  # fmt: skip


@pytest.mark.browser
@pytest.mark.slow
@pytest.mark.skipif(BROWSER is None, reason="no browser")
def test_the_caution_is_printed_on_the_page_of_its_steps(tmp_path: Path) -> None:
    wiring.write_demo_study(tmp_path / "study")
    assert run(["answer", str(tmp_path / "study"), "--html", str(tmp_path / "report.html")]) == 0
    out = tmp_path / "page.pdf"
    profile = f"--user-data-dir={tmp_path / 'profile'}"
    page = (tmp_path / "report.html").as_uri()
    command = [str(BROWSER), *FLAGS, profile, f"--print-to-pdf={out}", page]
    subprocess.run(command, check=True, capture_output=True, timeout=100)
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(out.read_bytes())).pages]
    assert "What to do" in texts[0]
    assert "disconnected, unpowered equipment" in " ".join(texts[0].split())
    assert "Contents" in texts[1]
