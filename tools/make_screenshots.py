"""Take the manual's pictures of the bench, by the journey that the browser tests take; needs Debian's chromium."""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright
from tests.browser.conftest import FLAGS, start_bench
from tests.browser.journeys import LARGEST, stock, take_pictures

PICTURES = Path("docs/pictures")


def make(folder: Path) -> None:
    """Write the pictures into `folder` and say how large they are."""
    program = shutil.which("chromium")
    if program is None:
        raise SystemExit("Needs Debian's chromium: apt-get install chromium")
    with tempfile.TemporaryDirectory() as made:
        records, cards = stock(Path(made))
        served = start_bench(records)
        try:
            with sync_playwright() as driver:
                browser = driver.chromium.launch(executable_path=program, args=FLAGS)
                pictures = take_pictures(browser, served.address, cards, folder)
                browser.close()
        finally:
            served.process.terminate()
            served.process.wait(20)
    for picture in pictures:
        size = picture.stat().st_size
        if size > LARGEST:
            raise SystemExit(f"{picture} has {size} bytes, more than {LARGEST}.")
        print(f"{picture}: {size} bytes")


if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else PICTURES)
