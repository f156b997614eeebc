"""Whoever needs one adapter must not wait for all: picking adapters loads none of them, nor what they speak in."""

import subprocess
import sys
from pathlib import Path

HEAVY = (
    "numpy",
    "scipy",
    "sqlalchemy",
    "jinja2",
    "pyvisa",
    "ohmsworth.adapters",
    "ohmsworth.work",
    "ohmsworth.report",
)


def test_the_wiring_alone_loads_nothing_heavy() -> None:
    said = "import sys, ohmsworth.wiring; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", said], capture_output=True, text=True, check=True, timeout=60)
    loaded = run.stdout.split()
    assert "ohmsworth.wiring.records" in loaded
    assert not [name for name in loaded if name.startswith(HEAVY)]


def test_the_first_page_waits_for_no_statistics_nor_for_readers_and_writers_of_files(tmp_path: Path) -> None:
    said = (
        "import sys; from ohmsworth import wiring; from ohmsworth.web.serve import server, start; "
        "from ohmsworth.web.serve.instruments import instruments; from starlette.testclient import TestClient\n"
        f"records = {str(tmp_path / 'shop.records')!r}\n"
        "own = start.Notice(1, '', '', False, 'secret'); terms = start.settle(start.Reach(), 0, start._now())\n"
        "with wiring.open_store(records) as store:\n"
        "    app = start._application(terms, store, own, instruments(start.own_profiles(records)), records)\n"
        "    page = TestClient(app, base_url='http://127.0.0.1').get('/')\n"
        "print(page.status_code, *sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", said], capture_output=True, text=True, check=True, timeout=60)
    status, *loaded = run.stdout.split()
    assert status == "200"
    assert "ohmsworth.web.today" in loaded
    late = ("scipy", "vl_convert", "typst", "ohmsworth.adapters.files", "ohmsworth.adapters.render")
    assert not [name for name in loaded if name.startswith(late)]
