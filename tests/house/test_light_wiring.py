"""Whoever needs one adapter must not wait for all: picking adapters loads none of them, nor what they speak in."""

import subprocess
import sys

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


def test_the_first_page_waits_for_no_statistics() -> None:
    said = (
        "import sys; from ohmsworth.web import app; from ohmsworth.web.serve import start; "
        "from ohmsworth.web.groups import FIRST_GROUPS, group_named; "
        "[group_named(name) for name in FIRST_GROUPS]; print(*sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", said], capture_output=True, text=True, check=True, timeout=60)
    loaded = run.stdout.split()
    assert "ohmsworth.web.today" in loaded
    assert not [name for name in loaded if name.startswith(("scipy", "vl_convert", "typst"))]
