"""Seconds from `ohmsworth bench` to its first page, and to the end of its help."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

ROUNDS = 5
#: On a quiet machine the libraries take about 0.6 s, and the first page is wanted within 1.5 s.
MOST_OF_PEER = 2.5


def first_page(records: str) -> float:
    """From the command to the whole page."""
    begun = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-m", "ohmsworth", "bench", "--records", records, "--no-open"],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    ) as program:
        assert program.stdout is not None
        address = re.findall(r"http://\S+", program.stdout.readline())[0]
        with urllib.request.urlopen(address) as page:
            page.read()
        taken = time.perf_counter() - begun
        program.terminate()
    return taken


def command(*arguments: str) -> float:
    """From a command to its end."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, *arguments], check=True, capture_output=True)
    return time.perf_counter() - begun


def main() -> None:
    """Print the best of a few rounds each, beside the bare import of what the bench is made of."""
    peer = min(command("-c", "import fastapi, numpy, sqlalchemy, uvicorn") for _ in range(ROUNDS))
    with tempfile.TemporaryDirectory() as folder:
        records = str(Path(folder) / "shop.records")
        new = first_page(records)
        page = min(first_page(records) for _ in range(ROUNDS))
    idle = min(command("-c", "pass") for _ in range(ROUNDS))
    helped = min(command("-m", "ohmsworth", "--help") for _ in range(ROUNDS))
    print(
        f"bench_start: first page {page:.2f} s, {page / peer:.2f} x the import of its libraries ({peer:.2f} s; bound "
        f"{MOST_OF_PEER} x); with new records {new:.2f} s; --help {helped:.2f} s, {helped / idle:.1f} x an idle interpreter"
    )
    if page > MOST_OF_PEER * peer:
        sys.exit("bench_start: slower than its bound")


if __name__ == "__main__":
    main()
